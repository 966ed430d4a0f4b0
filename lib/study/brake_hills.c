/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each system does on a hill and in reverse: the trailer's own hold, pushing it back up a drive, breaking away.

   Pushed back up a slope the trailer takes P = W_t (sin + c cos) + B along the coupling. An overrun brake answers with
   B = r s (P - threshold), at most r s times its full push, r torque per push over the tyre's radius and s the share that the reverse
   release leaves: P = (W_t (...) - r s threshold)/(1 - r s) where that is below the full push and r s < 1, else W_t (...) + r s full push. */
#include "lib/base/numbers.h"
#include "lib/study/brake.h"
#include <drawdock/rules.h>
#include <math.h>

typedef struct reverse {
    double push, drive, grip; /* on the coupling; what the driven wheels must give and can, N */
} reverse;

static double share_in_reverse(const dd_overrun_brake *o, bool locked_out)
{
    if (o->reverse == DD_REVERSE_AUTOMATIC) return o->reverse_share;
    return o->reverse == DD_REVERSE_LOCK_OUT && locked_out ? 0 : 1;
}

static reverse push_back(const dd_brake *b, const dd_brake_kind *kind, double angle, bool locked_out)
{
    const dd_braking *k = &b->scenario->braking;
    const dd_overrun_brake *o = &b->rig->brakes.overrun;
    const double weight = b->loaded.mass * b->scenario->gravity, own = b->scenario->vehicle.mass * b->scenario->gravity;
    const double plain = weight * (sin(angle) + k->rolling_resistance * cos(angle));
    double push = plain;
    if (kind->slides) {
        const double most = o->full_push, rate = o->lever_ratio * o->cable_efficiency * o->brake_factor / b->loaded.tyre_radius * share_in_reverse(o, locked_out);
        const double free = rate < 1 ? (plain - rate * o->threshold) / (1 - rate) : INFINITY;
        if (plain > o->threshold) push = free - o->threshold < most ? free : plain + rate * most;
    }
    /* The vehicle stands below its trailer: a slope down for it, and the trailer is held off by the push. */
    const dd_standing z = dd_stand_on(&b->scenario->vehicle, &b->loaded, b->scenario->gravity, -angle, push - weight * sin(angle), NAN);
    const int drive = b->scenario->vehicle.drive;
    const double load = drive == 2 ? z.front + z.rear : drive == 0 ? z.front : z.rear;
    return (reverse){.push = push, .drive = push + own * (sin(angle) + k->rolling_resistance * cos(angle)), .grip = k->reverse_friction * fmax(0, load)};
}

typedef struct pushing {
    const dd_brake *b;
    const dd_brake_kind *kind;
    bool locked_out;
} pushing;

static double grip_left(double slope, void *context)
{
    const pushing *p = context;
    const reverse z = push_back(p->b, p->kind, atan(slope), p->locked_out);
    return z.grip - z.drive;
}

/* Rise over run up to which it can be pushed back. */
static double steepest(const dd_brake *b, const dd_brake_kind *kind, bool locked_out)
{
    pushing p = {b, kind, locked_out};
    if (grip_left(DD_BRAKE_STEEPEST, &p) >= 0) return DD_BRAKE_STEEPEST;
    if (grip_left(0, &p) < 0) return 0;
    return dd_ode_root(grip_left, &p, 0, DD_BRAKE_STEEPEST, 0);
}

double dd_brake_trailer_grip(const dd_brake *b, double friction) { return friction * b->road.axle_group * b->rig->braked_axles / b->loaded.axle_count; }

double dd_brake_trailer_holds(const dd_brake *b, double torque, double friction)
{
    const double weight = b->loaded.mass * b->scenario->gravity, by_torque = torque / (b->loaded.tyre_radius * weight);
    return fmin(by_torque < 1 ? tan(asin(by_torque)) : INFINITY, dd_brake_trailer_grip(b, friction) / weight);
}

double dd_brake_full_torque(const dd_brake *b, const dd_brake_kind *kind)
{
    dd_brake_input in = {.command = 1, .braked_axles = b->rig->braked_axles, .time = 100, .squeeze = b->rig->brakes.overrun.stroke};
    const double full[DD_BRAKE_STATES] = {1, 1};
    dd_brake_output out;
    kind->evaluate(&b->rig->brakes, &in, full, &out);
    return out.torque;
}

double dd_brake_breakaway_torque(const dd_brake *b, const dd_brake_kind *kind)
{
    return kind->parked != NULL ? kind->parked(&b->rig->brakes) : dd_brake_full_torque(b, kind);
}

double dd_brake_battery_lasts(const dd_brake *b, const dd_brake_kind *kind)
{
    return kind->current == NULL ? NAN : 3600 * b->rig->brakes.battery / kind->current(&b->rig->brakes, b->rig->braked_axles);
}

static void add_hills(const dd_brake *b)
{
    dd_reporter *r = b->report;
    const dd_braking *k = &b->scenario->braking;
    dd_reporter_table(r, "hills", "On a hill and in reverse", DD_REPORT_WHOLE);
    dd_reporter_column(r, "trailer brakes", "", 0, "system");
    dd_reporter_column(r, "parked holds", "%", 0, "slope that its own park brake holds uncoupled on firm ground; none: 0, chock it");
    dd_reporter_column(r, "breaks away holds", "%", 0, "slope that its brakes hold after breaking away, while they are fed");
    dd_reporter_column(r, "pushed back", "N", 0, "force on the coupling up the drive");
    dd_reporter_column(r, "moves", "", 0, "whether the vehicle's driven wheels can do that");
    dd_reporter_column(r, "back up to", "%", 0, "slope up which it can be pushed; 30: at least");
    dd_reporter_column(r, "in reverse", "", 0, "what the brakes do then");
    for (int i = 0; dd_brake_kind_at(i) != NULL; i++) {
        const dd_brake_kind *kind = dd_brake_kind_at(i);
        for (int locked_out = kind->slides && b->rig->brakes.overrun.reverse == DD_REVERSE_LOCK_OUT ? 0 : 1; locked_out < 2; locked_out++) {
            const reverse z = push_back(b, kind, k->reverse_grade, locked_out == 1);
            dd_reporter_words(r, "%s%s", kind->name, dd_brake_is_fitted(b, kind) ? " *" : "");
            dd_reporter_value(r, kind->parked != NULL ? dd_brake_trailer_holds(b, kind->parked(&b->rig->brakes), k->reverse_friction) : 0);
            dd_reporter_value(r, kind->fitted == DD_FITTED_NONE ? 0 : dd_brake_trailer_holds(b, dd_brake_breakaway_torque(b, kind), k->reverse_friction));
            dd_reporter_value(r, z.push);
            dd_reporter_words(r, "%s", z.drive <= z.grip ? "yes" : "no");
            dd_reporter_value(r, steepest(b, kind, locked_out == 1));
            dd_reporter_words(r, "%s", !kind->slides ? "off" : b->rig->brakes.overrun.reverse == DD_REVERSE_AUTOMATIC ? "free themselves"
                                       : b->rig->brakes.overrun.reverse == DD_REVERSE_NONE ? "go on"
                                       : locked_out ? "locked out" : "go on, lever off");
        }
    }
    dd_reporter_table_note(r, "Pushed back up %.0f %% with grip %.2f under the wheels; slopes held at the same grip.", 100 * tan(k->reverse_grade), k->reverse_friction);
}

/* The drawbar parts: which comes first, how long until it brakes, how hard, how long. */
static void add_breakaway(const dd_brake *b)
{
    dd_reporter *r = b->report;
    const dd_trailer_parameters *t = &b->scenario->trailer;
    const dd_trailer_braking *f = &b->rig->brakes;
    const dd_braking *k = &b->scenario->braking;
    const double grip = dd_brake_trailer_grip(b, k->dry_friction);
    dd_reporter_table(r, "breakaway", "Breaking away", DD_REPORT_LONG);
    dd_reporter_column(r, "trailer brakes", "", 0, "system");
    dd_reporter_column(r, "acts first", "", 0, "as the drawbar parts: the breakaway's cable or the safety chains");
    dd_reporter_column(r, "commanded after", "s", 2, "the cable is pulled");
    dd_reporter_column(r, "slows", "m/s2", 2, "of the trailer by its own brakes on the dry road");
    dd_reporter_column(r, "lasts", "min", 0, "by the battery; empty: as long as the lever stays");
    for (int i = 0; dd_brake_kind_at(i) != NULL; i++) {
        const dd_brake_kind *kind = dd_brake_kind_at(i);
        if (kind->fitted == DD_FITTED_NONE) continue;
        const double force = fmin(dd_brake_breakaway_torque(b, kind) / t->tyre_radius, grip);
        dd_reporter_words(r, "%s", kind->name);
        dd_reporter_words(r, "%s", f->chain_slack < f->breakaway_cable ? "chains" : "cable");
        dd_reporter_value(r, f->breakaway_delay);
        dd_reporter_value(r, force / b->loaded.mass);
        dd_reporter_value(r, dd_brake_battery_lasts(b, kind));
    }
    if (f->chain_slack < f->breakaway_cable)
        dd_reporter_note(r, "The safety chains are taut before the breakaway's cable pulls: while they hold, the trailer's brakes stay off.");
    dd_reporter_source(r, "breakaway figures");
}

dd_status dd_brake_hills(dd_brake *b, dd_error *error)
{
    (void)error;
    add_hills(b);
    add_breakaway(b);
    return DD_OK;
}
