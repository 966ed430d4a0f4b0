/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Added mass in Kirchhoff-Lagrange form: derivatives, slender-body moment, entry load, energy of free motion. */
#include "lib/force/section.h"
#include "lib/motion/system.h"
#include "tests/unit/force/whole.h"

static dd_added_mass *added_of(const dd_model *model)
{
    dd_added_mass *added = NULL;
    dd_error error;
    if (dd_added_mass_create(model, &added, &error) != DD_OK)
        fail_msg("%s: %s", error.place, error.message);
    return added;
}

/* Kinematics of a pose with the twist in the water and over the ground as given. */
static dd_kinematics kinematics(const dd_model *model, const whole_state *state, const double in_water[6], const double ground[6])
{
    dd_kinematics k;
    dd_kinematics_of(model, 0, &state->pose, &state->motion, &k);
    memcpy(k.twist_in_water, in_water, sizeof k.twist_in_water);
    memcpy(k.motion.twist, ground, sizeof k.motion.twist);
    return k;
}

static const double still[6] = {0};

/* energy = 1/2 w.A.w, momentum = A w, A symmetric and without negative energy; bias + what turns the momentum =
   dT/dq - (dA/dt) w against differences of T and A. Closed form; 1e-6 of the largest: differences over 1 um, C1 splines. */
static void check_bias(const dd_added_mass *added, const dd_model *model, const whole_state *state, const double w[6], const double ground[6])
{
    dd_added_mass_result now, r[4];
    dd_kinematics k = kinematics(model, state, w, ground);
    dd_added_mass_evaluate(added, &k, &now);
    const double h = 1e-6, steps[4] = {h, -h, 2 * h, -2 * h}, *m = now.momentum;
    const dd_vec3 v = dd_vec(w[0], w[1], w[2]), omega = dd_vec(w[3], w[4], w[5]), p = dd_vec(m[0], m[1], m[2]), l = dd_vec(m[3], m[4], m[5]);
    const dd_vec3 linear = dd_cross(omega, p), angular = dd_add(dd_cross(omega, l), dd_cross(v, p));
    double expected[6] = {-linear.x, -linear.y, -linear.z, -angular.x, -angular.y, -angular.z}, size = 1;
    for (int j = 0; j < 6; j++) {
        double unit[6] = {0};
        unit[j] = 1;
        for (int i = 0; i < 4; i++) {
            whole_state other = *state;
            whole_displace(&other, unit, steps[i]);
            k = kinematics(model, &other, w, ground);
            dd_added_mass_evaluate(added, &k, &r[i]);
        }
        expected[j] += (8 * (r[0].energy - r[1].energy) - (r[2].energy - r[3].energy)) / (12 * h);
    }
    for (int i = 0; i < 4; i++) {
        whole_state other = *state;
        whole_displace(&other, ground, steps[i]);
        k = kinematics(model, &other, w, ground);
        dd_added_mass_evaluate(added, &k, &r[i]);
    }
    for (int i = 0; i < 6; i++) {
        double momentum = 0;
        for (int j = 0; j < 6; j++) {
            expected[i] -= (8 * (r[0].A[i][j] - r[1].A[i][j]) - (r[2].A[i][j] - r[3].A[i][j])) / (12 * h) * w[j];
            momentum += now.A[i][j] * w[j];
            assert_true(now.A[i][j] == now.A[j][i]);
        }
        CHECK_NEAR(now.momentum[i], momentum, 1e-12 * (1 + fabs(momentum)), "momentum");
        size = fmax(size, fabs(expected[i]));
    }
    assert_true(now.energy >= 0);
    for (int i = 0; i < 6; i++)
        CHECK_NEAR(now.bias[i], expected[i], 1e-6 * size, "bias");
}

static void bias_is_the_derivative(void **state)
{
    (void)state;
    whole w;
    whole_create(&w, whole_hull(), 1, 0.4);
    dd_added_mass *added = added_of(&w.model);
    whole_force any = whole_prepare(&dd_force_buoyancy, &w.model, 0);
    uint64_t random = 3;
    for (const dd_regime *regime = any.kind->regimes; regime->name != NULL; regime++)
        for (int draw = 0; draw < 100; draw++) {
            whole_state s = whole_draw(&any, regime, &random);
            double water[6], ground[6];
            for (int i = 0; i < 6; i++) {
                water[i] = whole_uniform(&random) - 0.5;
                ground[i] = whole_uniform(&random) - 0.5;
            }
            check_bias(added, &w.model, &s, water, ground);
            check_bias(added, &w.model, &s, water, still);
        }
    whole_release(&any);
    dd_added_mass_free(added);
    whole_free(&w);
}

/* A slender box moving with u ahead and v to port: yaw moment -u v A22 (closed form, slender body), A22 = length times the
   section's, row of added_mass_2d.csv (formula; 1 %). No force along or across. */
static void slender_body_turns_broadside(void **state)
{
    (void)state;
    table t = table_read("added_mass_2d.csv");
    double section = 0;
    for (int row = 1; row <= t.rows; row++)
        if (strcmp(table_text(&t, row, "case"), "B/T=8 sway rigid surface a22/(rho*pi*T^2/2)") == 0)
            section = table_number(&t, row, "expected");
    table_free(&t);
    whole w;
    const double draught = 0.3, u = 1.2, v = 0.3;
    whole_create(&w, box(0, 12, 2.4, 1, 8000, dd_vec(6, 0, 0.5)), 0, 0);
    dd_added_mass *added = added_of(&w.model);
    whole_state s = {.pose = {.attitude = {1, 0, 0, 0}, .position = {0, 0, w.model.water.level - draught}}};
    const double twist[6] = {u, v, 0, 0, 0, 0};
    dd_kinematics k = kinematics(&w.model, &s, twist, twist);
    dd_added_mass_result r;
    dd_added_mass_evaluate(added, &k, &r);
    const double expected = -u * v * w.model.water.density * 12 * section * PI / 2 * draught * draught;
    CHECK_NEAR(r.bias[5], expected, 0.01 * fabs(expected), "yaw");
    for (int i = 0; i < 2; i++)
        CHECK_NEAR(r.bias[i], 0, 1e-9, "force");
    dd_added_mass_free(added);
    whole_free(&w);
}

/* Sway in shallow water over that in deep: rows of added_mass_2d.csv for box and V (grade formula), 5 %. */
static void shallow_water_adds_to_sway(void **state)
{
    (void)state;
    table t = table_read("added_mass_2d.csv");
    const double y[3] = {0, 1.0, 1.2}, z[3] = {0, tan(20 * DEGREE), 1.1};
    whole w[2];
    whole_create(&w[0], box(0, 6, 2, 1.2, 4000, dd_vec(3, 0, 0.5)), 0, 0);
    whole_create(&w[1], prism(0, 6, 3, y, z, 900, dd_vec(3, 0, 0.5)), 0, 0);
    const double draught[2] = {0.5, 0.24};
    double worst = 0;
    int used = 0;
    for (int v = 0; v < 2; v++) {
        dd_added_mass *added = added_of(&w[v].model);
        whole_state s = {.pose = {.attitude = {1, 0, 0, 0}, .position = {0, 0, w[v].model.water.level - draught[v]}}};
        dd_kinematics k = kinematics(&w[v].model, &s, still, still);
        dd_added_mass_result deep, shallow;
        dd_added_mass_evaluate(added, &k, &deep);
        for (int row = 1; row <= t.rows; row++) {
            const char *section = table_text(&t, row, "section"), *which = table_text(&t, row, "case");
            if (strncmp(section, "shallow", 7) != 0 || strncmp(which, v ? "V 20deg" : "box B/T=4", 7) != 0)
                continue;
            k.water_depth = strtod(strstr(which, "h/T=") + 4, NULL) * draught[v];
            dd_added_mass_evaluate(added, &k, &shallow);
            const double ratio = shallow.A[1][1] / deep.A[1][1], expected = table_number(&t, row, "expected");
            worst = fmax(worst, fabs(ratio / expected - 1));
            CHECK_NEAR(ratio, expected, 0.05 * expected, which);
            used++;
        }
        /* aground, or dry ground under the origin: bounded */
        k.water_depth = -1;
        dd_added_mass_evaluate(added, &k, &shallow);
        assert_true(shallow.A[1][1] < 12 * deep.A[1][1]);
        dd_added_mass_free(added);
        whole_free(&w[v]);
    }
    print_message("shallow water within %.1f %%\n", 100 * worst);
    assert_int_equal(used, 10);
    table_free(&t);
}

/* A V coming down at speed c: load c^2/2 da/dT up, half of what the momentum a c would give if it all stayed (Lagrange). For
   similar sections a = k T^2, so the load is c^2 k T with k from A at the same depth (closed form). 2 %: the spline's
   knots, and the rounding of the chine that begins above. */
static void entering_v_feels_half_the_momentum_rate(void **state)
{
    (void)state;
    whole w;
    const double c = 1.5, rise = 0.9 * tan(20 * DEGREE);
    const double y[3] = {0, 0.9, 1.0}, z[3] = {0, rise, 1.1};
    whole_create(&w, prism(0, 6, 3, y, z, 300, dd_vec(3, 0, 0.5)), 0, 0);
    dd_added_mass *added = added_of(&w.model);
    const double twist[6] = {0, 0, -c, 0, 0, 0};
    for (double depth = 0.05; depth < 0.75 * rise; depth += 0.02) {
        whole_state s = {.pose = {.attitude = {1, 0, 0, 0}, .position = {0, 0, w.model.water.level - depth}}};
        dd_kinematics k = kinematics(&w.model, &s, twist, twist);
        dd_added_mass_result r, less;
        dd_added_mass_evaluate(added, &k, &r);
        s.pose.position.z += 1e-4;
        k = kinematics(&w.model, &s, twist, twist);
        dd_added_mass_evaluate(added, &k, &less);
        CHECK_NEAR(r.bias[2], c * c / 2 * (r.A[2][2] - less.A[2][2]) / 1e-4, 0.01 * r.bias[2], "half the momentum's rate");
        assert_true(r.bias[2] > 0);
    }
    dd_added_mass_free(added);
    whole_free(&w);
}

/* Total energy and horizontal momentum of a hull moved by weight, buoyancy and added mass alone, by RK4. */
static double energy_of(dd_workspace *space, const double *y)
{
    dd_pose pose;
    dd_motion motion;
    assert_int_equal(dd_system_evaluate(space, 0, y, DD_WANT_ACCELERATION), 0);
    dd_system_unpack(space->system, y, &pose, &motion);
    double energy = space->added.energy;
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 6; j++)
            energy += 0.5 * motion.twist[i] * space->hull_inertia[i][j] * motion.twist[j];
    for (int i = 0; i < space->system->force_count; i++)
        energy += space->loads[i].energy;
    return energy;
}

static void step(dd_workspace *space, double *y, double h)
{
    const int n = space->system->size;
    double k[4][64], at[64];
    const double share[4] = {0, 0.5, 0.5, 1};
    assert_true(n <= 64);
    for (int s = 0; s < 4; s++) {
        for (int i = 0; i < n; i++)
            at[i] = y[i] + (s > 0 ? share[s] * h * k[s - 1][i] : 0);
        assert_int_equal(dd_system_derivative(0, at, k[s], space), 0);
    }
    for (int i = 0; i < n; i++)
        y[i] += h / 6 * (k[0][i] + 2 * k[1][i] + 2 * k[2][i] + k[3][i]);
}

static void check_energy(dd_hull *hull, const whole_state *start, double exchanged, const char *name)
{
    whole w;
    dd_error error;
    dd_system *system = NULL;
    dd_workspace *space = NULL;
    whole_create(&w, hull, 0, 0);
    const char *const without[] = {"wave damping", "cross flow", "resistance", "push", NULL};
    assert_int_equal(dd_system_create(&w.model, without, NULL, NULL, &system, &error), DD_OK);
    assert_int_equal(dd_workspace_create(system, &space, &error), DD_OK);
    double y[64] = {0}, drift[2];
    for (int finer = 0; finer < 2; finer++) {
        const double h = finer ? 2.5e-4 : 1e-3;
        dd_system_pack(system, &start->pose, &start->motion, NULL, y);
        const double before = energy_of(space, y);
        double least = INFINITY, most = -INFINITY;
        drift[finer] = 0;
        for (int i = 0; i < (int)(10 / h); i++) {
            step(space, y, h);
            drift[finer] = fmax(drift[finer], fabs(energy_of(space, y) - before));
            least = fmin(least, space->kinematics.waterplane.level);
            most = fmax(most, space->kinematics.waterplane.level);
        }
        drift[finer] /= exchanged;
        assert_true(most - least > 0.1);
    }
    print_message("%s: energy drift %.1e, %.1e at a quarter of the step, of the energy exchanged\n", name, drift[0], drift[1]);
    assert_true(drift[1] < 1e-5);
    assert_true(drift[1] < 0.25 * drift[0]); /* falls with the step: it is the integrator's */
    dd_workspace_free(space);
    dd_system_free(system);
    whole_free(&w);
}

/* Free motion keeps its energy, whatever of the hull enters or leaves the water: closed form; tolerance 1e-5 of the energy exchanged over
   10 s, RK4 at 0.25 ms, and falling with the step. */
static void free_motion_keeps_its_energy(void **state)
{
    (void)state;
    const double y[3] = {0, 0.9, 1.0}, z[3] = {0, 0.9 * tan(20 * DEGREE), 1.1};
    whole_state s;
    memset(&s, 0, sizeof s);
    s.pose = (dd_pose){.attitude = {1, 0, 0, 0}, .position = {0, 0, 0.2 + 0.05}}; /* dropped from the air */
    check_energy(prism(0, 6, 3, y, z, 500, dd_vec(3, 0, 0.3)), &s, 500 * DD_STANDARD_GRAVITY * 0.25, "dropped V");
    s.pose.position.z = 0.2 - 0.42;
    s.pose.attitude = (dd_quaternion){1, 0.1, 0.03, 0.05};
    s.motion = (dd_motion){{0}, {0.5, 0.2, -0.1, 0.3, 0.1, 0.2}};
    check_energy(synthetic_chine(DD_LINES_CURVED, 1200, dd_vec(2, 0, 0.4)), &s, 100, "chine hull, all six");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bias_is_the_derivative),
        cmocka_unit_test(slender_body_turns_broadside),
        cmocka_unit_test(shallow_water_adds_to_sway),
        cmocka_unit_test(entering_v_feels_half_the_momentum_rate),
        cmocka_unit_test(free_motion_keeps_its_energy),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
