/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Port and starboard: a mirrored current and start give the mirrored run; and the order of the supports does not matter. */
#include "lib/study/observe.h"
#include "tests/property/scenarios.h"

/* Columns of what is seen at common times, up to a clean capture (the bow at its stop) or the end. */
enum { COLUMNS = DD_SEEN_COUNT };
typedef struct trace {
    int rows, first_contact_row, captured_row;
    double next, values[MOST_SAMPLES][COLUMNS];
    dd_vec3 position[MOST_SAMPLES];
} trace;
static trace here, mirrored;

static const double interval = 0.1; /* s */

static dd_status look(dd_run *run, double t, int at_end, void *context, dd_error *error)
{
    trace *c = context;
    (void)error;
    for (; at_end && c->next <= t && c->rows < MOST_SAMPLES; c->next += interval) {
        dd_seen seen;
        if (dd_run_evaluate(run, c->next, DD_WANT_CHANNELS) != 0) return DD_ERROR_NOT_FINITE;
        dd_seen_read(run->m, 0, &seen);
        memcpy(c->values[c->rows], seen.v, sizeof seen.v);
        c->position[c->rows] = run->m->workspace->kinematics.pose.position;
        if (c->first_contact_row < 0 && seen.v[DD_SEEN_CARRIED] > 0) c->first_contact_row = c->rows;
        if (c->captured_row < 0 && c->first_contact_row >= 0 && seen.v[DD_SEEN_STOP_GAP] < 0) c->captured_row = c->rows;
        c->rows++;
    }
    return DD_OK;
}

static int trace_run(const dd_case *scenario, double tolerance, trace *c)
{
    dd_run *run = NULL;
    MUST(dd_run_create_with(scenario, NULL, tolerance, &run, error));
    *c = (trace){.first_contact_row = -1, .captured_row = -1, .next = interval};
    run->look = look;
    run->look_context = c;
    MUST(run_until(run, scenario->time_limit, error));
    int state = (int)run->procedure.state;
    dd_run_free(run);
    return state;
}

static double sign_of(int column)
{
    switch (column) {
    case DD_SEEN_HULL_Y:
    case DD_SEEN_BOW_OFFSET:
    case DD_SEEN_STERN_OFFSET:
    case DD_SEEN_HEADING:
    case DD_SEEN_HEEL:
        return -1.0;
    default:
        return 1.0;
    }
}

/* Up to where the bow is at its stop: wound in, or driven on. */
static void end_at_the_stop(dd_case *scenario)
{
    int last = 0;
    for (int i = 0; i < scenario->step_count && last == 0; i++)
        if (scenario->steps[i].kind == DD_STEP_WIND_IN || scenario->steps[i].kind == DD_STEP_ENGINE_UP) last = i + 1;
    assert_true(last > 0);
    scenario->step_count = last;
}

/* What has a side. */
static void mirror(dd_case *scenario)
{
    scenario->water.current *= -1;
    scenario->water.wind.toward *= -1;
    scenario->start.offset_to_port *= -1;
    scenario->start.heading *= -1;
    for (int i = 0; i < scenario->step_count; i++)
        if (scenario->steps[i].kind == DD_STEP_HOLD_LINE)
            scenario->steps[i].side = scenario->steps[i].side == DD_HELPER_PORT ? DD_HELPER_STARBOARD : DD_HELPER_PORT;
}

/* Closed form: the equations are symmetric, so only rounding differs, and what the integrator makes of it: where an error stands
   at its limit, rounding decides whether a step is repeated, and two runs part by what one such step is off (1e-9 m at the
   default tolerance, and a slide of a micrometre by a thousandth). 1e-9 m before the first contact, 1e-6 of each channel's span
   to a clean capture (or to the end of a launch), the figures, are therefore held at a tolerance of 1e-10; at the default
   the outcome is the same. */
static void check_mirror(const char *name, const char *const *overrides, double tolerance)
{
    dd_case *scenario = scenario_read(name, overrides);
    if (tolerance > 0 && scenario->action == DD_ACTION_RETRIEVE) end_at_the_stop(scenario);
    scenario->skipper.aim_noise = 0; /* his own, to either side */
    int outcome = trace_run(scenario, tolerance, &here);
    mirror(scenario);
    int mirror_outcome = trace_run(scenario, tolerance, &mirrored);
    assert_int_equal(outcome, DD_PROCEDURE_DONE);
    assert_int_equal(mirror_outcome, outcome);
    const int capture = here.captured_row >= 0 && scenario->action == DD_ACTION_RETRIEVE ? here.captured_row : here.rows;
    const int contact = here.first_contact_row >= 0 ? here.first_contact_row : 0;
    assert_true(here.rows > 100 && capture > 100);
    double free_error = 0, largest = 0, sideways = 0;
    for (int i = 0; i < contact; i++) {
        dd_vec3 other = mirrored.position[i];
        other.y = -other.y;
        free_error = fmax(free_error, dd_norm(dd_sub(here.position[i], other)));
    }
    int worst = 0;
    for (int column = 0; column < COLUMNS; column++) {
        double low = INFINITY, high = -INFINITY, error = 0;
        for (int i = 0; i < capture; i++) {
            const double a = here.values[i][column], b = sign_of(column) * mirrored.values[i][column];
            if (isnan(a) && isnan(b)) continue;
            low = fmin(low, a);
            high = fmax(high, a);
            error = fmax(error, fabs(a - b));
        }
        if (!(high - low > 1e-9)) { /* a channel that stands still */
            if (error > 1e-9) fail_msg("%s: %s differs by %g", name, dd_seen_name(column), error);
            continue;
        }
        if (error / (high - low) > largest) {
            largest = error / (high - low);
            worst = column;
        }
        if (column == DD_SEEN_HULL_Y) sideways = high - low;
    }
    print_message("%-22s before contact (%.1f s) %.1e m; to %.1f s %.1e of the span of %s; moves %.0f mm across\n", name,
                  contact * interval, free_error, capture * interval, largest, dd_seen_name(worst), 1000 * sideways);
    if (tolerance > 0) {
        NEAR(free_error, 0, 1e-9, "before contact");
        NEAR(largest, 0, 1e-6, name);
    }
    assert_true(sideways > 0.01); /* there is something to mirror */
    free(scenario);
}

static void mirrored_current_gives_the_mirrored_run(void **state)
{
    (void)state;
    const char *const sand[] = {"ramp.surfaces=[{friction low: 0.5, friction high: 0.7, rolling resistance: 0.02, sinkage: 10 mm, sinkage rate: 0.1 mm/s}]", NULL};
    check_mirror("launch-cross-stream", sand, 1e-10);
    check_mirror(richest_scenarios[0], NULL, 1e-10); /* a retrieve across the stream, with every kind of support */
    check_mirror("retrieve-cross-stream", NULL, 0);
    check_mirror(richest_scenarios[1], NULL, 1e-10); /* someone at the helm */
}

/* --- order of supports ------------------------------------------------------------------------------------------- */

/* Six supports of three kinds: the two cradles, and pairs and keel rollers beside them. */
static void more_supports(dd_case *scenario)
{
    dd_trailer_parameters *t = &scenario->trailer;
    for (int i = 0; i < 4; i++) {
        dd_support *s = &t->supports[t->support_count++];
        dd_support_defaults(s, i < 2 ? DD_SUPPORT_ROLLER : DD_SUPPORT_KEEL_ROLLER);
        s->behind_coupling = 2.9 + 0.7 * i;
        s->above_ground = i < 2 ? 0.69 + 0.033 * i : 0.56;
        if (i < 2) s->half_spacing = 0.4 + 0.1 * i;
        if (i < 2) s->deadrise = 0.32;
    }
}

static void reorder(dd_case *scenario, const int *order)
{
    dd_support old[DD_SUPPORTS];
    memcpy(old, scenario->trailer.supports, sizeof old);
    for (int i = 0; i < scenario->trailer.support_count; i++) scenario->trailer.supports[i] = old[order[i]];
}

/* The state of one model in the order of another's rollers: a roller is known by its place. */
static void carry_memory(const dd_study_model *from, const double *y, const dd_study_model *to, double *out)
{
    const dd_system_force *a = dd_system_find(from->system, &dd_force_roller),
                          *b = dd_system_find(to->system, &dd_force_roller);
    memcpy(out, y, (size_t)to->system->size * sizeof(double));
    const int each = a->memory_count / from->rig->roller_count;
    for (int i = 0; i < to->rig->roller_count; i++) {
        int found = -1;
        for (int j = 0; j < from->rig->roller_count; j++)
            if (dd_norm(dd_sub(from->rig->rollers[j].centre, to->rig->rollers[i].centre)) < 1e-12) found = j;
        assert_true(found >= 0);
        for (int m = 0; m < each; m++)
            out[DD_STATE_MEMORY + b->memory_first + each * i + m] = y[DD_STATE_MEMORY + a->memory_first + each * found + m];
    }
}

/* Sums of loads to 1e-13 of the largest force (closed form: only the order of additions differs), the figure. */
static void order_of_supports_does_not_matter(void **state)
{
    (void)state;
    const int orders[4][6] = {{5, 4, 3, 2, 1, 0}, {1, 0, 2, 3, 4, 5}, {3, 5, 1, 0, 2, 4}, {2, 0, 4, 1, 5, 3}};
    dd_case *scenario = scenario_read("launch-cross-stream", NULL);
    dd_run *run = NULL;
    double largest_difference = 0;
    more_supports(scenario);
    MUST(dd_run_create(scenario, &run, error));
    for (int moment = 0; moment < 3; moment++) {
        MUST(run_until(run, 2.0 + 4.0 * moment, error));
        const int size = run->m->system->size;
        double *y = malloc(2 * (size_t)size * sizeof *y);
        memcpy(y, dd_ode_state(run->ode), (size_t)size * sizeof *y);
        assert_int_equal(dd_system_evaluate(run->m->workspace, dd_ode_time(run->ode), y, DD_WANT_ACCELERATION), 0);
        for (int o = 0; o < 4; o++) {
            dd_case *other = malloc(sizeof *other);
            *other = *scenario;
            reorder(other, orders[o]);
            dd_study_model *m = NULL;
            MUST(dd_study_model_create(other, &m, error));
            m->workspace->plan = run->m->workspace->plan;
            carry_memory(run->m, y, m, y + size);
            assert_int_equal(dd_system_evaluate(m->workspace, dd_ode_time(run->ode), y + size, DD_WANT_ACCELERATION), 0);
            double largest = 0, difference = 0;
            for (int f = 0; f < m->system->force_count; f++)
                for (int i = 0; i < 6; i++) largest = fmax(largest, fabs(m->workspace->loads[f].hull[i]));
            for (int i = 0; i < 6; i++)
                difference = fmax(difference, fabs(m->workspace->hull_load[i] - run->m->workspace->hull_load[i]));
            for (int i = 0; i < DD_RIG_COORDINATES; i++)
                difference = fmax(difference, fabs(m->workspace->rig_load[i] - run->m->workspace->rig_load[i]));
            largest_difference = fmax(largest_difference, difference / largest);
            NEAR(difference, 0, 1e-13 * largest, "sum of loads");
            dd_study_model_free(m);
            free(other);
        }
        free(y);
    }
    print_message("order of supports: %.1e of the largest force\n", largest_difference);
    dd_run_free(run);
    free(scenario);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(mirrored_current_gives_the_mirrored_run),
                                       cmocka_unit_test(order_of_supports_does_not_matter)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
