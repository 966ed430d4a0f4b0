/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/force/support_rigs.h"
#include "lib/rig/support/support.h"
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>
#include <string.h>

const char *const support_rig_names[] = {"across", "along", "rocker", "skids", "swinging skids", "keel skid", "flanged", "cupped", NULL};

dd_support support_for(int kind, double deadrise)
{
    dd_support s;
    memset(&s, 0, sizeof s);
    dd_support_defaults(&s, kind);
    s.behind_coupling = 4.5;
    s.above_ground = 0.45; /* the fixture's coupling height */
    s.half_spacing = 0.4;
    s.half_spacing_count = 2;
    s.half_spacings[0] = 0.3, s.half_spacings[1] = 0.55;
    s.deadrise = deadrise;
    if (kind == DD_SUPPORT_ROCKER) {
        s.above_ground -= 0.1;
        s.height_setting_count = 3;
        for (int i = 0; i < 3; i++) s.height_settings[i] = 0.1 + 0.04 * i;
    }
    if (kind == DD_SUPPORT_SKID) s.length = 2;
    return s;
}

void support_place(dd_rig *rig, const dd_support *support)
{
    dd_error error;
    const int index = rig->trailer.support_count++;
    rig->trailer.supports[index] = *support;
    if (dd_support_kind_at(support->kind)->place(support, index, rig, &error) != DD_OK)
        fail_msg("%s: %s", error.place, error.message);
}

static void keel_rollers(dd_rig *rig, int shape)
{
    for (int i = 0; i < 5; i++) {
        dd_support s = support_for(DD_SUPPORT_KEEL_ROLLER, 0);
        s.behind_coupling = 2 + 0.8 * i;
        s.width = 0.12;
        s.shape = shape;
        support_place(rig, &s);
    }
}

void support_rig(dd_rig *rig, const char *name, double deadrise)
{
    fixture_rig(rig);
    dd_support s = support_for(strcmp(name, "rocker") == 0 ? DD_SUPPORT_ROCKER : strstr(name, "skid") ? DD_SUPPORT_SKID : DD_SUPPORT_CRADLE,
                               deadrise);
    if (strcmp(name, "flanged") == 0 || strcmp(name, "cupped") == 0) {
        keel_rollers(rig, name[0] == 'f' ? DD_SHAPE_FLANGED : DD_SHAPE_CUPPED);
        return;
    }
    if (strcmp(name, "across") == 0) s.pivot = DD_PIVOT_ACROSS;
    if (strcmp(name, "along") == 0) s.pivot = DD_PIVOT_ALONG;
    if (strcmp(name, "swinging skids") == 0) s.pivot_travel = 0.1;
    if (strcmp(name, "keel skid") == 0) s.under = DD_UNDER_KEEL;
    support_place(rig, &s);
    if (s.kind == DD_SUPPORT_SKID) return;
    s = support_for(DD_SUPPORT_CRADLE, deadrise); /* a fixed one before it */
    s.behind_coupling = 3;
    support_place(rig, &s);
}

static dd_kinematics standing(const fixture_force *force, const fixture_state *state)
{
    dd_model still = force->model;
    still.rig = NULL;
    dd_motion motion = {{0}, {0}};
    dd_kinematics k;
    dd_kinematics_of(&still, 0, &state->pose, &motion, &k);
    return k;
}

void support_rest(const fixture_force *force, fixture_state *state)
{
    dd_kinematics k = standing(force, state);
    force->kind->rest(force->instance, &k, &state->commands, state->memory);
}

void support_wrench(const fixture_force *force, const fixture_state *state, dd_vec3 *sum, dd_vec3 *moment)
{
    dd_kinematics k = standing(force, state);
    fixture_result r = fixture_evaluate(force, state);
    *sum = dd_apply(&k.to_trailer, dd_vec(r.load.hull[0], r.load.hull[1], r.load.hull[2]));
    *moment = dd_add(dd_apply(&k.to_trailer, dd_vec(r.load.hull[3], r.load.hull[4], r.load.hull[5])),
                     dd_cross(k.pose.position, *sum));
}
