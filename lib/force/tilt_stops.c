/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stops of a tilting bed at no tilt and at the most. Turned into by u a stop gives the moment M = S(k u + chi c u') with the onset
   S and the fading chi of an axle's load (lib/force/axles_contact.c): it never pulls. Between the stops the hinge turns freely;
   latched, the tilt is held and the stops carry nothing. */
#include "lib/force/draw.h"
#include "lib/force/smooth.h"
#include "lib/base/error.h"
#include <stdlib.h>

#define SOFT_SHARE 0.02  /* of the rated moment, over which the moment sets in */
#define DAMPED_SHARE 0.2 /* of the rated squash, over which the damping sets in */

typedef struct stops_instance {
    double most, stiffness, damping, moment, squash;
} stops_instance;

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    (void)parameters;
    *instance = NULL;
    if (model->rig == NULL || !model->rig->tilts) return DD_OK;
    stops_instance *made = malloc(sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "tilt stops", "no memory for the stops of the tilting frame");
    const dd_tilt_parameters *t = &model->rig->trailer.tilt;
    *made = (stops_instance){t->most_tilt, model->rig->stop_stiffness, model->rig->stop_damping, t->stop_moment, t->stop_squash};
    *instance = made;
    return DD_OK;
}

enum { TILT, MOMENT, CHANNELS };
static const dd_channel channels_of[] = {
    {"tilt_deg", "deg", "tilt of the bed against the chassis, > 0 rear end down"},
    {"tilt_stop_moment_Nm", "Nm", "moment of the stops on the bed, > 0 rear end down: the stop at no tilt pushes"},
    {0}};

typedef struct stop {
    double moment, by_squash, by_rate, energy, elastic;
} stop;

/* S(F) = F (2 u - u^2), u = F / F0, below F0; F above; 0 below 0: as of an axle (axles_contact.c). */
static dd_smooth set_in(double force, double soft)
{
    if (force <= 0) return (dd_smooth){0, 0, 0};
    if (force >= soft) return (dd_smooth){force, 1, 0};
    double u = force / soft;
    return (dd_smooth){force * u * (2 - u), u * (4 - 3 * u), 0};
}

static stop stop_at(const stops_instance *s, double squash, double rate)
{
    const double soft = SOFT_SHARE * s->moment, width = DAMPED_SHARE * s->squash, elastic = s->stiffness * squash;
    dd_smooth fade = dd_smooth_step(squash / width);
    dd_smooth all = set_in(elastic + s->damping * fade.value * rate, soft);
    stop r = {.moment = all.value, .elastic = set_in(elastic, soft).value};
    r.by_squash = all.slope * (s->stiffness + s->damping * fade.slope / width * rate);
    r.by_rate = all.slope * s->damping * fade.value;
    double u = elastic / soft;
    if (u >= 1)
        r.energy = (soft * soft * 5.0 / 12 + (elastic * elastic - soft * soft) / 2) / s->stiffness;
    else if (u > 0)
        r.energy = soft * soft / s->stiffness * u * u * u * (2.0 / 3 - u / 4);
    return r;
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)memory;
    const stops_instance *s = instance;
    const double tilt = k->pose.rig[DD_RIG_TILT], rate = k->motion.rig[DD_RIG_TILT];
    if (channels != NULL) {
        channels[TILT] = tilt * 180 / acos(-1.0);
        channels[MOMENT] = 0;
    }
    if (!commands->unlatched) return;
    stop down = stop_at(s, -tilt, -rate), up = stop_at(s, tilt - s->most, rate);
    load->rig[DD_RIG_TILT] = down.moment - up.moment;
    load->energy = down.energy + up.energy;
    load->heat = -(down.moment - down.elastic) * rate + (up.moment - up.elastic) * rate;
    if (gradient != NULL) {
        gradient->rig_K[DD_RIG_TILT][DD_RIG_TILT] = down.by_squash + up.by_squash;
        gradient->rig_D[DD_RIG_TILT][DD_RIG_TILT] = down.by_rate + up.by_rate;
    }
    if (channels != NULL) channels[MOMENT] = load->rig[DD_RIG_TILT];
}

static void draw(double tilt, double (*uniform)(void *), void *random, dd_pose *pose, dd_motion *motion, dd_commands *commands)
{
    *pose = (dd_pose){.attitude = {0, 0, 0, 1}};
    *motion = (dd_motion){{0}, {0}};
    *commands = (dd_commands){.unlatched = 1};
    pose->rig[DD_RIG_X] = dd_draw(uniform, random, -10, 20);
    pose->rig[DD_RIG_PITCH] = dd_draw(uniform, random, 0, 0.15);
    pose->rig[DD_RIG_TILT] = tilt;
    motion->rig[DD_RIG_TILT] = dd_draw(uniform, random, -0.5, 0.5);
}

static void draw_down(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                      dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)model;
    (void)memory;
    const stops_instance *s = instance;
    draw(-dd_draw(uniform, random, 0.01, 1) * s->squash, uniform, random, pose, motion, commands);
}

static void draw_tilted(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                        dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)model;
    (void)memory;
    const stops_instance *s = instance;
    draw(s->most + dd_draw(uniform, random, 0.01, 1) * s->squash, uniform, random, pose, motion, commands);
}

static void draw_between(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                         dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)model;
    (void)memory;
    const stops_instance *s = instance;
    draw(dd_draw(uniform, random, 0.05, 0.95) * s->most, uniform, random, pose, motion, commands);
}

static const dd_regime regimes[] = {{"down", draw_down}, {"tilted", draw_tilted}, {"clear", draw_between}, {0}};
static const char *const sources[] = {"elementary mechanics", "design memory", NULL};

const dd_force_kind dd_force_tilt_stops = {.name = "tilt stops",
                                           .help = "stops of the tilting bed",
                                           .formula = "M = S(k u + chi c u') when the bed turns into its stop by u; nothing between the stops",
                                           .valid = "a bed that is free or latched; the hinge has no friction",
                                           .covered_by = "tests/unit/study/test_tilting_frame.c",
                                           .acts_on = DD_ACTS_ON_RIG,
                                           .passive = 1,
                                           .sources = sources,
                                           .channels = channels_of,
                                           .prepare = prepare,
                                           .free = free,
                                           .evaluate = evaluate,
                                           .regimes = regimes};
