/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/model.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/case/case.h"
#include "lib/crew/steps.h"
#include "lib/force/roller.h"
#include "lib/shore/shore.h"
#include "lib/study/observe.h"
#include <stdlib.h>
#include <string.h>

enum { STRIPS_PER_BAY = 5 };

static const void *force_parameters(const void *context, int index) { return dd_case_force_parameters(context, index); }

static dd_status make_parts(dd_study_model *m, dd_error *error)
{
    dd_status status = dd_hull_create(&m->scenario.boat, &m->hull, error);
    if (status == DD_OK) status = dd_strips_create(m->hull, STRIPS_PER_BAY, &m->strips, error);
    if (status == DD_OK) status = dd_rig_create(&m->scenario.vehicle, &m->scenario.trailer, &m->rig, error);
    if (status == DD_OK) status = dd_ramp_create(&m->scenario.ramp, &m->ramp, error);
    if (status == DD_OK)
        status = dd_water_take_tide(&m->scenario.water, m->scenario.ramp.datum, m->scenario.water.held ? 0 : m->scenario.time_limit, error);
    if (status == DD_OK) status = dd_water_complete(&m->scenario.water, error);
    if (status == DD_OK) status = dd_water_meet(&m->scenario.water, m->ramp, m->scenario.gravity, error);
    return status;
}

/* Winding goes at the winch's own speed where the step does not say. */
static void fill_speeds(dd_study_model *m)
{
    for (int i = 0; i < m->scenario.step_count; i++)
        if ((m->scenario.steps[i].kind == DD_STEP_WIND_IN || m->scenario.steps[i].kind == DD_STEP_TAKE_UP_SLACK) &&
            isnan(m->scenario.steps[i].speed))
            m->scenario.steps[i].speed = m->rig->trailer.winch.speed;
}

static dd_status make_system(dd_study_model *m, const dd_study_model *beside, dd_error *error)
{
    const char *without[DD_WITHOUT + 3] = {NULL};
    int out = 0;
    for (; out < m->scenario.without_count && out < DD_WITHOUT; out++) without[out] = m->scenario.without[out];
    /* what nobody uses costs nothing */
    if (!dd_case_uses_engine(&m->scenario)) without[out++] = dd_force_thrust.name;
    if (!dd_case_uses_hand_line(&m->scenario)) without[out++] = dd_force_hand_line.name;
    m->model.hull = m->hull;
    m->model.rig = m->rig;
    m->model.ramp = m->ramp;
    m->model.strips = m->strips;
    m->model.gravity = m->scenario.gravity;
    dd_water_copy(&m->model.water, &m->scenario.water);
    dd_status status = dd_system_create_beside(&m->model, without, force_parameters, &m->scenario, beside != NULL ? beside->system : NULL, &m->system, error);
    if (status == DD_OK) status = dd_workspace_create(m->system, &m->workspace, error);
    if (status != DD_OK) return status;
    m->workspace->plan.brake.from = m->workspace->plan.brake.to = 1.0;
    m->memory = calloc((size_t)m->system->memory_count + 1, sizeof(double));
    m->map = dd_seen_map_create(m->system);
    if (m->memory == NULL || m->map == NULL)
        return dd_fail(error, DD_ERROR_MEMORY, "dd_study_model_create", "no memory for the friction states");
    return DD_OK;
}

static void leave_out(dd_case *scenario, const char *force)
{
    if (scenario->without_count < DD_WITHOUT) dd_text(scenario->without[scenario->without_count++], sizeof scenario->without[0], "%s", force);
}

void dd_study_make_still(dd_case *scenario, const char *const *also, bool moves)
{
    static const char *const of_motion[] = {"added mass", "cross flow", "rig drag", "resistance", "wave damping"};
    dd_water *w = &scenario->water;
    w->current = w->rise = 0;
    w->level_count = w->knot_count = 0;
    w->held = 1;
    w->surge.height = w->wave.height = w->wind.speed = 0;
    for (size_t i = 0; i < sizeof of_motion / sizeof of_motion[0] - (moves ? 2 : 0); i++) leave_out(scenario, of_motion[i]);
    for (; also != NULL && *also != NULL; also++) leave_out(scenario, *also);
}

dd_status dd_study_model_create(const dd_case *scenario, dd_study_model **model, dd_error *error)
{
    return dd_study_model_create_beside(scenario, NULL, model, error);
}

dd_status dd_study_model_create_beside(const dd_case *scenario, const dd_study_model *beside, dd_study_model **result, dd_error *error)
{
    *result = NULL;
    if (scenario->cookie != sizeof *scenario)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_case: cookie",
                       "the scenario was not filled by dd_case_defaults of this version");
    if (!scenario->on_ramp)
        return dd_fail(error, DD_ERROR_UNSET, "action",
                       "the scenario has no action, ramp, water and procedure; expected them for a study on the ramp");
    dd_study_model *m = calloc(1, sizeof *m);
    if (m == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_model_create", "no memory for the scenario");
    dd_case_copy(&m->scenario, scenario);
    dd_status status = make_parts(m, error);
    if (status == DD_OK) fill_speeds(m);
    if (status == DD_OK) status = make_system(m, beside, error);
    if (status != DD_OK) {
        dd_study_model_free(m);
        return status;
    }
    *result = m;
    return DD_OK;
}

void dd_study_model_free(dd_study_model *m)
{
    if (m == NULL) return;
    free(m->memory);
    free(m->map);
    dd_workspace_free(m->workspace);
    dd_system_free(m->system);
    dd_strips_free(m->strips);
    dd_ramp_free(m->ramp);
    dd_rig_free(m->rig);
    dd_hull_free(m->hull);
    free(m);
}

int dd_study_rearmost_roller(const dd_rig *rig)
{
    int rearmost = -1;
    for (int i = 0; i < rig->roller_count; i++)
        if (rearmost < 0 || rig->rollers[i].centre.x > rig->rollers[rearmost].centre.x) rearmost = i;
    return rearmost;
}

int dd_study_rearmost_axle(const dd_rig *rig)
{
    int rearmost = 0;
    for (int i = 1; i < rig->trailer.axle_count; i++)
        if (rig->axle[i].x > rig->axle[rearmost].x) rearmost = i;
    return rearmost;
}

dd_vec3 dd_study_rearmost_hub(const dd_rig *rig) { return rig->axle[dd_study_rearmost_axle(rig)]; }

double dd_study_depth(const dd_study_model *m, const dd_kinematics *k, dd_vec3 point)
{
    return dd_water_surface_at(&m->model.water, point.x, k->time).level - point.z;
}

double dd_study_hub_depth(const dd_study_model *m, const dd_kinematics *k)
{
    return dd_study_depth(m, k, dd_chassis_point(k, dd_study_rearmost_hub(m->rig)));
}

double dd_study_rear_support_depth(const dd_study_model *m, const dd_kinematics *k)
{
    int rearmost = dd_study_rearmost_roller(m->rig);
    if (rearmost < 0) return NAN;
    const dd_roller *roller = &m->rig->rollers[rearmost];
    dd_vec3 top = dd_add(roller->centre, dd_vec(0, 0, roller->radius));
    return dd_study_depth(m, k, dd_trailer_point(k, top));
}

double dd_study_keel_clearance(const dd_study_model *m, const dd_kinematics *k)
{
    enum { PLACES = 9 };
    double first, last, least = INFINITY;
    dd_hull_extent(m->hull, &first, &last);
    for (int i = 0; i < PLACES; i++) {
        double x = first + (last - first) * i / (PLACES - 1);
        dd_vec3 keel = dd_hull_point(k, dd_vec(x, 0, dd_hull_keel(m->hull, x).z));
        least = fmin(least, keel.z - dd_ramp_at(m->ramp, keel.x).z);
    }
    return least;
}

double dd_study_distance_clear(const dd_study_model *m, const dd_kinematics *k)
{
    int rearmost = dd_study_rearmost_roller(m->rig);
    dd_vec3 eye = dd_add(k->pose.position, dd_apply(&k->to_trailer, dd_hull_bow_eye(m->hull)));
    return eye.x - (rearmost < 0 ? 0.0 : m->rig->rollers[rearmost].centre.x);
}
