/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting a trailer up: against closed forms, against every setting tried, and recomputed as any rig is. */
#include "lib/case/case.h"
#include "lib/study/seat_adjust_tell.h"
#include "tests/unit/study/reports.h"

#define KEEL "scenarios/rigs/six-keel-roller-launch.yaml"

typedef struct bench {
    dd_case_file *file;
    dd_adjusting *a;
} bench;

static bench bench_of(const char *path, const char *const *overrides)
{
    bench b = {scenario_with(path, overrides), calloc(1, sizeof *b.a)};
    dd_error error = {.status = DD_OK};
    *b.a = (dd_adjusting){.scenario = dd_case_of(b.file), .dropped = -1, .planned = 1};
    if (dd_seat_begin(b.a->scenario, &b.a->base, &error) != DD_OK || dd_adjust_begin(b.a, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    return b;
}

static void bench_end(bench *b)
{
    dd_study_model_free(b->a->base.m);
    free(b->a);
    dd_case_free(b->file);
}

/* The least cost of every setting of two shifts, by trying all. */
static double every_setting(dd_adjusting *a, dd_setting *best)
{
    double least = INFINITY;
    assert_int_equal(a->shift_count, 2);
    for (int i = a->shifts[0].least; i <= a->shifts[0].most; i++)
        for (int j = a->shifts[1].least; j <= a->shifts[1].most; j++) {
            dd_setting setting = {.by = {i * a->shifts[0].step, j * a->shifts[1].step}};
            dd_seat_outcome outcome;
            assert_true(dd_adjust_judge(a, &setting, true, &outcome));
            const double cost = dd_adjust_cost(a, &setting, &outcome);
            if (cost < least) least = cost, *best = setting;
        }
    return least;
}

/* Two unknowns: the search against all 117 to 189 settings of the grid. The shortest list may cost 0.01 a shift more than the least.
   Closed form (every setting). */
static void as_good_as_every_setting(void **state)
{
    (void)state;
    static const char *const cases[][5] = {
        {"trailer.supports[2].adjust={up: [-20 mm, 20 mm]}", "trailer.supports[2].above ground=600 mm", "trailer.supports[side skids].adjust={up: [-30 mm, 30 mm]}", NULL},
        {"trailer.supports[4].adjust={up: [-30 mm, 10 mm], up step: 2 mm}", "trailer.supports[4].above ground=630 mm", "trailer.supports[side skids].adjust={out: [-40 mm, 40 mm], out step: 10 mm}", NULL},
        {"trailer.supports[1].adjust={up: [-20 mm, 20 mm]}", "trailer.supports[5].adjust={up: [-20 mm, 20 mm]}", "seating.least keel share=70 %", NULL},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        bench b = bench_of(KEEL, cases[c]);
        dd_setting best = {0}, found;
        dd_seat_outcome outcome, as_best;
        const double least = every_setting(b.a, &best);
        assert_true(dd_adjust_search(b.a, &found, &outcome));
        assert_true(dd_adjust_judge(b.a, &found, true, &outcome) && dd_adjust_judge(b.a, &best, true, &as_best));
        const double cost = dd_adjust_cost(b.a, &found, &outcome);
        print_message("case %zu: least %.5f at %g %g mm (use %.3f uneven %.3f missed %.3f), found %.5f at %g %g mm (use %.3f uneven %.3f missed %.3f), %ld judged\n", c, least,
                      1e3 * best.by[0], 1e3 * best.by[1], as_best.greatest, as_best.uneven, dd_adjust_missed(b.a, &as_best), cost, 1e3 * found.by[0],
                      1e3 * found.by[1], outcome.greatest, outcome.uneven, dd_adjust_missed(b.a, &outcome), b.a->judged);
        bench_end(&b);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(as_good_as_every_setting)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
