/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What of a trailer can be shifted, and the trailer with it shifted. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/rig/rig.h"
#include "lib/rig/road.h"
#include "lib/study/seat_adjust.h"
#include <math.h>
#include <string.h>

const dd_travel *dd_adjust_travel(const dd_trailer_parameters *t, int support, int direction)
{
    const dd_adjust *adjust = support == DD_SHIFT_POST    ? &t->winch.adjust
                              : support == DD_SHIFT_AXLES ? &t->axle_adjust
                                                          : &t->supports[support].adjust;
    return direction == DD_SHIFT_UP ? &adjust->up : direction == DD_SHIFT_OUT ? &adjust->out : &adjust->aft;
}

static void add_shift(dd_adjusting *a, int support, int direction)
{
    const dd_travel *t = dd_adjust_travel(&a->trailer, support, direction);
    if (t->count != 2) return;
    const double step = dd_travel_step(t), slack = 1e-9;
    const int least = -(int)floor(-t->ends[0] / step + slack), most = (int)floor(t->ends[1] / step + slack);
    if (least < most) a->shifts[a->shift_count++] = (dd_shift){.support = support, .direction = direction, .least = least, .most = most, .step = step};
}

static double whole_micrometres(double x) { return rint(1e6 * x) / 1e6; }

static void shift(dd_trailer_parameters *t, const dd_shift *s, double by)
{
    if (by == 0) return;
    if (s->support == DD_SHIFT_POST) {
        t->winch.behind_coupling = whole_micrometres(t->winch.behind_coupling + by);
        t->bow_stop.behind_coupling = whole_micrometres(t->bow_stop.behind_coupling + by);
        return;
    }
    if (s->support == DD_SHIFT_AXLES) {
        dd_trailer_carry_axles(t, by);
        for (int i = 0; i < t->axle_count; i++) t->axles[i].behind_coupling = whole_micrometres(t->axles[i].behind_coupling + by);
        return;
    }
    dd_support *k = &t->supports[s->support];
    if (s->direction == DD_SHIFT_UP) k->above_ground = whole_micrometres(k->above_ground + by);
    if (s->direction == DD_SHIFT_AFT) k->behind_coupling = whole_micrometres(k->behind_coupling + by);
    if (s->direction != DD_SHIFT_OUT) return;
    if (!isnan(k->half_spacing)) k->half_spacing = whole_micrometres(k->half_spacing + by);
    for (int i = 0; i < k->half_spacing_count; i++) k->half_spacings[i] = whole_micrometres(k->half_spacings[i] + by);
}

void dd_adjust_apply(const dd_adjusting *a, const dd_setting *setting, dd_trailer_parameters *trailer)
{
    *trailer = a->trailer;
    for (int i = 0; i < a->shift_count; i++) shift(trailer, &a->shifts[i], setting->by[i]);
    for (int i = 0; i < a->choice_count; i++)
        if (setting->height[a->choices[i]] > 0) trailer->supports[a->choices[i]].height_setting = setting->height[a->choices[i]];
}

void dd_adjust_part(const dd_adjusting *a, int support, char *text, size_t size)
{
    if (support == DD_SHIFT_POST || support == DD_SHIFT_AXLES) {
        dd_text(text, size, support == DD_SHIFT_POST ? "winch post with bow stop" : a->trailer.axle_count > 1 ? "axles, all together" : "axle");
        return;
    }
    const dd_support *k = &a->trailer.supports[support];
    const bool pair = k->kind == DD_SUPPORT_CRADLE || k->kind == DD_SUPPORT_ROCKER ||
                      ((k->kind == DD_SUPPORT_ROLLER || (k->kind == DD_SUPPORT_SKID && k->under == DD_UNDER_BOTTOM)) && k->side == DD_SIDE_PAIR);
    if (k->name[0] != '\0')
        dd_text(text, size, "%s%s", k->name, pair ? ", port and starboard" : "");
    else
        dd_text(text, size, "support %d%s", support + 1, pair ? ", port and starboard" : "");
}

static bool is_under_keel(const dd_support *k)
{
    return k->kind == DD_SUPPORT_KEEL_ROLLER || (k->kind == DD_SUPPORT_SKID && k->under == DD_UNDER_KEEL);
}

enum { PLACES = 5, WAYS = 3 }; /* places looked at along each way of a part; ways of all others to stand: as they do; those of its like as
                                  low as they go; all as low as they go */

/* The part at one of its places, all others in one of the ways. Returns how many places there are. */
static int place_part(const dd_adjusting *a, int support, int place, int way, dd_setting *setting)
{
    int places = 1;
    *setting = (dd_setting){0};
    for (int i = 0; i < a->shift_count; i++) {
        const dd_shift *s = &a->shifts[i];
        if (s->support == support) {
            setting->by[i] = s->step * rint(s->least + (double)(s->most - s->least) * (place / places % PLACES) / (PLACES - 1));
            places *= PLACES;
        } else if (s->direction == DD_SHIFT_UP) {
            const bool alike = is_under_keel(&a->trailer.supports[s->support]) == is_under_keel(&a->trailer.supports[support]);
            if (way == 2 || (way == 1 && alike)) setting->by[i] = s->least * s->step;
        }
    }
    return places;
}

static dd_status never_meets(const dd_adjusting *a, int support, const dd_shift *first, dd_error *error)
{
    static const char *const words[] = {"up", "out", "aft"};
    const dd_support *k = &a->trailer.supports[support];
    char place[160], aside[64] = "";
    const double out = k->half_spacing_count > 0 ? k->half_spacings[0] : k->half_spacing;
    dd_text(place, sizeof place, "trailer.supports[%s].adjust.%s", k->name, words[first->direction]);
    if (!is_under_keel(k)) dd_text(aside, sizeof aside, ", %.0f mm from the centre line", 1e3 * out);
    return dd_fail(error, DD_ERROR_ARGUMENT, place,
                   "found %g mm to %g mm, which never meets the hull: %.0f mm behind the coupling, %.0f mm above the ground%s it carries nothing "
                   "anywhere within its travel, even with every other support as low as it goes",
                   1e3 * first->least * first->step, 1e3 * first->most * first->step, 1e3 * k->behind_coupling, 1e3 * k->above_ground, aside);
}

/* A part that can be shifted carries something somewhere. */
static dd_status check_meets(dd_adjusting *a, int support, dd_error *error)
{
    const dd_shift *first = NULL;
    for (int i = a->shift_count - 1; i >= 0; i--)
        if (a->shifts[i].support == support) first = &a->shifts[i];
    if (first == NULL) return DD_OK;
    for (int way = 0; way < WAYS; way++) {
        dd_setting setting;
        dd_seat_outcome outcome;
        for (int p = 0, places = 1; p < places; p++) {
            places = place_part(a, support, p, way, &setting);
            if (!dd_adjust_judge(a, &setting, false, &outcome)) return a->status;
            if (outcome.stands && outcome.load[support] > 0) return DD_OK;
        }
    }
    return never_meets(a, support, first, error);
}

static void find_asked(dd_adjusting *a)
{
    const dd_seating *asked = &a->scenario->seating;
    bool sides = false, keel = false;
    for (int i = 0; i < a->base.m->rig->roller_count; i++) {
        keel |= a->base.m->rig->rollers[i].keel;
        sides |= !a->base.m->rig->rollers[i].keel;
    }
    for (int k = 0; k < a->trailer.support_count; k++) a->asked[DD_ASK_RATED] |= !isnan(a->trailer.supports[k].rated_load);
    a->asked[DD_ASK_HULL] = !isnan(asked->greatest_roller_load);
    a->asked[DD_ASK_KEEL] = !isnan(asked->least_keel_share);
    a->asked[DD_ASK_SIDES] = sides && keel;
    for (int i = 0; i < asked->requirement_count; i++) a->asked[dd_adjust_kind_of(&asked->requirements[i])] = true;
    a->asked[DD_ASK_COUPLING] = !isnan(asked->least_coupling_share) || !isnan(asked->greatest_coupling_share) || !isnan(a->trailer.coupling_rating) ||
                                !isnan(a->scenario->vehicle.tow_ball_rating);
}

dd_status dd_adjust_begin(dd_adjusting *a, dd_error *error)
{
    a->trailer = a->scenario->trailer;
    dd_trailer_parameters complete = a->trailer;
    dd_trailer_complete(&complete);
    a->trailer.centre_behind_coupling = complete.centre_behind_coupling;
    a->tolerance = a->scenario->seating.height_tolerance;
    a->dropped = -1;
    for (int k = 0; k < a->trailer.support_count; k++) {
        for (int d = 0; d < DD_SHIFT_DIRECTIONS; d++) add_shift(a, k, d);
        if (a->trailer.supports[k].kind == DD_SUPPORT_ROCKER && a->trailer.supports[k].height_setting_count > 1) a->choices[a->choice_count++] = k;
    }
    add_shift(a, DD_SHIFT_POST, DD_SHIFT_AFT);
    add_shift(a, DD_SHIFT_AXLES, DD_SHIFT_AFT);
    if (a->shift_count == 0 && a->choice_count == 0)
        return dd_fail(error, DD_ERROR_UNSET, "trailer.supports.adjust",
                       "found no support, post or axle that can be shifted, expected at least one, such as adjust: {up: [-20 mm, 40 mm]}");
    find_asked(a);
    dd_adjust_find_clear(a);
    for (int k = 0; k < a->trailer.support_count; k++) a->asked[DD_ASK_CLEAR] |= a->scenario->seating.clearance > 0 && a->clear[k].count > 0;
    dd_status status = DD_OK;
    for (int k = 0; k < a->trailer.support_count && status == DD_OK; k++) status = check_meets(a, k, error);
    return status;
}
