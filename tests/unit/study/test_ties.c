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

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(ties_left_on_lift_the_trailer)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
