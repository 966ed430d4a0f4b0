/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trailers that cannot carry this boat are refused with the key and the figure. Closed form: places are compared exactly. */
#include "tests/property/scenarios.h"

static void refuse(const char *scenario, const char *override, const char *place, const char *figure)
{
    const char *const overrides[] = {override, NULL};
    dd_case *c = scenario_read(scenario, overrides);
    dd_run *run = NULL;
    dd_error error = {.status = DD_OK};
    assert_int_equal(dd_run_create(c, &run, &error), DD_ERROR_ARGUMENT);
    assert_null(run);
    if (strstr(error.place, place) == NULL || strstr(error.message, figure) == NULL)
        fail_msg("%s: %s; expected %s and %s", error.place, error.message, place, figure);
    free(c);
}

/* Transom at 1.35 + 4.895 m or a little less, as the boat lies; the foremost of four rows 420 mm apart stands at 6.57 m. */
static void support_behind_the_transom(void **state)
{
    (void)state;
    refuse("launch", "trailer.supports[rear cradle].behind coupling=7.2 m", "supports[1] rear cradle: behind coupling", "m behind the transom");
}

static void guide_within_the_chine(void **state)
{
    (void)state;
    refuse("rigs/five-keel-roller-stream-launch", "trailer.supports[guide posts].half spacing=700 mm", "half spacing", "stands at 700 mm");
}

static void bow_past_its_stop(void **state)
{
    (void)state;
    refuse("retrieve", "trailer.bow stop.above ground=0.5 m", "bow stop", "0.50 m");
}

static void strap_too_short_for_home(void **state)
{
    (void)state;
    refuse("launch", "forces.strap.strap length=0.2 m", "strap length", "0.2");
}

static void depth_that_the_ramp_has_not(void **state)
{
    (void)state;
    refuse("launch", "procedure[1].until.hub depth=19 m", "hub depth", "19");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(support_behind_the_transom),  cmocka_unit_test(guide_within_the_chine),
        cmocka_unit_test(bow_past_its_stop),           cmocka_unit_test(strap_too_short_for_home),
        cmocka_unit_test(depth_that_the_ramp_has_not),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
