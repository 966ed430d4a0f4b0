/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/seat_meet.h"
#include "lib/base/numbers.h"
#include "lib/force/contact.h"
#include "lib/force/roller.h"
#include "lib/force/roller_patch.h"
#include <math.h>
#include <stdio.h>

static const double lifted = 0.05;  /* m: so far above a support the bottom no longer bears on it */
static const double pace = 0.01;    /* m: of looks along the hull */
static const double beside = 1e-9;  /* m */

/* --- bands ------------------------------------------------------------------------------------------------------ */

/* A band whose middle is `middle` and whose axle is `axis`, trailer frame; both sides out by `out`. */
static dd_seat_band band_at(const dd_seat_laid *s, int roller, dd_vec3 middle, dd_vec3 axis, double width, double out)
{
    const dd_roller *r = &s->rig->rollers[roller];
    dd_seat_band b = {.support = r->support, .side = r->side, .roller = roller, .half = 0.5 * width};
    if (r->side != 0) middle.y -= r->side * out;
    b.middle = dd_point_in_boat(&s->placement, middle);
    b.across = dd_apply_transposed(&s->placement.to_trailer, axis);
    if (b.across.y * (r->side != 0 ? r->side : 1) < 0) b.across = dd_scale(-1, b.across);
    b.front = b.rear = b.middle.x;
    return b;
}

/* Centre and axis of a roller, trailer frame. */
static void stands(const dd_seat_laid *s, int roller, dd_vec3 *centre, dd_vec3 *axis)
{
    const dd_roller *r = &s->rig->rollers[roller];
    *centre = r->centre;
    *axis = r->axis;
    if (r->arm > 0 && s->angles != NULL) dd_arm_turn(&s->rig->arms[r->arm - 1], s->angles[r->arm - 1], centre, axis);
}

/* The line along a roller that is highest in the boat. */
static dd_vec3 top_of(const dd_seat_laid *s, dd_vec3 centre, dd_vec3 axis, double radius)
{
    const dd_vec3 z = dd_apply(&s->placement.to_trailer, dd_vec(0, 0, 1));
    const dd_vec3 up = dd_sub(z, dd_scale(dd_dot(z, axis), axis));
    return dd_add(centre, dd_scale(radius / dd_norm(up), up));
}

/* The face of a skid whose first place is that roller. Its places stand alternately toward either edge, the mean of two
   neighbours in its middle. */
static dd_seat_band face(const dd_seat_laid *s, int roller, double out)
{
    const dd_rig *rig = s->rig;
    const dd_support *support = &rig->trailer.supports[rig->rollers[roller].support];
    const int last = roller + support->points - 1;
    const int at[4] = {roller, roller + 1, last - 1, last};
    dd_vec3 centre[4], axis;
    for (int i = 0; i < 4; i++) stands(s, at[i], &centre[i], &axis);
    const dd_vec3 front = dd_scale(0.5, dd_add(centre[0], centre[1])), rear = dd_scale(0.5, dd_add(centre[2], centre[3]));
    const dd_vec3 middle = dd_scale(0.5, dd_add(front, rear));
    dd_seat_band b = band_at(s, roller, top_of(s, middle, axis, rig->rollers[roller].radius), axis, support->width, out);
    const double half = 0.5 * support->length * cos(support->slope);
    b.front = b.middle.x + half;
    b.rear = b.middle.x - half;
    const int side = rig->rollers[roller].side;
    dd_text(b.name, sizeof b.name, "%s%s", support->name, side > 0 ? " port" : side < 0 ? " starboard" : "");
    return b;
}

int dd_seat_bands_of(const dd_seat_laid *s, int support, double out, dd_seat_band bands[DD_SEAT_BANDS])
{
    const dd_rig *rig = s->rig;
    int count = 0;
    for (int i = 0; i < rig->roller_count; i++) {
        const dd_roller *r = &rig->rollers[i];
        if (support >= 0 && r->support != support) continue;
        if (r->skid > 0) {
            bands[count++] = face(s, i, out);
            i += rig->trailer.supports[r->support].points - 1;
            continue;
        }
        dd_vec3 centre, axis;
        stands(s, i, &centre, &axis);
        const double width = rig->trailer.supports[r->support].width;
        dd_seat_band *b = &bands[count++];
        *b = band_at(s, i, top_of(s, centre, axis, r->radius), axis, width, out);
        if (r->keel && !(width > 0)) b->half = INFINITY;
        if (r->keel) b->flange = r->profile_height;
        dd_text(b->name, sizeof b->name, "%s", r->name);
    }
    return count;
}

int dd_seat_bands(const dd_seat *s, int support, double out, dd_seat_band bands[DD_SEAT_BANDS])
{
    const dd_seat_laid laid = {s->m->rig, dd_seat_arm_angles(s->m), s->placement};
    return dd_seat_bands_of(&laid, support, out, bands);
}

/* --- one section ------------------------------------------------------------------------------------------------ */

static int outward(const dd_seat_band *b) { return b->side != 0 ? b->side : 1; }

void dd_seat_reach(const dd_seat_band *b, double *inner, double *outer)
{
    const double middle = b->side == 0 ? 0 : b->side * b->middle.y, half = b->half * fabs(b->across.y);
    *inner = middle - half;
    *outer = middle + half;
}

double dd_seat_chine(const dd_hull *hull, double x)
{
    double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    return y[dd_hull_section(hull, x, y, z) - 2];
}

double dd_seat_band_height(const dd_seat_band *b, double half_breadth)
{
    const double middle = b->side == 0 ? 0 : b->side * b->middle.y;
    return b->middle.z + (half_breadth - middle) * b->across.z / fabs(b->across.y);
}

/* Bottom over the band at a half breadth. */
static double gap_at(const dd_hull *hull, const dd_seat_band *b, double x, double half_breadth)
{
    const int side = outward(b);
    return dd_hull_bottom(hull, x, side * half_breadth, side).z - dd_seat_band_height(b, half_breadth);
}

double dd_seat_rise(const dd_hull *hull, const dd_seat_band *b, double x)
{
    double inner, outer;
    if (b->side == 0) return dd_hull_keel(hull, x).z - b->middle.z;
    dd_seat_reach(b, &inner, &outer);
    const double chine = dd_seat_chine(hull, x);
    if (inner > chine) return NAN;
    outer = fmin(outer, chine);
    inner = fmin(fmax(inner, 0), outer);
    return fmin(fmin(gap_at(hull, b, x, inner), gap_at(hull, b, x, outer)), gap_at(hull, b, x, 0.5 * (inner + outer)));
}

/* Room between bottom and band at a half breadth when the band touches the bottom at X: what a strake can stand out there. */
static double room_at(const dd_hull *hull, const dd_seat_band *b, double x, double half_breadth)
{
    const double rise = dd_seat_rise(hull, b, x);
    if (isnan(rise)) return INFINITY;
    if (b->side != 0) return gap_at(hull, b, x, half_breadth) - rise;
    return dd_hull_bottom(hull, x, half_breadth, 1).z - b->middle.z - rise - (half_breadth >= b->half - beside ? b->flange : 0);
}

/* --- the run ---------------------------------------------------------------------------------------------------- */

dd_seat_run dd_seat_run_of(const dd_hull *hull, const dd_seat_band *b)
{
    double first, last;
    dd_hull_extent(hull, &first, &last);
    dd_seat_run run = {.from = fmin(fmax(b->rear, first), last), .to = last, .bears_to = last};
    const double begin = dd_seat_rise(hull, b, run.from), most = begin + lifted;
    if (isnan(begin)) {
        run.bears_to = run.from;
        return run;
    }
    const int looks = (int)ceil((last - run.from) / (5 * pace));
    for (int i = 1; i <= looks; i++) {
        double below = run.from + (last - run.from) * (i - 1) / looks, above = run.from + (last - run.from) * i / looks;
        if (dd_seat_rise(hull, b, above) <= most) continue; /* NaN: it has left the bottom */
        for (int halvings = 0; halvings < 30; halvings++) {
            const double middle = 0.5 * (below + above);
            if (dd_seat_rise(hull, b, middle) <= most)
                below = middle;
            else
                above = middle;
        }
        run.bears_to = below;
        break;
    }
    return run;
}

/* --- clearances ------------------------------------------------------------------------------------------------- */

/* Of the band from the strake at X: > 0 between their nearest edges, < 0 one over the other. */
static double apart(const dd_rail *rail, double inner, double outer, double x)
{
    const double middle = dd_rail_middle(rail, x), half = 0.5 * rail->width;
    return fmax(middle - half - outer, inner - middle - half);
}

/* How far the strake stands out of the room over the band, where there is least of it: at one end of what lies over the band, or at
   the edge of the band that it is beside. */
static double step_at(const dd_hull *hull, const dd_seat_band *b, const dd_rail *rail, double x)
{
    double inner, outer;
    dd_seat_reach(b, &inner, &outer);
    const double middle = dd_rail_middle(rail, x), half = 0.5 * rail->width;
    const double first = fmin(fmax(middle - half, inner), outer), last = fmin(fmax(middle + half, inner), outer);
    return rail->height - fmin(room_at(hull, b, x, first), room_at(hull, b, x, last));
}

static bool catches(const dd_hull *hull, const dd_seat_band *b, const dd_rail *rail, double x)
{
    return !(step_at(hull, b, rail, x) <= 0); /* of unknown height: yes */
}

/* From `caught`, where the strake catches, toward `over`, where it does not: how far it does. */
static double caught_until(const dd_hull *hull, const dd_seat_band *b, const dd_rail *rail, double caught, double over)
{
    for (int halvings = 0; halvings < 40; halvings++) {
        const double middle = 0.5 * (caught + over);
        if (catches(hull, b, rail, middle))
            caught = middle;
        else
            over = middle;
    }
    return caught;
}

double dd_seat_strake_clearance(const dd_hull *hull, const dd_seat_band *b, const dd_rail *rail, double from, double to, double *x)
{
    double inner, outer, least = INFINITY;
    if (b->side == 0 && !isfinite(b->half)) return NAN;
    dd_seat_reach(b, &inner, &outer);
    for (int i = 0; i + 1 < rail->at_count; i++) {
        const double begin = fmax(from, rail->at[i]), end = fmin(to, rail->at[i + 1]);
        if (begin > end) continue;
        /* Least at an end, or where their middles meet. */
        const double slope = (rail->half_breadth[i + 1] - rail->half_breadth[i]) / (rail->at[i + 1] - rail->at[i]);
        const double meet = rail->at[i] + (0.5 * (inner + outer) - rail->half_breadth[i]) / slope;
        const double places[3] = {begin, end, b->side != 0 && meet > begin && meet < end ? meet : begin};
        for (int p = 0; p < 3; p++) {
            if (apart(rail, inner, outer, places[p]) >= least) continue;
            if (catches(hull, b, rail, places[p])) {
                least = apart(rail, inner, outer, places[p]);
                if (x != NULL) *x = places[p];
                continue;
            }
            for (int q = 0; q < 3; q++) { /* it passes over there: as near as it still catches */
                if (!catches(hull, b, rail, places[q])) continue;
                const double at = caught_until(hull, b, rail, places[q], places[p]), now = apart(rail, inner, outer, at);
                if (now >= least) continue;
                least = now;
                if (x != NULL) *x = at;
            }
        }
    }
    return least;
}

double dd_seat_chine_clearance(const dd_hull *hull, const dd_seat_band *b, double from, double to, double *x)
{
    double inner, outer, least = INFINITY;
    if (b->side == 0) return INFINITY;
    dd_seat_reach(b, &inner, &outer);
    const int looks = (int)ceil(fmax(to - from, 0) / pace);
    for (int i = 0; i <= looks; i++) {
        const double at = looks > 0 ? from + (to - from) * i / looks : from, now = dd_seat_chine(hull, at) - outer;
        if (now >= least) continue;
        least = now;
        if (x != NULL) *x = at;
    }
    return least;
}

/* Adds a stretch, or lets the last one go on. */
static int add_crossing(dd_seat_crossing *crossings, int count, dd_seat_crossing c)
{
    if (count > 0 && c.from - crossings[count - 1].to < beside) {
        crossings[count - 1].to = c.to;
        crossings[count - 1].step_to = c.step_to;
        return count;
    }
    if (count < DD_SEAT_CROSSINGS) crossings[count++] = c;
    return count;
}

/* Narrows from..to to where a + slope (x - origin) < 0. */
static void keep_negative(double a, double slope, double origin, double *from, double *to)
{
    const double zero = origin - a / slope;
    if (slope > 0) *to = fmin(*to, zero);
    if (slope < 0) *from = fmax(*from, zero);
    if (slope == 0 && a >= 0) *to = -INFINITY;
}

/* Narrows a stretch to where the strake catches, and puts in its steps; false: it passes over all along. */
static bool keep_caught(const dd_hull *hull, const dd_seat_band *b, const dd_rail *rail, dd_seat_crossing *c)
{
    enum { LOOKS = 20 };
    const double from = c->from, to = c->to;
    double before = from;
    int caught = 0;
    for (int i = 0; i <= LOOKS; i++) {
        const double x = i < LOOKS ? from + (to - from) * i / LOOKS : to;
        if (!catches(hull, b, rail, x)) {
            if (i > 0 && catches(hull, b, rail, before)) c->to = caught_until(hull, b, rail, before, x);
        } else {
            if (caught++ == 0 && i > 0) c->from = caught_until(hull, b, rail, x, before);
            c->to = x;
        }
        before = x;
    }
    const double first = step_at(hull, b, rail, c->from), last = step_at(hull, b, rail, c->to);
    c->step_from = first < beside ? 0 : first; /* found by halving; NaN stays */
    c->step_to = last < beside ? 0 : last;
    return caught > 0;
}

int dd_seat_crossings(const dd_hull *hull, const dd_seat_band *b, const dd_rail *rail, double from, double to,
                      dd_seat_crossing crossings[DD_SEAT_CROSSINGS])
{
    double inner, outer;
    int count = 0;
    dd_seat_reach(b, &inner, &outer);
    for (int i = 0; i + 1 < rail->at_count && isfinite(outer); i++) {
        const double origin = rail->at[i], middle = rail->half_breadth[i], half = 0.5 * rail->width;
        const double slope = (rail->half_breadth[i + 1] - middle) / (rail->at[i + 1] - origin);
        dd_seat_crossing c = {.from = fmax(from, origin), .to = fmin(to, rail->at[i + 1])};
        keep_negative(middle - half - outer, slope, origin, &c.from, &c.to);
        keep_negative(inner - middle - half, -slope, origin, &c.from, &c.to);
        if (!(c.from < c.to) || !keep_caught(hull, b, rail, &c)) continue;
        count = add_crossing(crossings, count, c);
    }
    return count;
}

void dd_seat_clearance(const dd_seat *s, int support, double out, double *strake, double *chine)
{
    const dd_hull_parameters *boat = &s->m->scenario.boat;
    dd_seat_band bands[DD_SEAT_BANDS];
    const int count = dd_seat_bands(s, support, out, bands);
    *strake = count > 0 && boat->rail_count > 0 ? INFINITY : NAN;
    *chine = count > 0 ? INFINITY : NAN;
    for (int i = 0; i < count; i++) {
        const dd_seat_run run = dd_seat_run_of(s->m->hull, &bands[i]);
        *chine = fmin(*chine, dd_seat_chine_clearance(s->m->hull, &bands[i], run.from, run.bears_to, NULL));
        for (int r = 0; r < boat->rail_count; r++) {
            const double now = dd_seat_strake_clearance(s->m->hull, &bands[i], &boat->rails[r], run.from, run.bears_to, NULL);
            if (isnan(now)) *strake = NAN;
            if (now < *strake) *strake = now;
        }
    }
}
