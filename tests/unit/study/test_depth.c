/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `depth`: closed forms on a plane ramp, trends, and what it refuses. */
#include "lib/study/depth.h"
#include "tests/unit/study/reports.h"

static double hub(const dd_depth_place *place) { return place->look.seen.v[DD_SEEN_HUB_DEPTH]; }

static void found(const dd_case *scenario, double level, dd_depth *d, dd_depth_band *band)
{
    dd_error error;
    if (dd_depth_open(scenario, level, NULL, d, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    if (dd_depth_find(d, band, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
}

/* On a plane slab a higher level shifts everything inshore by the rise over the slope, and changes no depth: but for the end that the toe
   makes (closed form). */
static void a_level_shifts_the_rig_along_a_plane_ramp(void **state)
{
    (void)state;
    static dd_depth low, high;
    static dd_depth_band at_low, at_high;
    dd_case_file *file = scenario_with("scenarios/launch.yaml", NULL);
    found(dd_case_of(file), 1.0, &low, &at_low);
    found(dd_case_of(file), 1.16, &high, &at_high);
    assert_true(at_low.works && at_high.works);
    NEAR(hub(&at_high.least), hub(&at_low.least), 2e-3);
    NEAR(hub(&at_high.most), hub(&at_low.most), 2e-3);
    NEAR(hub(&at_high.best), hub(&at_low.best), 2e-3);
    NEAR(at_low.best.look.x - at_high.best.look.x, 0.16 * 8, 0.01);
    assert_int_equal(at_low.most.binds, DD_END_EXHAUST);
    dd_depth_close(&low);
    dd_depth_close(&high);
    dd_case_free(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_level_shifts_the_rig_along_a_plane_ramp),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
