/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/feasible.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/crew/steps.h"
#include "lib/force/strap.h"
#include "lib/study/start.h"

static bool goes_down(const dd_step *step)
{
    return step->kind == DD_STEP_BACK_DOWN || step->kind == DD_STEP_LOWER || step->kind == DD_STEP_WAIT;
}

/* Another condition of the same step may come first. */
static bool is_only_condition(const dd_until *u)
{
    return isnan(u->rear_support_depth) && isnan(u->after) && isnan(u->distance_clear) && isnan(u->bow_distance) &&
           isnan(u->distance) && isnan(u->trailer_distance) && u->afloat != 1 && u->captured != 1 && u->clear_of_rollers != 1 &&
           u->at_the_stop != 1;
}

static bool level_stands(const dd_water *water)
{
    return water->rise == 0 && water->level_count == 0 && water->knot_count == 0 && !(water->surge.height > 0) && !(water->wave.height > 0);
}

static dd_status check_depth(const dd_study_model *m, int i, dd_error *error)
{
    const dd_step *step = &m->scenario.steps[i];
    const double depth = step->until.hub_depth;
    if (isnan(depth) || !goes_down(step) || step->distance > 0 || !is_only_condition(&step->until)) return DD_OK;
    double x;
    dd_error why;
    if (dd_study_position(m, depth, &x, &why) == DD_OK) return DD_OK;
    char place[96];
    dd_text(place, sizeof place, "procedure[%d].%s.until.hub depth", i + 1, dd_step_name(step->kind));
    return dd_fail(error, DD_ERROR_ARGUMENT, place, "found %g m: %s", depth, why.message);
}

dd_status dd_study_feasible(const dd_study_model *m, double strap_length, dd_error *error)
{
    const dd_order_fault fault = dd_order_check(&m->scenario);
    if (fault.step >= 0) {
        char place[32];
        dd_text(place, sizeof place, "procedure[%d]", fault.step + 1);
        return dd_fail(error, DD_ERROR_ARGUMENT, place, "%s", fault.text);
    }
    for (int i = 0; level_stands(&m->model.water) && i < m->scenario.step_count; i++) {
        dd_status status = check_depth(m, i, error);
        if (status != DD_OK) return status;
    }
    if (!(strap_length > 0)) return DD_OK;
    const dd_pose home = dd_study_home_pose(m, 0);
    const double way = dd_strap_distance(&m->model, &home);
    if (way <= strap_length) return DD_OK;
    return dd_fail(error, DD_ERROR_ARGUMENT, "forces.strap.strap length",
                   "found %.2f m, expected at least the %.2f m from the winch to the bow eye with the boat at home", strap_length,
                   way);
}
