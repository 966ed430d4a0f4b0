/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loads of parts against their ratings: checked where the part is, said to be unchecked where only its rating is missing, and not
   spoken of where there is no such part. Shares by hand: 1e-9. Grade: formula. */
#include "tests/property/scenarios.h"
#include "lib/study/verdict.h"

static dd_result *margins_with(const char *const *overrides, void (*load)(dd_extremes *))
{
    dd_case *scenario = scenario_read("launch", overrides);
    dd_study_model *m = NULL;
    dd_result *r = NULL;
    dd_extremes e;
    memset(&e, 0, sizeof e);
    load(&e);
    MUST(dd_study_model_create(scenario, &m, error));
    dd_recorder *recorder = dd_recorder_create("margins", "run");
    assert_non_null(recorder);
    dd_margins_of_loads(m, &e, recorder);
    MUST(dd_recorder_finish(recorder, &r, error));
    dd_study_model_free(m);
    free(scenario);
    return r;
}

static const dd_margin *margin_of(const dd_result *r, const char *name)
{
    for (int i = 0; i < r->margin_count; i++)
        if (strcmp(r->margins[i].name, name) == 0) return &r->margins[i];
    return NULL;
}

static int is_unchecked(const dd_result *r, const char *name)
{
    for (int i = 0; i < r->unchecked_count; i++)
        if (strncmp(r->unchecked[i], name, strlen(name)) == 0) return 1;
    return 0;
}

static void heavy(dd_extremes *e)
{
    e->most.v[DD_SEEN_CHAIN] = 6000;
    e->most.v[DD_SEEN_TIE] = 1500;
    e->most.v[DD_SEEN_AXLE_USE] = 80;
    e->most.v[DD_SEEN_GUIDE_USE] = 130;
    e->most_time[DD_SEEN_CHAIN] = 7;
}

static void light(dd_extremes *e) { e->most.v[DD_SEEN_AXLE_USE] = e->most.v[DD_SEEN_CHAIN] = e->most.v[DD_SEEN_TIE] = e->most.v[DD_SEEN_GUIDE_USE] = NAN; }

static void parts_are_held_against_their_ratings(void **state)
{
    (void)state;
    const char *const parts[] = {"trailer.safety chain={slack at home: 50 mm, rating: 5 kN}",
                                 "trailer.transom ties={behind coupling: 5.7 m, rating: 6 kN}", NULL};
    dd_result *r = margins_with(parts, heavy);
    const dd_margin *chain = margin_of(r, "safety chain against its rating"), *tie = margin_of(r, "transom tie against its rating"),
                    *axles = margin_of(r, "axles against their rating"), *guide = margin_of(r, "side guide against its rated load");
    assert_true(chain && tie && axles && guide);
    NEAR(chain->share, 1.2, 1e-9, "chain: 6 of 5 kN");
    NEAR(tie->share, 0.25, 1e-9, "tie: 1.5 of 6 kN");
    NEAR(axles->share, 0.8, 1e-9, "axles");
    NEAR(guide->share, 1.3, 1e-9, "guide");
    assert_true(chain->broken && guide->broken && !tie->broken && !axles->broken && chain->time == 7);
    dd_result_free(r);
}

static void what_is_not_there_is_not_spoken_of(void **state)
{
    (void)state;
    dd_result *r = margins_with(NULL, light);
    assert_null(margin_of(r, "safety chain against its rating"));
    assert_null(margin_of(r, "transom tie against its rating"));
    assert_null(margin_of(r, "side guide against its rated load"));
    assert_false(is_unchecked(r, "safety chain") || is_unchecked(r, "transom tie") || is_unchecked(r, "side guide"));
    assert_true(is_unchecked(r, "axles against their rating")); /* there, and its load or rating not known */
    dd_result_free(r);
}

/* Standing at the start with the boat at home, each axle of a group bears its own share of its own rating; on the way down no plate
   speaks of it, and one axle is its own group. */
static void each_axle_is_held_against_its_own_rating(void **state)
{
    (void)state;
    const char *const ratings[] = {"trailer.axles=[{behind coupling: 6.03 m, rating: 2200 kg}, {behind coupling: 6.87 m, rating: 2200 kg}]", NULL};
    static dd_seen seen;
    for (int single = 0; single < 2; single++) {
        dd_case *scenario = scenario_read(single ? "launch" : "rigs/seven-skid-launch", single ? NULL : ratings);
        dd_run *run = NULL;
        MUST(dd_run_create_with(scenario, NULL, 0, &run, error));
        const dd_study_model *m = run->m;
        const int load = dd_system_channel(m->system, &dd_force_axles, 0, "axle_load_N"), next = dd_system_channel(m->system, &dd_force_axles, 1, "axle_load_N");
        assert_int_equal(0, dd_run_evaluate(run, 0, DD_WANT_CHANNELS));
        dd_seen_read(m, 0, &seen);
        if (single) {
            assert_true(isnan(seen.v[DD_SEEN_AXLE_OWN_USE]));
        } else {
            const double first = m->workspace->channels[load] / 2200, second = m->workspace->channels[next] / 2200;
            NEAR(seen.v[DD_SEEN_AXLE_OWN_USE], 100 * fmax(first, second) / m->model.gravity, 1e-9, "the axle that bears more of its rating");
            assert_true(seen.v[DD_SEEN_AXLE_OWN_USE] > 100 && seen.v[DD_SEEN_AXLE_USE] < 100); /* the group's check would pass it */
            MUST(run_until(run, 6, error));
            assert_int_equal(0, dd_run_evaluate(run, dd_ode_time(run->ode), DD_WANT_CHANNELS));
            dd_seen_read(m, 0, &seen);
            assert_true(seen.v[DD_SEEN_RIG_SPEED] > 0.1 && isnan(seen.v[DD_SEEN_AXLE_OWN_USE]));
        }
        dd_run_free(run);
        free(scenario);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(parts_are_held_against_their_ratings), cmocka_unit_test(each_axle_is_held_against_its_own_rating),
                                       cmocka_unit_test(what_is_not_there_is_not_spoken_of)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
