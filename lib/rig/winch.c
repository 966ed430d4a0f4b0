/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/rig/winch.h"
#include <math.h>

static const double handle_turns = 25.0 / 60.0; /* turns of a handle a second */
static const double motor_speed = 0.08, motor_share_at_rating = 0.5;
/* Over this share of the force that should not be exceeded nobody turns the handle any more (an isometric pull of about 325 N
   over 130 N; order of magnitude as in the published pulls of 222 to 400 N). */
static const double most_hand_force = 2.5;
static const double stalls = 0.98; /* share of the stall pull at which a motor counts as standing */

void dd_winch_complete(dd_winch_parameters *w)
{
    static const double stretch[] = {0.07, 0.01, 0.05}, thickness[] = {0.0015, 0.005, 0.010};
    if (w->kind < 0) w->kind = DD_LINE_OF_STRAP;
    if (w->drive < 0) w->drive = DD_DRIVE_HAND;
    if (isnan(w->strap_stretch_at_rating)) w->strap_stretch_at_rating = stretch[w->kind];
    if (isnan(w->strap_thickness)) w->strap_thickness = thickness[w->kind];
    if (isnan(w->speed))
        w->speed = w->drive == DD_DRIVE_ELECTRIC ? motor_speed
                                                 : 2 * acos(-1.0) * w->drum_radius * handle_turns / w->gear_ratio;
    if (isnan(w->speed_at_rating)) w->speed_at_rating = motor_share_at_rating * w->speed;
}

/* Cross-section that a metre of line takes on the drum, over the drum's width: layers of a spiral. A strap lies turn upon turn, a
   wire or rope turn beside turn, each in a square of its thickness. */
static double section_over_width(const dd_winch_parameters *w)
{
    const double t = w->strap_thickness;
    return w->kind == DD_LINE_OF_STRAP || !(w->drum_width > t) ? t : t * t / w->drum_width;
}

/* pi (outer^2 - drum^2) = section over width x length. */
static double outer_radius(const dd_winch_parameters *w, double wound)
{
    return sqrt(w->drum_radius * w->drum_radius + section_over_width(w) * fmax(wound, 0) / acos(-1.0));
}

double dd_winch_lever(const dd_winch_parameters *w, double wound)
{
    /* The first layer lies on the drum. */
    const double t = w->strap_thickness;
    return fmax(outer_radius(w, wound), w->drum_radius + t) - 0.5 * t;
}

double dd_winch_lever_slope(const dd_winch_parameters *w, double wound)
{
    const double outer = outer_radius(w, wound);
    return wound > 0 && outer > w->drum_radius + w->strap_thickness ? section_over_width(w) / (2 * acos(-1.0) * outer) : 0;
}

double dd_winch_handle_force(const dd_winch_parameters *w, double tension, double wound)
{
    return tension * dd_winch_lever(w, wound) / (w->gear_ratio * w->handle_length * w->efficiency);
}

double dd_winch_stall_pull(const dd_winch_parameters *w) { return w->rating / (1 - w->speed_at_rating / w->speed); }

double dd_winch_load_share(const dd_winch_parameters *w, double tension, double wound)
{
    if (w->drive == DD_DRIVE_ELECTRIC) return tension / (stalls * dd_winch_stall_pull(w));
    return dd_winch_handle_force(w, tension, wound) / (most_hand_force * w->hand_force_limit);
}
