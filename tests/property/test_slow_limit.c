/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statics against the slow limit of the run: two paths of code to the same loads; and the strap by closed form. */
#include "lib/study/settle.h"
#include "tests/property/scenarios.h"

enum { DEPTHS = 10, CHECKED = 6 };
static const int checked[CHECKED] = {DD_SEEN_STRAP_TENSION, DD_SEEN_SUPPORT_LOAD,  DD_SEEN_REAR_LOAD,
                                     DD_SEEN_STOP_LOAD,     DD_SEEN_COUPLING_LOAD, DD_SEEN_TRIM};

typedef struct slow_run {
    int count;
    double next_depth, step, x[DEPTHS];
    dd_seen seen[DEPTHS];
} slow_run;

static dd_status look(dd_run *run, double t, int at_end, void *context, dd_error *error)
{
    slow_run *s = context;
    (void)t, (void)error;
    dd_seen seen;
    if (!at_end || s->count >= DEPTHS) return DD_OK;
    dd_seen_read(run->m, 1, &seen);
    if (seen.v[DD_SEEN_HUB_DEPTH] < s->next_depth) return DD_OK;
    s->seen[s->count] = seen;
    s->x[s->count++] = seen.v[DD_SEEN_RIG_X];
    s->next_depth += s->step;
    return DD_OK;
}

/* Backs down at a speed from the scenario's start and looks at ten depths of the hub. */
static void go_down(const dd_case *launch, double speed, double first, double last, slow_run *s)
{
    dd_case *scenario = malloc(sizeof *scenario);
    dd_run *run = NULL;
    *scenario = *launch;
    scenario->step_count = 1;
    scenario->steps[0].speed = speed;
    scenario->steps[0].acceleration = 0.05;
    scenario->steps[0].time_limit = scenario->time_limit = 3000;
    scenario->steps[0].until.hub_depth = last + 0.02;
    *s = (slow_run){.next_depth = first, .step = (last - first) / (DEPTHS - 1)};
    MUST(dd_run_create(scenario, &run, error));
    run->look = look;
    run->look_context = s;
    while (s->count < DEPTHS && !run_finished(run)) MUST(dd_run_step(run, error));
    assert_int_equal(s->count, DEPTHS);
    dd_run_free(run);
    free(scenario);
}

static void no_friction(dd_case *scenario)
{
    for (int i = 0; i < scenario->trailer.support_count; i++)
        scenario->trailer.supports[i].side_friction = scenario->trailer.supports[i].rolling_resistance = 0;
}

static double first_x(const dd_study_model *m)
{
    double x = NAN;
    MUST(dd_study_position(m, m->scenario.start.hub_depth, &x, error));
    return x;
}

/* Friction off: each load, trim and strap to 0.5 % of the largest of its kind (the issue's; grade: two code paths, no shared solver).
   0.03 m/s: water and tyres then push with less than 1 N. */
static void settle_is_the_slow_limit(void **state)
{
    (void)state;
    static slow_run slow;
    dd_case *scenario = scenario_read("launch", NULL);
    no_friction(scenario);
    scenario->start.hub_depth = -0.6; /* what the brake's release shakes has died away at the first depth */
    go_down(scenario, 0.03, -0.35, 0.30, &slow);
    dd_study_model *m = NULL;
    dd_settle settle;
    dd_seen still[DEPTHS];
    double largest[CHECKED] = {0}, worst = 0;
    MUST(dd_study_model_create(scenario, &m, error));
    const double x = first_x(m);
    MUST(dd_settle_begin(m, DD_FRICTION_NONE, x, x - 60, &settle, error));
    for (int i = 0; i < DEPTHS; i++) {
        MUST(dd_settle_to(&settle, slow.x[i], error));
        dd_seen_read(m, 1, &still[i]);
        for (int c = 0; c < CHECKED; c++) largest[c] = fmax(largest[c], fabs(still[i].v[checked[c]]));
    }
    double force = fmax(largest[1], largest[0]); /* the largest load */
    for (int i = 0; i < DEPTHS; i++)
        for (int c = 0; c < CHECKED; c++) {
            const double size = checked[c] == DD_SEEN_TRIM ? largest[c] : force;
            const double off = slow.seen[i].v[checked[c]] - still[i].v[checked[c]];
            worst = fmax(worst, fabs(off) / size);
            if (fabs(off) > 0.005 * size)
                fail_msg("hub %.3f m under water: %s is %.6g in the run, %.6g in settle", slow.seen[i].v[DD_SEEN_HUB_DEPTH],
                         dd_seen_name(checked[c]), slow.seen[i].v[checked[c]], still[i].v[checked[c]]);
        }
    for (int i = 0; i < DEPTHS; i++)
        for (int s = 0; s < scenario->trailer.support_count; s++) {
            worst = fmax(worst, fabs(slow.seen[i].support[s] - still[i].support[s]) / force);
            NEAR(slow.seen[i].support[s], still[i].support[s], 0.005 * force, "load of a support");
        }
    print_message("ten depths without friction: within %.3f %% of the largest\n", 100 * worst);
    dd_settle_end(&settle);
    dd_study_model_free(m);
    free(scenario);
}

static int column_of(const dd_result *r, const char *prefix, const char *name)
{
    char wanted[128];
    snprintf(wanted, sizeof wanted, "%s%s%s", prefix, prefix[0] ? " " : "", name);
    for (int c = 0; c < r->column_count; c++)
        if (strcmp(r->columns[c].name, wanted) == 0) return c;
    fail_msg("no column %s", wanted);
    return -1;
}

/* A column of settle's record at a rig position, straight between its rows. */
static double at_x(const dd_result *r, int column, double x)
{
    const int cx = column_of(r, "", "rig_x_m");
    for (int i = 0; i + 1 < r->row_count; i++) {
        const double *a = r->rows + (size_t)i * (size_t)r->column_count, *b = a + r->column_count;
        if (x >= a[cx] && x <= b[cx]) return a[column] + (b[column] - a[column]) * (x - a[cx]) / (b[cx] - a[cx]);
    }
    fail_msg("rig x %.3f m is not in the record", x);
    return NAN;
}

/* Friction on: the run lies inside the band that settle reports, widened by 0.5 % of the largest, as above. */
static void run_lies_inside_the_band(void **state)
{
    (void)state;
    static slow_run slow;
    dd_case *scenario = scenario_read("launch", NULL);
    dd_result *r = NULL;
    go_down(scenario, 0.03, -0.35, 0.30, &slow);
    MUST(dd_study_settle(scenario, NULL, NULL, &r, error));
    const int banded[] = {DD_SEEN_STRAP_TENSION, DD_SEEN_REAR_LOAD, DD_SEEN_STOP_LOAD, DD_SEEN_COUPLING_LOAD, DD_SEEN_TRIM};
    int outside = 0;
    for (int i = 0; i < DEPTHS; i++)
        for (int c = 0; c < 5; c++) {
            const char *name = dd_seen_name(banded[c]);
            const double low = at_x(r, column_of(r, "lowest", name), slow.x[i]),
                         high = at_x(r, column_of(r, "highest", name), slow.x[i]);
            const double value = slow.seen[i].v[banded[c]], size = banded[c] == DD_SEEN_TRIM ? 7.2 : 11500;
            if (value < low - 0.005 * size || value > high + 0.005 * size) {
                print_message("hub %.3f m: %s %.6g outside %.6g to %.6g\n", slow.seen[i].v[DD_SEEN_HUB_DEPTH], name, value, low,
                              high);
                outside++;
            }
        }
    print_message("%d of %d values outside the band\n", outside, 5 * DEPTHS);
    assert_int_equal(outside, 0);
    dd_result_free(r);
    free(scenario);
}

/* --- the strap by closed form ------------------------------------------------------------------------------------ */

typedef struct along {
    double strap, gravity, resistance; /* along the keel, N */
} along;

/* Forces along the keel of a straight V: strap, (W - buoyancy) sin(slope of the keel), and R = rolling resistance x sum of the rollers'
   loads. */
static along along_keel(const dd_study_model *m)
{
    const dd_workspace *w = m->workspace;
    const dd_kinematics *k = &w->kinematics;
    along a;
    double trim = asin(-k->waterplane.up.x), loads = 0, buoyancy = 0, hull[6], rig[DD_RIG_COORDINATES];
    const dd_system_force *rollers = dd_system_find(m->system, &dd_force_roller);
    int load = dd_system_channel(m->system, &dd_force_roller, 0, "load_N");
    for (int i = 0; i < rollers->unit_count; i++) loads += w->channels[load + i * rollers->channel_count];
    for (int f = 0; f < m->system->force_count; f++) {
        dd_system_force_load(w, f, hull, rig);
        if (m->system->forces[f].kind == &dd_force_buoyancy) {
            dd_vec3 force = dd_vec(hull[0], hull[1], hull[2]);
            buoyancy = dd_dot(force, k->waterplane.up);
        }
        if (m->system->forces[f].kind == &dd_force_strap) a.strap = hull[0];
    }
    a.gravity = (dd_hull_mass(m->hull)->mass * m->model.gravity - buoyancy) * sin(-trim);
    a.resistance = m->scenario.trailer.supports[0].rolling_resistance * loads;
    return a;
}

/* Rolling resistance held at its limit one way, the other way and not at all: (W - buoyancy) sin(slope) + R, - R and 0 to 1e-6 of it
   (closed form; the strap at any angle, its part along the keel). Dry, and with the stern in the water. */
static void strap_of_settle_by_closed_form(void **state)
{
    (void)state;
    dd_case *scenario = scenario_read("launch", NULL);
    make_prismatic(scenario, 18 * M_PI / 180);
    dd_study_model *m = NULL;
    MUST(dd_study_model_create(scenario, &m, error));
    const dd_friction_state states[] = {DD_FRICTION_WOUND_IN, DD_FRICTION_NONE, DD_FRICTION_LET_OUT};
    const double depths[] = {-0.4, 0.0, 0.1};
    const int strap = dd_system_find(m->system, &dd_force_strap)->memory_first;
    for (int d = 0; d < 3; d++)
        for (int s = 0; s < 3; s++) {
            double x = NAN;
            dd_equilibrium e;
            MUST(dd_study_position(m, depths[d], &x, error));
            MUST(dd_study_home(m, x, DD_FRICTION_NONE, m->memory, &e, error));
            m->memory[strap] += 0.25; /* off the stop */
            dd_pose from = e.pose;
            from.position.x += 0.25;
            for (int i = 0; i < 8; i++) {
                dd_study_friction(m, &from, states[s], m->memory);
                MUST(dd_equilibrium_find(m->workspace, 0, &from, m->memory, DD_FREE_ALL, &e, error));
                from = e.pose;
            }
            assert_true(m->workspace->channels[dd_system_channel(m->system, &dd_force_bow_stop, 0, "stop_gap_m")] > 0);
            const along a = along_keel(m);
            const double expected = a.gravity + (s == 0 ? a.resistance : s == 2 ? -a.resistance : 0);
            print_message("hub %+.1f m: strap along the keel %.3f N, expected %.3f (R %.1f N)\n", depths[d], a.strap, expected,
                          a.resistance);
            NEAR(a.strap, expected, 1e-6 * expected, "strap");
        }
    dd_study_model_free(m);
    free(scenario);
}

/* The same in the run: let out at 1 cm/s, wound in, then at rest: - R, + R to 0.5 % (closed form; what is left is the hull's motion along
   a trailer that gives), and at rest inside the band between. */
static void strap_of_a_run_by_closed_form(void **state)
{
    (void)state;
    dd_case *scenario = scenario_read("launch", NULL);
    make_prismatic(scenario, 18 * M_PI / 180);
    scenario->step_count = 1;
    scenario->steps[0].kind = DD_STEP_WAIT;
    scenario->steps[0].time_limit = scenario->steps[0].until.after = 1000;
    scenario->steps[0].until.hub_depth = NAN;
    dd_run *run = NULL;
    MUST(dd_run_create(scenario, &run, error));
    dd_ramped *winch = &run->m->workspace->plan.wind_speed;
    const double speeds[] = {-0.01, 0.01, 0.0}, ends[] = {25, 40, 50};
    for (int i = 0; i < 3; i++) {
        *winch = (dd_ramped){
            .from = i > 0 ? speeds[i - 1] : 0, .to = speeds[i], .start = dd_ode_time(run->ode) + 0.1, .duration = 1};
        MUST(run_until(run, ends[i], error));
        assert_int_equal(dd_run_evaluate(run, dd_ode_time(run->ode), DD_WANT_CHANNELS), 0);
        const along a = along_keel(run->m);
        const double expected = a.gravity + (speeds[i] < 0 ? -1 : speeds[i] > 0 ? 1 : 0) * a.resistance;
        print_message("strap wound at %+.2f m/s: %.2f N, expected %.2f (R %.1f N)\n", speeds[i], a.strap, expected,
                      a.resistance);
        if (i < 2)
            NEAR(a.strap, expected, 0.005 * expected, "strap");
        else
            assert_true(fabs(a.strap - expected) <= a.resistance);
    }
    dd_run_free(run);
    free(scenario);
}

/* --- start -------------------------------------------------------------------------------------------------------- */

/* The start of each shipped scenario rests: accelerations below 1e-3 m/s2 and rad/s2, a ten-thousandth of gravity, and no load
   changes by more than 1 % of the largest in the first 0.05 s, before anybody has moved (the issue's). */
static void starts_without_a_transient(void **state)
{
    (void)state;
    for (int s = 0; s < 4; s++) {
        dd_case *scenario = scenario_read(shipped_scenarios[s], NULL);
        scenario->water.current = 0; /* at rest in still water; a stream pushes a boat afloat from the first instant */
        dd_run *run = NULL;
        MUST(dd_run_create(scenario, &run, error));
        const dd_workspace *w = run->m->workspace;
        double hull = 0, rig = 0;
        for (int i = 0; i < 6; i++) hull = fmax(hull, fabs(w->hull_acceleration[i]));
        for (int i = 0; i < DD_RIG_COORDINATES; i++) rig = fmax(rig, fabs(w->rig_acceleration[i]));
        dd_seen start, now;
        dd_seen_read(run->m, 0, &start);
        double largest = fmax(start.v[DD_SEEN_SUPPORT_LOAD], start.v[DD_SEEN_AXLE_LOAD]), jump = 0;
        MUST(run_until(run, 0.05, error));
        assert_int_equal(dd_run_evaluate(run, fmin(0.05, dd_ode_time(run->ode)), DD_WANT_CHANNELS), 0);
        dd_seen_read(run->m, 0, &now);
        for (int c = 0; c < CHECKED - 1; c++) jump = fmax(jump, fabs(now.v[checked[c]] - start.v[checked[c]]));
        jump = fmax(jump, fabs(now.v[DD_SEEN_AXLE_LOAD] - start.v[DD_SEEN_AXLE_LOAD]));
        print_message("%-22s hull %.1e, rig %.1e m/s2; loads change by %.1e of the largest in 0.05 s\n", shipped_scenarios[s],
                      hull, rig, jump / largest);
        NEAR(hull, 0, 1e-3, "hull");
        NEAR(rig, 0, 1e-3, "rig");
        NEAR(jump, 0, 0.01 * largest, "loads");
        dd_run_free(run);
        free(scenario);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(settle_is_the_slow_limit),       cmocka_unit_test(run_lies_inside_the_band),
        cmocka_unit_test(strap_of_settle_by_closed_form), cmocka_unit_test(strap_of_a_run_by_closed_form),
        cmocka_unit_test(starts_without_a_transient),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
