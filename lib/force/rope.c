/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rope between vehicle and uncoupled trailer: tension as in lib/force/taut.h, k = rigidity / (length + what is round the
   bar and in the hand).

   Made fast its length is given. Round a bar, its end in a hand: with the turns' ratio r = exp(mu 2 pi n) the hand's hold H
   carries H r; beyond that the rope slips, and what has been paid out is the rope's memory p:
       dp/dt = slip speed x P(T / (H r) - 1), P(x) = max(x, 0) rounded over 0.02,
   so that a steady trailer hangs on little more than H r. T dp/dt goes into bar and hand as heat. */
#include "lib/force/rope.h"
#include "lib/force/draw.h"
#include "lib/base/error.h"
#include <stdlib.h>

static const double slip_speed = 10; /* m/s at twice what the hand carries: a tenth more for each m/s */
static const double slip_rounding = 0.02;

typedef struct rope_instance {
    const dd_rig *rig;
    double carried; /* N by the hand through the turns; 0: made fast */
} rope_instance;

double dd_capstan_ratio(double turns, double friction) { return exp(friction * 2 * acos(-1.0) * turns); }

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    (void)parameters;
    *instance = NULL;
    if (model->rig == NULL || !(model->rig->rope_rigidity > 0)) return DD_OK;
    rope_instance *made = calloc(1, sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "rope", "no memory for the rope");
    const dd_rope_parameters *rope = &model->rig->trailer.rope;
    made->rig = model->rig;
    if (rope->turns > 0) made->carried = rope->hand_hold * dd_capstan_ratio(rope->turns, rope->bar_friction);
    *instance = made;
    return DD_OK;
}

static int memory_count(const void *instance) { return ((const rope_instance *)instance)->carried > 0 ? 1 : 0; }
static double memory_scale(const void *instance, int index)
{
    (void)instance;
    (void)index;
    return 2e-3; /* slipping is quick: what tension the rope has hangs on a hair of its length */
}

enum { TENSION, HAND, PAID, CHANNELS };
static const dd_channel channels_of[] = {
    {"rope_tension_N", "N", "tension of the rope between vehicle and trailer"},
    {"rope_hand_force_N", "N", "what the hand holds at the rope's end behind its turns; made fast: the tension"},
    {"rope_paid_out_m", "m", "rope let out round the bar since the start"},
    {0}};

/* Tension first with the rope fast, then with what slips: the damping sees the slip, so that both are found together. */
static double slip(const rope_instance *r, const dd_rope_pull *p, double *by_tension)
{
    dd_smooth over = dd_smooth_positive(p->tension / r->carried - 1, slip_rounding);
    *by_tension = slip_speed * over.slope / r->carried;
    return slip_speed * over.value;
}

static void remember(const rope_instance *r, const dd_rope_pull *p, double rate, double by_tension, const dd_memory *memory)
{
    if (!(r->carried > 0)) return;
    memory->rate[0] = rate;
    if (memory->rate_by_value == NULL) return;
    memory->rate_by_value[0] = by_tension * p->tension_by_length;
    if (!(p->tension > 0)) return;
    const double reach = p->on_reach.v, heave = p->on_heave.v, size = fmax(hypot(reach, heave), 1e-300);
    for (int c = 0; c < DD_RIG_COORDINATES; c++) {
        /* the tension's change is that of the pull, whose size it is */
        memory->rate_by_rig[0][c] = by_tension * (reach * p->on_reach.d[DD_JET_RATE + c] + heave * p->on_heave.d[DD_JET_RATE + c]) / size;
        if (memory->rate_by_place) memory->rate_by_place[0][c] = by_tension * (reach * p->on_reach.d[c] + heave * p->on_heave.d[c]) / size;
    }
    memory->rig_by_value[0][DD_RIG_REACH] = reach / p->tension * p->tension_by_length;
    memory->rig_by_value[0][DD_RIG_HEAVE] = heave / p->tension * p->tension_by_length;
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    const rope_instance *r = instance;
    const double paid = r->carried > 0 ? memory->value[0] : 0;
    if (channels != NULL) channels[TENSION] = channels[HAND] = 0, channels[PAID] = paid;
    if (!commands->rope_hooked) return;
    const double length = fmax(r->rig->trailer.rope.length + paid, 0.05);
    double by_tension = 0;
    dd_rope_pull p = dd_rope_at(r->rig, k, length, r->carried > 0 ? DD_ROPE_IN_HAND : 0);
    double rate = r->carried > 0 ? slip(r, &p, &by_tension) : 0;
    remember(r, &p, rate, by_tension, memory);
    dd_jet_load(p.on_reach, DD_RIG_REACH, load, gradient);
    dd_jet_load(p.on_heave, DD_RIG_HEAVE, load, gradient);
    load->energy = p.energy;
    /* Energy by length: -k S (the stretch gets less) - energy / what stretches (the rope gets softer). */
    load->heat = (p.tension - p.elastic) * p.rate + rate * (p.elastic + p.energy / p.stretching);
    if (channels == NULL) return;
    channels[TENSION] = p.tension;
    channels[HAND] = r->carried > 0 ? p.tension * r->rig->trailer.rope.hand_hold / r->carried : p.tension;
}

static void draw(const void *instance, double stretch, double (*uniform)(void *), void *random, dd_pose *pose, dd_motion *motion,
                 double *memory, dd_commands *commands)
{
    const rope_instance *r = instance;
    *pose = (dd_pose){.attitude = {0, 0, 0, 1}};
    *motion = (dd_motion){{0}, {0}};
    *commands = (dd_commands){.uncoupled = 1, .rope_hooked = 1};
    double length = r->rig->trailer.rope.length;
    if (r->carried > 0) length += memory[0] = dd_draw(uniform, random, 0, 2);
    double slope = dd_draw(uniform, random, -0.1, 0.1);
    pose->rig[DD_RIG_X] = dd_draw(uniform, random, -10, 20);
    pose->rig[DD_RIG_REACH] = (length + stretch) * cos(slope);
    pose->rig[DD_RIG_HEAVE] = (length + stretch) * sin(slope);
    pose->rig[DD_RIG_PITCH] = dd_draw(uniform, random, 0, 0.1);
    motion->rig[DD_RIG_REACH] = dd_draw(uniform, random, -0.3, 0.3);
    motion->rig[DD_RIG_HEAVE] = dd_draw(uniform, random, -0.1, 0.1);
}

static void draw_taut(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                      dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)model;
    draw(instance, dd_draw(uniform, random, 0.0, 0.2), uniform, random, pose, motion, memory, commands);
}

static void draw_slack(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                       dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)model;
    draw(instance, dd_draw(uniform, random, -2.0, -0.01), uniform, random, pose, motion, memory, commands);
}

static const dd_regime regimes[] = {{"taut", draw_taut}, {"slack", draw_slack}, {0}};
static const char *const sources[] = {"elementary mechanics", "design memory", NULL};

const dd_force_kind dd_force_rope = {.name = "rope",
                                     .help = "rope between the vehicle and the uncoupled trailer",
                                     .formula = "T as of the strap; round a bar it slips beyond T = H exp(mu 2 pi n) (capstan)",
                                     .valid = "a straight rope without weight",
                                     .covered_by = "tests/unit/force/test_loose_trailer.c",
                                     .acts_on = DD_ACTS_ON_RIG,
                                     .passive = 1,
                                     .sources = sources,
                                     .channels = channels_of,
                                     .prepare = prepare,
                                     .free = free,
                                     .memory_count = memory_count,
                                     .memory_scale = memory_scale,
                                     .evaluate = evaluate,
                                     .regimes = regimes};
