/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Holding on a slope, by the statics of lib/rig/road_slope.c.

   A chock of angle alpha and friction tan(phi) on ground and tyre skids out where alpha > 2 phi (the wheel that turns into it draws it in by
   tan(phi), the ground holds tan(phi)); else it holds the axles' load times the lesser of tan(alpha), where the wheel climbs it, and
   tan(phi), where it slides with the whole load on it. */
#include "lib/base/numbers.h"
#include "lib/study/brake.h"
#include <math.h>

enum { FRONT, REAR, BOTH };
#define STEADY 0.1 /* margin below which a rig that holds is called unsteady */

double dd_friction_needed(const dd_standing *z, int axles)
{
    const double load = axles == BOTH ? z->front + z->rear : axles == FRONT ? z->front : z->rear;
    return load > 0 ? z->need / load : z->need > 0 ? INFINITY : 0;
}

/* Ways of holding. */
typedef struct way {
    const char *name;
    int axles;          /* of the vehicle; -1: none */
    bool pedal;         /* its foot brake, else its park brake */
    bool lever, chocks; /* the trailer's own */
    bool lifted;        /* the coupling carries nothing */
} way;

static double chock_share(const dd_braking *k)
{
    const double phi = atan(k->chock_friction);
    return k->chock_angle > 2 * phi ? 0 : fmin(tan(k->chock_angle), k->chock_friction);
}

/* What the trailer's own wheels or chocks hold, at most what pulls it. */
static double held_by_trailer(const dd_brake *b, const way *w, double angle, dd_standing *z)
{
    const dd_braking *k = &b->scenario->braking;
    const dd_brake_kind *kind = dd_brake_kind_fitted(b->scenario->trailer.brakes.fitted);
    double held = 0;
    for (int i = 0; i < 20; i++) { /* what it holds changes its load a little */
        *z = dd_stand_on(&b->scenario->vehicle, &b->loaded, b->scenario->gravity, angle, held, w->lifted ? 0 : NAN);
        double can = 0;
        if (w->lever && kind != NULL && kind->parked != NULL)
            can = fmin(kind->parked(&b->rig->brakes) / b->loaded.tyre_radius, k->hold_friction_trailer * z->trailer * b->rig->braked_axles / b->loaded.axle_count);
        if (w->chocks) can += chock_share(k) * z->trailer;
        held = fmin(can, b->loaded.mass * b->scenario->gravity * sin(angle));
    }
    return held;
}

/* What the vehicle's wheels can give: grip of the axles that hold, and of a park brake its torque. */
static double vehicle_can(const dd_brake *b, const way *w, const dd_standing *z)
{
    const dd_braking *k = &b->scenario->braking;
    const dd_vehicle_parameters *v = &b->scenario->vehicle;
    double grip = 0;
    if (w->axles == FRONT || w->axles == BOTH) grip += k->hold_friction_front * fmax(0, z->front);
    if (w->axles == REAR || w->axles == BOTH) grip += k->hold_friction_rear * fmax(0, z->rear);
    return w->pedal || w->axles < 0 ? grip : fmin(grip, v->braking.park_deceleration * v->mass);
}

static double margin_of(const dd_brake *b, const way *w, double angle, dd_standing *z)
{
    (void)held_by_trailer(b, w, angle, z);
    const double can = vehicle_can(b, w, z);
    return z->need > 0 ? can / z->need - 1 : INFINITY;
}

static void add_ways(const dd_brake *b)
{
    dd_reporter *r = b->report;
    const dd_braking *k = &b->scenario->braking;
    const dd_vehicle_parameters *v = &b->scenario->vehicle;
    const dd_brake_kind *kind = dd_brake_kind_fitted(b->scenario->trailer.brakes.fitted);
    const int park = v->park_lock;
    const way ways[] = {{"park brake", park, false, false, false, false}, {"park brake, coupling lifted", park, false, false, false, true},
                        {"foot brake", BOTH, true, false, false, false}, {"foot brake, coupling lifted", BOTH, true, false, false, true},
                        {"park brake and trailer's lever", park, false, true, false, false}, {"park brake and chocks at trailer", park, false, false, true, false},
                        {"foot brake and chocks at trailer", BOTH, true, false, true, false}};
    double most = -INFINITY;
    dd_reporter_table(r, "hold", "Holding on the ramp, trailer down the slope", DD_REPORT_LONG);
    dd_reporter_column(r, "held by", "", 0, "what holds");
    dd_reporter_column(r, "vehicle must give", "N", 0, "up along the slope");
    dd_reporter_column(r, "can give", "N", 0, "by the grip under its wheels and the park brake's own strength");
    dd_reporter_column(r, "margin", "%", 0, "of that over what it must");
    dd_reporter_column(r, "friction needed", "", 3, "under all wheels that hold, if it were the same under each");
    dd_reporter_column(r, "coupling", "N", 0, "load on the ball");
    dd_reporter_column(r, "verdict", "", 0, "unsteady: it holds by less than a tenth");
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        dd_standing z;
        if (ways[i].lever && (kind == NULL || kind->parked == NULL || b->scenario->trailer.brakes.park_brake == 0)) continue;
        const double margin = margin_of(b, &ways[i], k->hold_grade, &z);
        if (!ways[i].lifted) most = fmax(most, z.coupling);
        dd_reporter_words(r, "%s", ways[i].name);
        dd_reporter_value(r, z.need);
        dd_reporter_value(r, vehicle_can(b, &ways[i], &z));
        dd_reporter_value(r, margin);
        dd_reporter_value(r, dd_friction_needed(&z, ways[i].axles));
        dd_reporter_value(r, z.coupling);
        dd_reporter_words(r, "%s", margin < 0 ? "slides" : margin < STEADY ? "unsteady" : "holds");
        if (i == 2 || i == 6) {
            dd_check check = dd_check_of("holding", NULL, vehicle_can(b, &ways[i], &z), z.need, "N", "elementary mechanics", "%s on a ramp of %.1f %%", ways[i].name,
                                         100 * tan(k->hold_grade));
            check.least = 1;
            if (i == 2) check.outcome = DD_CHECK_CAUTION; /* with somebody at the pedal and chocks carried this need not do alone */
            dd_text(check.words, sizeof check.words, "grip under the wheels: front %.2f, rear %.2f, trailer %.2f", k->hold_friction_front, k->hold_friction_rear,
                    k->hold_friction_trailer);
            dd_reporter_check(r, &check);
        }
        if (i == 0 && margin < STEADY)
            dd_reporter_note(r, "The park brake alone %s on the ramp of %.1f %%: keep a foot on the pedal, chock the trailer before the boat moves.",
                             margin < 0 ? "does not hold the rig" : "holds the rig by less than a tenth", 100 * tan(k->hold_grade));
    }
    dd_check check = dd_check_of("holding", NULL, most, b->scenario->trailer.coupling_rating, "N", "trailer.coupling rating", "coupling load on a ramp of %.1f %%", 100 * tan(k->hold_grade));
    dd_text(check.words, sizeof check.words, isnan(check.limit) ? "give trailer.coupling rating" : "held there, boat on the trailer, out of the water");
    dd_reporter_check(r, &check);
    dd_reporter_source(r, "chock figures");
    dd_reporter_source(r, "weed on a ramp");
}

/* Friction that is needed, by slope: what is below a curve slides. */
static void add_chart(const dd_brake *b)
{
    dd_reporter *r = b->report;
    const dd_vehicle_parameters *v = &b->scenario->vehicle;
    dd_reporter_table(r, "holding_chart", "Friction needed to hold, by slope", DD_REPORT_LONG);
    dd_reporter_column(r, "slope", "%", 1, "trailer down the slope");
    dd_reporter_column(r, "front wheels", "", 3, "brakes on the front axle alone");
    dd_reporter_column(r, "rear wheels", "", 3, "brakes on the rear axle alone");
    dd_reporter_column(r, "all wheels", "", 3, "foot brake");
    dd_reporter_column(r, "rear wheels lifted", "", 3, "rear axle alone, nothing on the coupling");
    dd_reporter_column(r, "all wheels chocked", "", 3, "foot brake and chocks at the trailer");
    const way chocked = {"", BOTH, true, false, true, false};
    for (int i = 0; i <= 30; i++) {
        const double angle = atan(0.01 * i);
        dd_standing z = dd_stand_on(v, &b->loaded, b->scenario->gravity, angle, 0, NAN);
        const dd_standing lifted = dd_stand_on(v, &b->loaded, b->scenario->gravity, angle, 0, 0);
        dd_reporter_value(r, 0.01 * i);
        for (int axles = FRONT; axles <= BOTH; axles++) dd_reporter_value(r, dd_friction_needed(&z, axles));
        dd_reporter_value(r, dd_friction_needed(&lifted, REAR));
        (void)held_by_trailer(b, &chocked, angle, &z);
        dd_reporter_value(r, dd_friction_needed(&z, BOTH));
    }
}

dd_status dd_brake_hold(dd_brake *b, dd_error *error)
{
    (void)error;
    add_ways(b);
    add_chart(b);
    return DD_OK;
}
