/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Transom ties left on: the boat that floats lifts the trailer. On the shipped launch, backed 0.7 m deep with the strap on. */
#include <drawdock/case.h>
#include <drawdock/study.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

typedef struct outcome {
    char word[64];
    double ties, axle, deepest; /* most of the ties, N; least of the trailer's axle, N; of the hub, m */
} outcome;

static outcome run_with(const char *ties)
{
    const char *overrides[] = {ties,
                               "trailer.transom ties={behind coupling: 5.7 m}",
                               "procedure=[{back down: {speed: 0.6 m/s, until: {hub depth: 600 mm}}}, {wait: {until: {after: 5 s}}}]",
                               NULL};
    dd_case_file *file = NULL;
    dd_error_list list;
    dd_error error;
    dd_result *r = NULL;
    outcome o = {.ties = 0, .axle = INFINITY, .deepest = -INFINITY};
    if (dd_case_read(SOURCE_DIR "/scenarios/launch.yaml", overrides, NULL, &file, &list) != DD_OK)
        fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
    dd_error_list_free(&list);
    if (dd_study_run(dd_case_of(file), NULL, NULL, &r, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    for (int c = 0; c < r->column_count; c++)
        for (int i = 0; i < r->row_count; i++) {
            const double v = r->rows[i * r->column_count + c];
            if (strcmp(r->columns[c].name, "ties_tension_N") == 0) o.ties = fmax(o.ties, v);
            if (strcmp(r->columns[c].name, "axle_load_N") == 0) o.axle = fmin(o.axle, v);
            if (strcmp(r->columns[c].name, "hub_depth_m") == 0) o.deepest = fmax(o.deepest, v);
        }
    strncpy(o.word, r->word, sizeof o.word - 1);
    dd_result_free(r);
    dd_case_free(file);
    return o;
}

/* Practice (yes or no): with the ties on the wheels leave the ground and the run says so; without them they carry throughout. */
static void ties_left_on_lift_the_trailer(void **state)
{
    (void)state;
    outcome on = run_with("start.ties=on"), off = run_with("start.ties=off");
    print_message("on: %s, ties %.0f N, axle least %.0f N at %.2f m; off: %s, axle least %.0f N\n", on.word, on.ties, on.axle, on.deepest,
                  off.word, off.axle);
    assert_string_equal(on.word, "lifted");
    assert_true(on.ties > 1000);
    assert_true(on.axle < 0.1 * off.axle); /* they left the ground */
    assert_true(off.ties == 0 && strcmp(off.word, "lifted") != 0);
}

static int column_of(const dd_result *r, const char *name)
{
    for (int c = 0; c < r->column_count; c++)
        if (strcmp(r->columns[c].name, name) == 0) return c;
    fail_msg("no column %s", name);
    return -1;
}

static const dd_event *event_of(const dd_result *r, const char *name)
{
    for (int i = 0; i < r->event_count; i++)
        if (strcmp(r->events[i].name, name) == 0) return &r->events[i];
    return NULL;
}

/* `settle` with the ties on: the wheels unload while the boat is still tied down. Closed form (1e-9 of the weight, as statics are solved): at each row the
   water, the wheels and the ball carry boat and trailer. Practice: with the ties the coupling is pressed down less and less, without
   them the wheels keep their load until the boat floats off. */
static void ties_in_still_water(void **state)
{
    (void)state;
    dd_result *r[2] = {NULL, NULL};
    double mass = 0;
    for (int i = 0; i < 2; i++) {
        const char *overrides[] = {i == 0 ? "start.ties=on" : "start.ties=off", "trailer.transom ties={behind coupling: 5.7 m}",
                                   NULL};
        dd_case_file *file = NULL;
        dd_error_list list;
        dd_error error;
        if (dd_case_read(SOURCE_DIR "/scenarios/launch.yaml", overrides, NULL, &file, &list) != DD_OK)
            fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
        dd_error_list_free(&list);
        dd_hull *hull = NULL;
        if (dd_hull_create(&dd_case_of(file)->boat, &hull, &error) != DD_OK) fail_msg("%s", error.message);
        mass = dd_hull_mass(hull)->mass + dd_case_of(file)->trailer.mass;
        dd_hull_free(hull);
        if (dd_study_settle(dd_case_of(file), NULL, NULL, &r[i], &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
        dd_case_free(file);
    }
    const dd_event *off = event_of(r[0], "trailer floats off its wheels");
    assert_non_null(off);
    assert_null(event_of(r[1], "trailer floats off its wheels"));
    assert_non_null(event_of(r[1], "afloat"));
    assert_string_equal(r[0]->word, "lifted");
    assert_true(r[0]->verdict == DD_VERDICT_FAILED && r[1]->verdict == DD_VERDICT_WITHIN);
    assert_true(off->hub_depth < event_of(r[1], "afloat")->hub_depth);
    const int water = column_of(r[0], "buoyancy_N"), wheels = column_of(r[0], "axle_load_N"), ball = column_of(r[0], "coupling_load_N"),
              tyres = column_of(r[0], "tyre_buoyancy_N"), frame = column_of(r[0], "frame_buoyancy_N"), ties = column_of(r[0], "ties_tension_N"),
              vehicle = column_of(r[0], "vehicle_rear_wheel_depth_m");
    double trailer_tyres = 0, worst = 0, most = 0;
    for (int i = 0; i < r[0]->row_count; i++) {
        const double *row = r[0]->rows + i * r[0]->column_count;
        if (row[vehicle] < 0) trailer_tyres = row[tyres]; /* they are under water as a whole before the vehicle's are wet */
        const double slope = atan(0.125), carried = row[water] + row[wheels] * cos(slope) + row[ball] + trailer_tyres + row[frame];
        worst = fmax(worst, fabs(carried / (mass * 9.80665) - 1));
        most = fmax(most, row[ties]);
    }
    print_message("wheels leave the ground at hub %.3f m, ties up to %.0f N; vertical balance to %.1e of the weight\n", off->hub_depth, most,
                  worst);
    assert_true(worst < 1e-9);
    assert_true(most > 2000);
    dd_result_free(r[0]);
    dd_result_free(r[1]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(ties_left_on_lift_the_trailer), cmocka_unit_test(ties_in_still_water)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
