/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What people do: three launches in four, the rest retrieves; by push, by engine, on a rope, with a tilting bed. */
#include "lib/crew/steps.h"
#include "tests/property/drawing.h"
#include <math.h>

static dd_step *add_step(drawing *d, int kind, double limit)
{
    dd_step *s = &d->c->steps[d->c->step_count++];
    for (int i = 0; dd_step_variants[i].name != NULL; i++) dd_key_clear(dd_step_variants[i].rows, s);
    dd_key_defaults(dd_step_variants[kind].rows, s);
    s->kind = kind;
    s->time_limit = limit;
    return s;
}

static void add_hand_line(drawing *d)
{
    dd_step *line = add_step(d, DD_STEP_HOLD_LINE, 20);
    line->force = between(d, 20, 60);
    line->line_to = one_of(d, 3);
    line->side = one_of(d, 2);
    line->beside = between(d, 2, 4);
    line->until.after = 1;
}

/* Off the ball, and down the ramp on the rope. */
static void add_lowering(drawing *d, double depth)
{
    add_step(d, DD_STEP_CHOCK, 10);
    add_step(d, DD_STEP_ROPE_ON, 10);
    add_step(d, DD_STEP_UNCOUPLE, 20)->takes = 3;
    add_step(d, DD_STEP_UNCHOCK, 10);
    dd_step *lower = add_step(d, DD_STEP_LOWER, 60);
    lower->speed = between(d, 0.3, 0.5);
    lower->until.hub_depth = depth;
}

static void add_backing(drawing *d, double depth)
{
    dd_step *back = add_step(d, DD_STEP_BACK_DOWN, 40);
    back->speed = between(d, 0.5, 0.9);
    back->until.hub_depth = depth;
    if (chance(d, 0.3)) add_step(d, DD_STEP_STOP, 20)->brake = one_of(d, 3);
}

static void draw_launch(drawing *d, double deep)
{
    dd_case *c = d->c;
    const double depth = between(d, 0.6, 1.1) * deep;
    c->start.hub_depth = d->beach ? -0.1 : -0.2;
    c->start.chain = !isnan(c->trailer.chain.slack_at_home);
    c->start.ties = !isnan(c->trailer.ties.behind_coupling);
    if (c->start.ties && !chance(d, 0.04)) add_step(d, DD_STEP_TIES_OFF, 10)->takes = 1;
    if (d->beach)
        add_lowering(d, depth);
    else
        add_backing(d, depth);
    if (c->start.chain == DD_START_ON && !chance(d, 0.04)) add_step(d, DD_STEP_CHAIN_OFF, 10)->takes = 1;
    if (d->tilts) add_step(d, DD_STEP_UNLATCH, 10)->takes = 1;
    const int line = chance(d, 0.12), drives = !d->beach && chance(d, 0.15);
    if (line) add_hand_line(d);
    if (!drives && chance(d, 0.15)) { /* as far as it runs by itself, on the strap */
        dd_step *pay = add_step(d, DD_STEP_PAY_OUT, 20);
        pay->until.distance_clear = 0.1;
        pay->until.after = between(d, 2, 5);
    }
    if (drives) add_step(d, DD_STEP_ENGINE_DOWN, 20)->takes = 2;
    add_step(d, DD_STEP_STRAP_OFF, 10);
    dd_step *off = add_step(d, drives ? DD_STEP_DRIVE_OFF : DD_STEP_PUSH_OFF, 40);
    if (drives)
        off->throttle = between(d, 0.2, 0.5);
    else
        off->force = between(d, 0.02, 0.05) * d->mass * 9.8 + 100;
    off->until.distance_clear = 0.3;
    if (line && chance(d, 0.5)) add_step(d, DD_STEP_LET_LINE_GO, 10);
    add_step(d, DD_STEP_WAIT, 20)->until.after = 2;
}

static void add_driving_on(drawing *d)
{
    dd_case *c = d->c;
    c->skipper.preset = one_of(d, 3);
    c->skipper.seed = one_of(d, 1000);
    c->start.speed = 0.5;
    c->start.bow_distance = between(d, 0.5, 1.5);
    dd_step *drive = add_step(d, DD_STEP_DRIVE_ON, 60);
    drive->speed = between(d, 0.5, 0.9);
    drive->throttle = between(d, 0.15, 0.4);
    drive->hold_throttle = chance(d, 0.5) ? 0.1 : 0;
    drive->until.captured = 1;
    drive->until.after = 10;
}

static void add_pulling_out(drawing *d)
{
    if (d->tilts) add_step(d, DD_STEP_LATCH, 10)->takes = 1;
    if (d->beach) {
        dd_step *haul = add_step(d, DD_STEP_HAUL_OUT, 60);
        haul->speed = between(d, 0.3, 0.5);
        haul->until.water_clear = 0.05;
        return;
    }
    for (int steps = chance(d, 0.2) ? 1 + one_of(d, 2) : 0; steps > 0; steps--) {
        add_step(d, DD_STEP_PULL_OUT, 20)->distance = between(d, 0.5, 1);
        add_step(d, DD_STEP_TAKE_UP_SLACK, 20)->tension = between(d, 200, 500);
    }
    dd_step *out = add_step(d, DD_STEP_PULL_OUT, 40);
    out->speed = between(d, 0.5, 0.9);
    out->until.water_clear = 0.1;
}

static void draw_retrieve(drawing *d, double deep)
{
    dd_case *c = d->c;
    const double depth = between(d, 0.7, 1.05) * deep;
    c->start.hub_depth = d->beach ? -0.1 : depth;
    c->start.bow_distance = d->beach ? depth / tan(0.1) : between(d, 0.1, 0.4);
    c->start.offset_to_port = between(d, -0.06, 0.06);
    c->start.heading = between(d, -3, 3) * M_PI / 180;
    if (d->beach) add_lowering(d, depth);
    const int line = chance(d, 0.12), drives = !d->beach && chance(d, 0.35);
    if (line) add_hand_line(d);
    if (d->tilts) add_step(d, DD_STEP_UNLATCH, 10)->takes = 1;
    if (drives) add_driving_on(d);
    add_step(d, DD_STEP_HOOK_ON, 10);
    add_step(d, DD_STEP_WIND_IN, 90)->speed = between(d, 0.12, 0.2);
    if (drives) add_step(d, DD_STEP_ENGINE_UP, 20)->takes = 2;
    if (line) add_step(d, DD_STEP_LET_LINE_GO, 10);
    if (!isnan(c->trailer.chain.slack_at_home)) add_step(d, DD_STEP_CHAIN_ON, 10)->takes = 1;
    add_pulling_out(d);
    if (!isnan(c->trailer.ties.behind_coupling)) add_step(d, DD_STEP_TIES_ON, 10)->takes = 1;
}

void draw_procedure(drawing *d)
{
    const double deep = d->keel_height - d->c->trailer.tyre_radius + d->draught;
    d->c->action = chance(d, 0.75) ? DD_ACTION_LAUNCH : DD_ACTION_RETRIEVE;
    if (d->c->action == DD_ACTION_LAUNCH)
        draw_launch(d, deep);
    else
        draw_retrieve(d, deep);
}
