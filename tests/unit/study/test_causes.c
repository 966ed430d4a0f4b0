/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of causes: each row can be reached, fits its fields, belongs to an event that is watched; and stories of the ramp
   (tests/reference/practice, by what went wrong in them) find the cause that they tell. Compared exactly. Grade: practice for
   which cause a story has; closed form else. */
#include "lib/state/kinematics.h"
#include "lib/study/causes.h"
#include <drawdock/study.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#define H(name) DD_HAS(name)

static void every_row_can_be_reached(void **state)
{
    (void)state;
    int rows = 0;
    for (const dd_cause *row; (row = dd_cause_at(rows)) != NULL; rows++) {
        if (dd_cause_find(row->event, row->facts, !isnan(row->moment)) != row)
            fail_msg("row %d, \"%s\": %s: another row comes before it", rows, row->event, row->why);
    }
    assert_true(rows > 50);
    assert_null(dd_cause_at(-1));
}

static void words_are_short(void **state)
{
    (void)state;
    for (int i = 0; dd_cause_at(i) != NULL; i++) {
        const dd_cause *row = dd_cause_at(i);
        assert_true(strlen(row->word) < sizeof(((dd_result *)0)->word));
        assert_true(strlen(row->what) + strlen(row->why) + 20 < sizeof(((dd_result *)0)->sentence));
        assert_true(isnan(row->moment) ? strlen(row->why) > 0 : strlen(row->what) > 0 && strlen(row->word) > 0);
        const char *last = row->why[0] != '\0' ? row->why : row->what;
        assert_true(last[strlen(last) - 1] != '.'); /* the sentence brings its own */
    }
}

static char *text_of(const char *path)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char *text = calloc(1, 1 << 17);
    assert_non_null(text);
    assert_true(fread(text, 1, (1 << 17) - 1, file) > 0);
    fclose(file);
    return text;
}

static void every_event_is_watched(void **state)
{
    (void)state;
    static const char *const by_verdict[] = {"off the line",      "stuck",            "does not float off",
                                              "not afloat",        "too heavy to wind", "short of the stop"}; /* asked for by their own names, without an event */
    char *watched = text_of(SOURCE_DIR "/lib/study/watch.c");
    for (int i = 0; dd_cause_at(i) != NULL; i++) {
        char quoted[64];
        snprintf(quoted, sizeof quoted, "\"%.50s", dd_cause_at(i)->event);
        int known = strstr(watched, quoted) != NULL;
        for (size_t k = 0; k < sizeof by_verdict / sizeof by_verdict[0]; k++)
            known |= strcmp(by_verdict[k], dd_cause_at(i)->event) == 0;
        if (!known) fail_msg("nobody watches for \"%s\"", dd_cause_at(i)->event);
    }
    free(watched);
}

static const struct {
    const char *story, *event;
    uint64_t facts;
    bool deciding;
    const char *word, *why; /* why: words that the cause must hold */
} stories[] = {
    {"unhooked at the crest on rollers", "runs off", H(LAUNCH) | H(STRAP_OFF) | H(LET_OFF) | H(DRY), true, "ran off",
     "the strap was let off before the boat floated"},
    {"the same, stern first on the slab", "transom touches the ground", H(LAUNCH) | H(STRAP_OFF) | H(LET_OFF) | H(DRY), true, "ran off",
     "the strap was let off before the boat floated"},
    {"winched again from the concrete", "strap over limit", H(RETRIEVE) | H(WINDING) | H(ON_GROUND) | H(DRY), false, "",
     "from the ground"},
    {"and the strap broke", "strap parts", H(RETRIEVE) | H(WINDING) | H(ON_GROUND), true, "strap parted", "from the ground"},
    {"pushed off too early, tipped off the last roller", "transom touches the ground", H(LAUNCH) | H(STRAP_OFF) | H(LET_OFF) | H(PUSHED), true,
     "dropped", "sent off too early"},
    {"pushed over the last roller on a gentle ramp", "runs off", H(LAUNCH) | H(STRAP_OFF) | H(LET_OFF) | H(PUSHED), true, "dropped",
     "sent off too early"},
    {"tipped off the last roller", "transom touches the ground", H(LAUNCH) | H(AFLOAT), true, "dropped", "tipped over the last support"},
    {"hooked up tight, then pulled out", "strap over limit", H(RETRIEVE) | H(PULLING_OUT), false, "", "hooked up tight while it floated"},
    {"driven over the stop", "over the bow stop", H(RETRIEVE) | H(UNDER_POWER), true, "over the bow stop", "driven on too hard"},
    {"bow on the centre beam", "bow scrapes the frame", H(RETRIEVE) | H(WINDING), true, "bow on the frame", "lower than the frame"},
    {"keel beside its rollers, on their member", "rides on the frame", H(RETRIEVE) | H(STREAM) | H(WIND), true, "on the frame", "the stream had set"},
    {"the same in wind", "rides on the frame", H(RETRIEVE) | H(WIND), true, "on the frame", "the wind had set"},
    {"forefoot between skids", "rides on the frame", H(LAUNCH) | H(AFLOAT), true, "on the frame", "no support carried it"},
    {"keel beside its roller, side wind", "on a bracket", H(RETRIEVE) | H(WIND), true, "on a bracket", "the wind had set"},
    {"keel beside its roller, stream", "on a bracket", H(RETRIEVE) | H(WIND) | H(STREAM), true, "on a bracket", "the stream had set"},
    {"missed the guide under power", "between guide and support", H(RETRIEVE) | H(UNDER_POWER), true, "between guide and support",
     "missed the mouth of the guides"},
    {"keel between guide and skid, driven on", "landed outside", H(RETRIEVE) | H(UNDER_POWER) | H(INSIDE_GUIDE) | H(DEEP), true,
     "between guide and support", "driven on off the line"},
    {"too deep, and the wind moved it", "landed outside", H(RETRIEVE) | H(DEEP) | H(WIND), true, "off centre", "too deep"},
    {"old strap, bow nearly home", "strap parts", H(RETRIEVE) | H(WINDING) | H(SHALLOW), true, "strap parted", "greatest near home"},
    {"park lock only", "rig slides", H(RETRIEVE) | H(PARK_LOCK_ONLY), true, "slid", "park lock alone"},
    {"park lock only, boat hooked on and wound in", "rig slides", H(RETRIEVE) | H(PARK_LOCK_ONLY) | H(BOAT_AFT), true, "slid",
     "when the boat's weight came on the trailer"},
    {"boat ran aft, coupling lifted", "rig slides", H(LAUNCH) | H(BOAT_AFT) | H(COUPLING_LIGHT) | H(CHOCKED), true, "slid",
     "the coupling lifted, and the rear tyres lost their load"},
    {"the same on the park lock", "rig slides", H(LAUNCH) | H(BOAT_AFT) | H(COUPLING_LIGHT) | H(PARK_LOCK_ONLY), true, "slid",
     "that the park lock holds"},
    {"stood on the edge of weed, water falling", "rig slides", H(LAUNCH) | H(WEED) | H(FALLING), true, "slid", "while the tyres stood on weed"},
    {"stood on weed", "rig slides", H(RETRIEVE) | H(WEED), true, "slid", "stood on weed"},
    {"ties left on", "coupling lifts", H(LAUNCH) | H(TIES_ON) | H(HALF_AFLOAT), true, "lifted", "the ties were still on"},
    {"ties left on, rig slides", "rig slides", H(LAUNCH) | H(TIES_ON) | H(COUPLING_LIGHT), true, "slid", "the ties were still on"},
    {"stern lifts, coupling light, no ties", "coupling lifts", H(LAUNCH) | H(HALF_AFLOAT), true, NULL, NULL}, /* decides nothing */
    {"tail of a van floats", "vehicle floats", H(LAUNCH) | H(TAIL_FLOATS), true, "vehicle floats", "too far"},
    {"backing driver on weed, outrun by the rig", "vehicle floats", H(LAUNCH) | H(TAIL_FLOATS) | H(SPINS) | H(OUTRUNS), true, "vehicle floats",
     "faster than it was driven"},
    {"tail floats, then slides", "rig slides", H(LAUNCH) | H(TAIL_FLOATS), true, "slid", "tail floated"},
    {"wheel off the toe", "wheel over the toe", H(LAUNCH) | H(BACKING), true, "off the toe", "backed past the toe"},
    {"wheels in a hole, boat just unhooked", "transom touches the ground", H(LAUNCH) | H(STRAP_OFF) | H(HOLE), true, "dropped", "hole"},
    {"too far back", "coupling lifts", H(RETRIEVE) | H(BOAT_AFT), false, "", "too far back"},
    {"swept past by a river", "swept past", H(RETRIEVE) | H(STREAM), true, "swept past", "the stream was stronger"},
    {"cross-member in the ramp", "frame strikes the ground", H(RETRIEVE) | H(PULLING_OUT), true, "frame on the ground", "grade breaks"},
    {"two driven wheels on weed", "stuck", H(RETRIEVE) | H(SPINS), false, "stuck", "wheels spun"},
};

static void stories_find_their_cause(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof stories / sizeof stories[0]; i++) {
        const dd_cause *cause = dd_cause_find(stories[i].event, stories[i].facts, stories[i].deciding);
        if (stories[i].word == NULL) {
            assert_null(cause);
            continue;
        }
        if (cause == NULL || strcmp(cause->word, stories[i].word) != 0 || strstr(cause->why, stories[i].why) == NULL)
            fail_msg("%s: found \"%s\": %s; expected \"%s\": %s", stories[i].story, cause ? cause->word : "nothing",
                     cause ? cause->why : "", stories[i].word, stories[i].why);
    }
}

static dd_result *run_of(const char *name, const char *const *overrides)
{
    dd_case_file *file = NULL;
    dd_error_list list = {0};
    dd_result *result = NULL;
    dd_error error = {0};
    const char *const search[] = {SOURCE_DIR "/scenarios", NULL};
    char path[512];
    snprintf(path, sizeof path, SOURCE_DIR "/scenarios/%s.yaml", name);
    if (dd_case_read(path, overrides, search, &file, &list) != DD_OK) fail_msg("%s: %s", path, list.errors[0].message);
    if (dd_study_run(dd_case_of(file), NULL, NULL, &result, &error) != DD_OK) fail_msg("%s: %s", path, error.message);
    dd_case_free(file);
    dd_error_list_free(&list);
    return result;
}

static void run_and_expect(const char *name, const char *const *overrides, const char *word, const char *words)
{
    dd_result *result = run_of(name, overrides);
    if (strcmp(result->word, word) != 0 || strstr(result->sentence, words) == NULL)
        fail_msg("%s: found \"%s\": %s; expected \"%s\": %s", name, result->word, result->sentence, word, words);
    dd_result_free(result);
}

static const dd_event *event_of(const dd_result *r, const char *name)
{
    for (int i = 0; i < r->event_count; i++)
        if (strcmp(r->events[i].name, name) == 0) return &r->events[i];
    return NULL;
}

/* A boat whose centre stands 2.8 m above its keel, over its metacentre, is not held upright once its stern has lifted; a heel grows e-fold in no less than
   sqrt(h / g) (closed form: a point mass that balances on its keel). Boats that their beds hold are not said to heel: not for the moment in which a
   support lets go, nor while they slide on skids, whose friction turns a boat that heels but does not heel one that turns. */
static void heel_is_told_where_it_grows(void **state)
{
    (void)state;
    const char *const high[] = {"boat.centre height=2.8 m", NULL};
    const char *const held[] = {"launch", "retrieve", "rigs/five-skid-launch", "rigs/four-multi-roller-retrieve"};
    dd_result *r = run_of("launch", high);
    const dd_event *told = event_of(r, "not held upright"), *lifts = event_of(r, "stern lifts"), *afloat = event_of(r, "afloat");
    assert_true(told != NULL && lifts != NULL && afloat != NULL);
    assert_true(told->value >= sqrt(2.8 / DD_STANDARD_GRAVITY) && told->time - told->value >= lifts->time && told->time <= afloat->time);
    assert_string_equal(told->value_unit, "s");
    dd_result_free(r);
    for (size_t i = 0; i < sizeof held / sizeof held[0]; i++) {
        r = run_of(held[i], NULL);
        if (event_of(r, "not held upright") != NULL) fail_msg("%s: %s", held[i], event_of(r, "not held upright")->detail);
        for (int e = 0; e < r->event_count; e++) /* what a search for a root leaves is 0 */
            if (strstr(r->events[e].detail, "e-") != NULL) fail_msg("%s: %s", held[i], r->events[e].detail);
        dd_result_free(r);
    }
}

/* The facts as a run sees them. */
static void runs_find_their_cause(void **state)
{
    (void)state;
    const char *const crest[] = {"procedure=[{let strap off: {}}, {wait: {until: {after: 10 s}}}]", NULL};
    run_and_expect("launch", crest, "ran off", "the strap was let off before the boat floated");
    const char *const weak[] = {"trailer.winch.strap break strength=1.5 kN", NULL};
    run_and_expect("retrieve", weak, "strap parted", "near home");
    const char *const slippery[] = {"ramp.surfaces=[{name: weed, friction low: 0.05, friction high: 0.08}]", NULL};
    run_and_expect("launch", slippery, "vehicle floats", "faster than it was driven");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_row_can_be_reached), cmocka_unit_test(words_are_short),
                                       cmocka_unit_test(every_event_is_watched), cmocka_unit_test(stories_find_their_cause),
                                       cmocka_unit_test(runs_find_their_cause), cmocka_unit_test(heel_is_told_where_it_grows)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
