/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Soft sand lowers the wheels: how deep a wheel stands, what it makes of hub, coupling and wading, and where the work goes. */
#include "lib/force/soil.h"
#include "lib/force/wheels.h"
#include "lib/study/observe.h"
#include "lib/study/settle.h"
#include "tests/property/scenarios.h"

#define FIRM "ramp.surfaces=[{friction low: 0.5, friction high: 0.7, rolling resistance: 0.06}]"
#define SOFT "ramp.surfaces=[{friction low: 0.5, friction high: 0.7, rolling resistance: 0.06, sinkage: 30 mm}]"
static const double give = 0.5 * 0.03 / 5000; /* of SOFT, m per N of an axle's load */

static double channel(const dd_study_model *m, const dd_force_kind *kind, int unit, const char *name)
{
    return m->workspace->channels[dd_system_channel(m->system, kind, unit, name)];
}

/* Closed form: depth = b N under a load never borne there; what is below the greatest load's depth stays. Numbers by hand. */
static void law_of_the_ground(void **state)
{
    (void)state;
    dd_soil soil = {.give = 4e-6};
    dd_sunk z = dd_soil_at(&soil, 5000);
    NEAR(z.depth, 0.02, 1e-17, "depth under 5 kN");
    NEAR(z.by_load, 4e-6, 1e-20, "give");
    soil.rut = 0.02, soil.stood = 0.003;
    NEAR(dd_soil_at(&soil, 2000).depth, 0.023, 1e-17, "in its rut");
    NEAR(dd_soil_at(&soil, 2000).by_load, 0, 0, "give in a rut");
    NEAR(dd_soil_at(&soil, 7000).depth, 0.031, 1e-17, "under more than it bore");
    /* work and derivatives against differences, over the rounding at the rut's end too: fourth order, 1e-7 of the largest */
    for (double load = 4700; load < 5300; load += 37) {
        double h = 1, by[3][4];
        for (int s = 0; s < 4; s++) {
            const double step = (s % 2 ? -1 : 1) * (s < 2 ? 1 : 2);
            dd_soil rut = soil, more = soil;
            rut.rut += step * 1e-6, more.give += step * 1e-10;
            by[0][s] = dd_soil_at(&soil, load + step * h).work;
            by[1][s] = dd_soil_at(&rut, load).work;
            by[2][s] = dd_soil_at(&more, load).work;
        }
        const double size[] = {h, 1e-6, 1e-10};
        z = dd_soil_at(&soil, load);
        const double exact[] = {z.depth, z.work_by_rut, z.work_by_give}, most[] = {0.02, 5000, 2e7};
        for (int i = 0; i < 3; i++)
            NEAR((8 * (by[i][0] - by[i][1]) - (by[i][2] - by[i][3])) / (12 * size[i]), exact[i], 1e-7 * most[i], "derivative of the work");
    }
}

static dd_settle settled(const char *name, const char *surface, double x, dd_study_model **model)
{
    const char *overrides[] = {surface, NULL};
    dd_case *scenario = scenario_read(name, overrides);
    dd_settle s;
    *model = NULL;
    MUST(dd_study_model_create(scenario, model, error));
    MUST(dd_settle_begin(*model, DD_FRICTION_NONE, x, NAN, &s, error));
    free(scenario);
    return s;
}

/* A hub's distance from the ground along its normal: the ramp is straight here. */
static double hub_over_ground(const dd_study_model *m, int axle)
{
    const dd_vec3 hub = dd_chassis_point(&m->workspace->kinematics, m->rig->axle[axle]);
    const dd_ramp_point ground = dd_ramp_at(m->ramp, hub.x);
    return (hub.z - ground.z) / sqrt(1 + ground.slope * ground.slope);
}

/* Statics on a straight slab, boat home. Closed forms, 1e-9 m: each axle stands b N deep; one on springs of its own has its hub at
   R - N/k - b N over the ground, axles under a beam at R - N/k - sum of share b N over it, the mean by shares; the ball is down by what
   the vehicle's wheels sink under their weight and its load, by levers. The hub's water deepens as the hub goes down: 0.1 mm, for the
   trailer turns and its hub goes along a little. */
static void settle_lowers_hub_and_ball(void **state)
{
    (void)state;
    const char *const names[] = {"launch", "rigs/seven-multi-roller-launch"};
    for (int i = 0; i < 2; i++) {
        double depth[2], height[2], over[2] = {0, 0};
        for (int soft = 0; soft < 2; soft++) {
            dd_study_model *m;
            dd_settle s = settled(names[i], soft ? SOFT : FIRM, 9, &m);
            const dd_kinematics *k = &m->workspace->kinematics;
            const dd_rig *rig = m->rig;
            const int axles = rig->trailer.axle_count;
            double squash = 0, sunk = 0, load = 0;
            for (int a = 0; a < axles; a++) {
                const double share = rig->beamed ? rig->beam_share[a] : 1.0 / axles, n = channel(m, &dd_force_axles, a, "axle_load_N");
                over[soft] += share * hub_over_ground(m, a);
                sunk += share * give * n;
                load += n;
                squash += rig->beamed ? 0 : n / rig->axle_stiffness[a] / axles;
                NEAR(channel(m, &dd_force_wheels, 3 + a, "sinkage_m"), soft ? give * n : 0, 1e-9, "sinkage of an axle");
            }
            if (rig->beamed) squash = load / rig->beam_stiffness;
            NEAR(over[soft], rig->wheel_radius - squash - (soft ? sunk : 0), 1e-9, "hub over the ground");
            const dd_vehicle_parameters *v = &rig->vehicle;
            const double ball = channel(m, &dd_force_coupling, 0, "coupling_load_N"), c = cos(k->vehicle.pitch), sn = sin(k->vehicle.pitch),
                         base = v->wheelbase, weight = v->mass * m->model.gravity,
                         by_front = -(v->coupling_behind_rear_axle * c + v->coupling_height * sn) / base,
                         front = weight * ((base - v->centre_behind_front_axle) * c - v->centre_height * sn) / base + by_front * ball,
                         rear = weight * c + c * ball - front, drop = give * (by_front * front + (c - by_front) * rear);
            NEAR(k->pose.rig[DD_RIG_HEAVE], -ball / rig->ball_stiffness - (soft ? drop : 0), 1e-9, "coupling under the firm ball's place");
            dd_seen seen;
            dd_seen_read(m, 0, &seen);
            depth[soft] = seen.v[DD_SEEN_HUB_DEPTH], height[soft] = k->coupling.z;
            dd_settle_end(&s);
            dd_study_model_free(m);
        }
        print_message("%s: hub %.1f mm lower, %.1f deeper, coupling %.1f lower\n", names[i], 1000 * (over[0] - over[1]), 1000 * (depth[1] - depth[0]),
                      1000 * (height[0] - height[1]));
        assert_true(over[0] - over[1] > 0.01 && height[0] - height[1] > 0.01);
        NEAR(depth[1] - depth[0], over[0] - over[1], 2e-3, "water at the hub");
    }
}

static double energy_of(const dd_workspace *w)
{
    return w->loads[dd_system_find(w->system, &dd_force_axles) - w->system->forces].energy +
           w->loads[dd_system_find(w->system, &dd_force_coupling) - w->system->forces].energy;
}

/* What axles, coupling and wheels do, at drawn states of a rig in sand, some at the border to firm ground: stiffness and the memory's
   columns against differences; and work and heat close: power + d(energy)/dt + heat = 0, energy by differences along the motion. */
static void loads_and_heat_in_sand(void **state)
{
    (void)state;
    static const char *const surfaces[] = {SOFT, "ramp.surfaces=[{from: 9 m, friction low: 0.5, friction high: 0.7, rolling resistance: 0.06, sinkage: 40 mm, "
                                                 "sinkage rate: 2 mm/s}]"};
    const char *const names[] = {"launch", "rigs/seven-multi-roller-launch"};
    double worst = 0, by_sunk = 0, by_pose = 0;
    for (int i = 0; i < 4; i++) {
        dd_study_model *m;
        dd_settle s = settled(names[i / 2], surfaces[i % 2], 9.05, &m);
        dd_workspace *w = m->workspace;
        const int n = m->system->size, sunk = DD_STATE_MEMORY + m->system->sunk_first, axles = m->system->sinking;
        double *y = calloc(2 * (size_t)n, sizeof *y), *rate = y + n;
        assert_int_equal(axles, 2 + m->rig->trailer.axle_count);
        for (int draw = 0; draw < 12; draw++) {
            dd_motion motion = {.rig = {0.1 * (draw % 5) - 0.2, 0.03 * (draw % 3) - 0.03, 0.01 * (draw % 4) - 0.015}};
            dd_pose pose = s.at.pose;
            pose.rig[DD_RIG_X] += 0.02 * (draw % 7) - 0.06;
            dd_system_pack(m->system, &pose, &motion, s.memory, y);
            for (int a = 0; a < axles; a++) {
                y[sunk + a] = 0.001 + 0.002 * ((draw + a) % 3); /* neither at 0, where both end */
                y[sunk + axles + a] = 0.001 + (draw % 2 ? 0.011 : 0.003 * ((draw + a) % 4));
            }
            assert_int_equal(dd_system_derivative(0, y, rate, w), 0);
            double power = 0;
            const dd_force_kind *const kinds[] = {&dd_force_axles, &dd_force_coupling, &dd_force_wheels};
            for (int f = 0; f < 3; f++) {
                const dd_load *l = &w->loads[dd_system_find(m->system, kinds[f]) - m->system->forces];
                for (int c = 0; c < DD_RIG_ALWAYS; c++) power += l->rig[c] * w->kinematics.motion.rig[c];
                power += l->heat;
            }
            double e[2];
            const double h = 1e-5;
            for (int side = 0; side < 2; side++) {
                double *moved = malloc((size_t)n * sizeof *moved);
                for (int j = 0; j < n; j++) moved[j] = y[j] + (side ? -h : h) * rate[j];
                assert_int_equal(dd_system_evaluate(w, 0, moved, 0), 0);
                e[side] = energy_of(w);
                free(moved);
            }
            worst = fmax(worst, fabs(power + (e[0] - e[1]) / (2 * h)));
            /* columns: rig loads by pose and by what is remembered */
            assert_int_equal(dd_system_evaluate(w, 0, y, DD_WANT_GRADIENT), 0);
            const double k = w->rig_gradient.rig_K[DD_RIG_HEAVE][DD_RIG_HEAVE];
            for (int j = 0; j < 3 + 2 * axles; j++) {
                const int at = j < 3 ? DD_STATE_RIG + j : sunk + j - 3;
                double column[DD_RIG_ALWAYS], size = 0, was = y[at], side[2][DD_RIG_ALWAYS];
                assert_int_equal(dd_system_evaluate(w, 0, y, DD_WANT_GRADIENT), 0);
                for (int c = 0; c < DD_RIG_ALWAYS; c++)
                    column[c] = j < 3 ? -w->rig_gradient.rig_K[c][j] : w->rig_by_value[at - DD_STATE_MEMORY][c];
                for (int t = 0; t < 2; t++) {
                    y[at] = was + (t ? -1e-7 : 1e-7);
                    assert_int_equal(dd_system_evaluate(w, 0, y, 0), 0);
                    for (int c = 0; c < DD_RIG_ALWAYS; c++) {
                        side[t][c] = 0;
                        for (int f = 0; f < m->system->force_count; f++)
                            if (m->system->forces[f].kind->acts_on == DD_ACTS_ON_RIG) side[t][c] += w->loads[f].rig[c];
                    }
                }
                y[at] = was;
                for (int c = 0; c < DD_RIG_ALWAYS; c++) size = fmax(size, fabs((side[0][c] - side[1][c]) / 2e-7 - column[c]) / k);
                if (j < 3)
                    by_pose = fmax(by_pose, size);
                else
                    by_sunk = fmax(by_sunk, size);
            }
        }
        free(y);
        dd_settle_end(&s);
        dd_study_model_free(m);
    }
    print_message("work and heat in sand: %.1e W left; columns of the pose %.1e, of the memory %.1e of the heave's stiffness\n", worst, by_pose, by_sunk);
    assert_true(worst < 1e-3);
    assert_true(by_pose < 1e-5 && by_sunk < 1e-5);
}

/* A launch over soft sand in the wash: the ledger closes within the run's own bound, and with the boat off the wheels stand in the rut
   that they made under it, deeper than their load is worth: sand does not spring back. The same again has the same bits. */
static void a_launch_in_sand(void **state)
{
    (void)state;
    const char *overrides[] = {"ramp.surfaces=[{friction low: 0.5, friction high: 0.7, rolling resistance: 0.06, sinkage: 30 mm, sinkage rate: 0.2 mm/s}]", NULL};
    uint64_t hash[2] = {HASH_START, HASH_START};
    for (int again = 0; again < 2; again++) {
        dd_case *scenario = scenario_read("launch", overrides);
        dd_run *run = NULL;
        MUST(dd_run_create(scenario, &run, error));
        MUST(run_until(run, scenario->time_limit, error));
        const dd_study_model *m = run->m;
        assert_true(run_finished(run) && run->procedure.state == DD_PROCEDURE_DONE);
        dd_ledger_balance b = dd_ledger_balance_of(run->ledger);
        assert_int_equal(dd_system_evaluate(m->workspace, dd_ode_time(run->ode), dd_ode_state(run->ode), DD_WANT_CHANNELS), 0);
        const double load = channel(m, &dd_force_wheels, 3, "normal_load_N"), sunk = channel(m, &dd_force_wheels, 3, "sinkage_m");
        print_message("launch in sand: energy %.1e of %.0f J, momentum %.1e, bound %.1e; afloat the axle bears %.0f N in %.1f mm of sand\n", b.energy_residual,
                      b.energy_exchanged, b.momentum_residual, run->ledger_bound, load, 1000 * sunk);
        assert_true(b.energy_residual <= run->ledger_bound && b.momentum_residual <= run->ledger_bound);
        assert_true(sunk > give * load + 0.002);
        hash[again] = hash_bytes(HASH_START, dd_ode_state(run->ode), (size_t)m->system->size * sizeof(double));
        dd_run_free(run);
        free(scenario);
    }
    assert_true(hash[0] == hash[1]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(law_of_the_ground), cmocka_unit_test(settle_lowers_hub_and_ball),
                                       cmocka_unit_test(loads_and_heat_in_sand), cmocka_unit_test(a_launch_in_sand)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
