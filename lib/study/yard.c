/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/yard.h"
#include "lib/base/error.h"
#include "lib/case/case.h"
#include <math.h>
#include <stdlib.h>

enum { REACH_OF_GROUND = 500, NO_WATER = -100 }; /* m either way of where the rig stands; level, m */

dd_status dd_yard_create(const dd_case *scenario, double slope, dd_study_model **model, dd_error *error)
{
    *model = NULL;
    dd_case *yard = malloc(sizeof *yard);
    if (yard == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_yard_create", "no memory for the scenario");
    dd_case_copy(yard, scenario);
    yard->on_ramp = 1;
    yard->action = DD_ACTION_LAUNCH;
    yard->step_count = 0;
    dd_ramp_defaults(&yard->ramp);
    yard->ramp.point_count = 2;
    for (int i = 0; i < 2; i++) {
        yard->ramp.points[i].x = i == 0 ? -REACH_OF_GROUND : REACH_OF_GROUND;
        yard->ramp.points[i].z = -slope * yard->ramp.points[i].x;
    }
    dd_water_defaults(&yard->water);
    yard->water.level = NO_WATER;
    dd_status status = dd_study_model_create(yard, model, error);
    free(yard);
    return status;
}

/* As the scenario gives it: straight, keel level with the trailer's frame unless a trim is given. */
static dd_placement given_place(const dd_case *scenario)
{
    const dd_placed *p = &scenario->placed;
    const double half = 0.5 * (isnan(p->trim) ? 0 : p->trim);
    const dd_quaternion lying = dd_quaternion_multiply((dd_quaternion){0, 0, 0, 1}, (dd_quaternion){cos(half), 0, sin(half), 0});
    return (dd_placement){.origin = dd_vec(p->transom_behind_coupling, 0, p->keel_above_ground - scenario->trailer.coupling_height),
                          .to_trailer = dd_rotation_of(lying)};
}

dd_status dd_yard_place(const dd_case *scenario, dd_placement *placement, dd_error *error)
{
    if (isfinite(scenario->placed.transom_behind_coupling)) {
        *placement = given_place(scenario);
        return DD_OK;
    }
    dd_study_model *m;
    dd_equilibrium home = {0};
    dd_status status = dd_yard_create(scenario, 0, &m, error);
    if (status != DD_OK) return status;
    status = dd_study_home(m, 0, DD_FRICTION_NONE, m->memory, &home, error);
    if (status == DD_OK)
        *placement = (dd_placement){.origin = home.pose.position, .to_trailer = dd_rotation_of(home.pose.attitude)};
    dd_study_model_free(m);
    return status;
}

dd_vec3 dd_placed_point(const dd_placement *placement, dd_vec3 in_boat)
{
    return dd_add(placement->origin, dd_apply(&placement->to_trailer, in_boat));
}

dd_vec3 dd_point_in_boat(const dd_placement *placement, dd_vec3 in_trailer)
{
    return dd_apply_transposed(&placement->to_trailer, dd_sub(in_trailer, placement->origin));
}
