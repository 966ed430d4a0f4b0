/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A helper ashore who pulls on a line to the bow eye or to a stern cleat, with a set force toward where he stands: F d / sqrt(d^2
   + e^2), d the way from cleat to helper and e 0.2 m, so that a boat right before him is not pulled at all. He works: not
   passive. Held in the world, the line turns in boat axes as the hull turns. */
#include "lib/base/error.h"
#include "lib/force/draw.h"
#include "lib/force/water.h"
#include <stdlib.h>

static const double nearest = 0.2; /* m */

typedef struct hand_line {
    dd_vec3 cleat[DD_LINE_ENDS];
} hand_line;

enum { FORCE, LENGTH, CHANNELS };

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)memory;
    const hand_line *h = instance;
    const double pull = commands != NULL ? commands->hand_line_force : 0;
    const int end = commands != NULL ? commands->hand_line_to : 0;
    if (channels != NULL) channels[FORCE] = channels[LENGTH] = 0;
    if (pull <= 0) return;
    const dd_vec3 at = h->cleat[end], helper = dd_vec(commands->hand_line_at[0], commands->hand_line_at[1], commands->hand_line_at[2]);
    const dd_vec3 way = dd_apply_transposed(&k->to_world, dd_sub(helper, dd_hull_point(k, at)));
    const double reach = sqrt(dd_dot(way, way) + nearest * nearest), scale = pull / reach;
    if (channels != NULL) channels[FORCE] = scale * dd_norm(way), channels[LENGTH] = dd_norm(way);
    dd_wrench_add(load->hull, dd_scale(scale, way), at);
    for (int i = 0; i < 6; i++) load->heat -= load->hull[i] * k->motion.twist[i];
    for (int j = 0; gradient != NULL && j < 6; j++) {
        const dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
        /* the way in boat axes: shorter by the cleat's move, turned by the hull's turn */
        const dd_vec3 moved = j < 3 ? dd_scale(-1, e) : dd_sub(dd_cross(way, e), dd_cross(e, at));
        const double longer = dd_dot(way, moved) / reach;
        double change[6] = {0};
        dd_wrench_add(change, dd_scale(scale, dd_sub(moved, dd_scale(longer / reach, way))), at);
        for (int i = 0; i < 6; i++) gradient->K[i][j] = -change[i];
    }
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    (void)parameters;
    *instance = NULL;
    if (model->hull == NULL) return DD_OK;
    hand_line *made = malloc(sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "hand line force", "no memory for %zu bytes", sizeof *made);
    double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    const int points = dd_hull_section(model->hull, 0, y, z);
    const double aside = y[points - 1], height = z[points - 1];
    made->cleat[DD_LINE_TO_BOW] = dd_hull_bow_eye(model->hull);
    made->cleat[DD_LINE_TO_PORT_CLEAT] = dd_vec(0, aside, height);
    made->cleat[DD_LINE_TO_STARBOARD_CLEAT] = dd_vec(0, -aside, height);
    *instance = made;
    return DD_OK;
}

static void draw_pulled(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                        dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)instance, (void)memory;
    dd_draw_afloat(model, 0.2, 0.1, 0.5, uniform, random, pose, motion);
    *commands = (dd_commands){.hand_line_force = dd_draw(uniform, random, 20, 300), .hand_line_to = (int)(2.999 * uniform(random))};
    for (int i = 0; i < 3; i++) commands->hand_line_at[i] = dd_draw(uniform, random, -3, 3);
}
static const dd_regime regimes[] = {{"pulled", draw_pulled}, {NULL, NULL}};
static const char *const sources[] = {"elementary mechanics", NULL};
static const dd_channel line_channels[CHANNELS + 1] = {[FORCE] = {"hand_line_N", "N", "a helper's pull on the hand line"},
                                                       [LENGTH] = {"hand_line_length_m", "m", "from the cleat to the helper's hand"}};

const dd_force_kind dd_force_hand_line = {
    .name = "hand line",
    .help = "a helper ashore pulling on a line to the bow or to a stern cleat",
    .formula = "F d / sqrt(d^2 + e^2) from cleat to hand, e = 0.2 m",
    .valid = "a helper who stands still and holds the force that is asked",
    .covered_by = "tests/unit/force/test_thrust.c",
    .acts_on = DD_ACTS_ON_HULL,
    .sources = sources,
    .channels = line_channels,
    .prepare = prepare,
    .free = free,
    .evaluate = evaluate,
    .regimes = regimes,
};
