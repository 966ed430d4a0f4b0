/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wheels: whether those on the trailer, and others that are considered, fit hub and brake, what they change, and the pressure for
   the load.

   Across the trailer, outboard from the mounting face: the tyre's middle at -ET, its sides at -ET +- width/2. So an offset that
   grows by d brings both wheels of an axle inboard, the track changes by -2 d, and the load's lever on the hub by -d. */
#include "lib/base/numbers.h"
#include "lib/rig/rig.h"
#include "lib/rig/tyres.h"
#include "lib/study/weigh.h"
#include <math.h>
#include <string.h>

#define USUAL_GAP 0.02        /* m, source "wheel fit" */
#define SAME_CIRCLE 0.00035   /* m: 4 1/2 in against 114 mm is the same */
#define AMISS 0.0             /* what must be the same: none of it amiss */
#define CENTRED 0.0003        /* m: a bore wider than the collar by more does not centre the wheel */

/* A wheel with what is not given taken from the one that is on now, and what follows from it. */
typedef struct fitted {
    dd_wheel_parameters wheel;
    double track, offset, guard, frame, over, radius, brake, moment, rating, pressure, coupling;
} fitted;

#define CHECK(value, limit, unit, ...) dd_check_of("wheels", NULL, value, limit, unit, "wheel fit", __VA_ARGS__)

static dd_check at_least(dd_check check)
{
    check.least = 1;
    return check;
}

static double heaviest_wheel(const dd_weigh *w)
{
    double most = 0;
    for (int s = 0; s < w->state_count; s++) most = fmax(most, dd_weigh_heaviest_wheel(w, &w->states[s]));
    return most;
}

static fitted wheels_now(const dd_weigh *w)
{
    dd_trailer_parameters t = w->scenario->trailer;
    dd_trailer_complete(&t);
    fitted f = {.wheel = t.wheels, .track = t.track, .guard = t.hubs.gap_to_guard, .frame = t.hubs.gap_to_frame, .over = t.hubs.gap_over_tyre};
    if (isnan(f.wheel.tyre_width)) f.wheel.tyre_width = t.tyre_width;
    if (isnan(f.wheel.tyre.diameter)) f.wheel.tyre.diameter = 2 * (t.tyre_radius + t.tyre_squash);
    const double load = heaviest_wheel(w);
    f.offset = dd_wheel_offset(&f.wheel);
    f.radius = t.tyre_radius;
    f.moment = -load * f.offset;
    f.rating = dd_tyre_rating(&f.wheel.tyre, f.wheel.car_tyre);
    f.pressure = dd_tyre_pressure_for(&f.wheel.tyre, f.wheel.car_tyre, load / w->scenario->gravity / f.wheel.tyres_each_side, NULL);
    f.coupling = w->states[0].road.coupling;
    return f;
}

static double or_now(double other, double now) { return isnan(other) ? now : other; }

/* What is not given of the others is as on those that are on. */
static dd_status wheels_then(const dd_weigh *w, const fitted *now, fitted *f, dd_error *error)
{
    dd_trailer_parameters t = w->scenario->trailer;
    dd_trailer_complete(&t);
    *f = (fitted){.wheel = t.other_wheels};
    f->wheel.tyre_width = or_now(f->wheel.tyre_width, now->wheel.tyre_width);
    f->wheel.tyre.diameter = or_now(f->wheel.tyre.diameter, now->wheel.tyre.diameter);
    f->wheel.rim_width = or_now(f->wheel.rim_width, now->wheel.rim_width);
    f->offset = or_now(dd_wheel_offset(&f->wheel), now->offset);
    const double load = heaviest_wheel(w), more = isnan(f->offset) ? 0 : f->offset - now->offset;
    const double wider = 0.5 * (f->wheel.tyre_width - now->wheel.tyre_width), higher = 0.5 * (f->wheel.tyre.diameter - now->wheel.tyre.diameter);
    f->track = now->track - 2 * more;
    f->guard = now->guard - wider + more;
    f->frame = now->frame - wider - more;
    f->over = now->over - higher;
    f->radius = now->radius + higher;
    f->brake = now->wheel.tyre.diameter / f->wheel.tyre.diameter - 1;
    f->moment = -load * f->offset;
    f->rating = dd_tyre_rating(&f->wheel.tyre, f->wheel.car_tyre);
    f->pressure = dd_tyre_pressure_for(&f->wheel.tyre, f->wheel.car_tyre, load / w->scenario->gravity / f->wheel.tyres_each_side, NULL);
    /* The frame keeps its place over the hubs: it stands higher by as much. */
    t.tyre_radius += higher;
    t.coupling_height += higher;
    t.centre_above_ground += higher;
    dd_road_loads loads;
    dd_status status = dd_road_statics(&w->scenario->vehicle, &t, w->states[0].boat.mass, w->states[0].centre, w->scenario->gravity, &loads, error);
    if (status == DD_OK) f->coupling = loads.coupling;
    return status;
}

static bool is_tyre_given(const dd_tyre_parameters *t)
{
    return t->load_index >= 0 || t->speed_symbol >= 0 || !(isnan(t->load_rating) && isnan(t->pressure) && isnan(t->full_pressure) && isnan(t->diameter));
}

static bool is_given(const dd_wheel_parameters *w)
{
    return is_tyre_given(&w->tyre) || w->stud_count >= 0 || w->nut_seat >= 0 ||
           !(isnan(w->tyre_width) && isnan(w->rim_rating) && isnan(w->rim_width) && isnan(w->offset) && isnan(w->backspace) &&
             isnan(w->pitch_circle) && isnan(w->centre_bore) && isnan(w->brake_room));
}

static void add_heading(dd_reporter *r)
{
    dd_reporter_table(r, "wheels", "Wheels of the trailer", 0);
    dd_reporter_column(r, "wheels", "", 0, "on it now, or considered");
    dd_reporter_column(r, "track", "mm", 0, "between the middles of an axle's tyres");
    dd_reporter_column(r, "offset", "mm", 1, "ET: mounting face on the street side of the rim's middle");
    dd_reporter_column(r, "rim width", "mm", 0, "between its flanges");
    dd_reporter_column(r, "tyre width", "mm", 0, "over its sides");
    dd_reporter_column(r, "gap to guard", "mm", 0, "from the outer side");
    dd_reporter_column(r, "gap to frame", "mm", 0, "from the inner side");
    dd_reporter_column(r, "gap over tyre", "mm", 0, "from the tread to the guard above");
    dd_reporter_column(r, "loaded radius", "mm", 0, "height of the hub; the frame rises and falls with it");
    dd_reporter_column(r, "brake force", "%", 1, "at the road for the same torque of the brake, and the pull of the same brake lever");
    dd_reporter_column(r, "hub moment", "N m", 0, "of the largest wheel load about the mounting face; outboard of it > 0");
    dd_reporter_column(r, "coupling load", "kg", 0, "in the first state: a frame that stands higher tips its nose");
    dd_reporter_column(r, "tyre rating", "kg", 0, "of one tyre, on a trailer");
    dd_reporter_column(r, "pressure", "kPa", 0, "that the largest tyre load of all states needs");
}

static void add_row(const dd_weigh *w, const char *name, const fitted *f)
{
    dd_reporter *r = w->report;
    const double values[] = {f->track, f->offset, f->wheel.rim_width, f->wheel.tyre_width, f->guard, f->frame, f->over, f->radius, f->brake,
                             f->moment, f->coupling / w->scenario->gravity, f->rating, f->pressure};
    dd_reporter_words(r, "%s", name);
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) dd_reporter_value(r, values[i]);
}

static fitted difference(const fitted *a, const fitted *b)
{
    return (fitted){.wheel = {.rim_width = b->wheel.rim_width - a->wheel.rim_width, .tyre_width = b->wheel.tyre_width - a->wheel.tyre_width},
                    .track = b->track - a->track,
                    .offset = b->offset - a->offset,
                    .guard = b->guard - a->guard,
                    .frame = b->frame - a->frame,
                    .over = b->over - a->over,
                    .radius = b->radius - a->radius,
                    .brake = b->brake - a->brake,
                    .moment = b->moment - a->moment,
                    .rating = b->rating - a->rating,
                    .pressure = b->pressure - a->pressure,
                    .coupling = b->coupling - a->coupling};
}

static void put(const dd_weigh *w, dd_check check, const char *missing, const char *words)
{
    if (isnan(check.value) || isnan(check.limit)) {
        check.source[0] = '\0';
        words = missing;
    }
    dd_text(check.words, sizeof check.words, "%s", words);
    dd_reporter_check(w->report, &check);
}

static double either(int a, int b, double value) { return a < 0 || b < 0 ? NAN : value; }

/* which: "wheels" or "other wheels". */
static void check_fit(const dd_weigh *w, const fitted *f, const char *which)
{
    static const char *const seats[] = {"a cone", "a ball", "flat"};
    const dd_hub_parameters *h = &w->scenario->trailer.hubs;
    const dd_wheel_parameters *o = &f->wheel;
    char missing[160], words[200], at_hub[DD_REPORTER_TEXT], on_wheel[DD_REPORTER_TEXT];
    dd_text(missing, sizeof missing, "give it in trailer.%s and trailer.hubs", which);
    dd_text(words, sizeof words, "%d holes for %d studs", o->stud_count, h->stud_count);
    put(w, CHECK(either(o->stud_count, h->stud_count, fabs(o->stud_count - (double)h->stud_count)), AMISS, "", "%s: studs amiss", which), missing,
        words);
    dd_text(words, sizeof words, "circle of %s for one of %s", dd_reporter_quantity(w->report, o->pitch_circle, "mm", 1, on_wheel),
            dd_reporter_quantity(w->report, h->pitch_circle, "mm", 1, at_hub));
    put(w, CHECK(fabs(o->pitch_circle - h->pitch_circle), SAME_CIRCLE, "mm", "%s: pitch circle amiss", which), missing, words);
    put(w, at_least(CHECK(o->centre_bore - h->spigot, 0, "mm", "%s: centre bore less the hub's collar", which)), missing,
        "the collar must go through the bore");
    dd_check centred = CHECK(o->centre_bore - h->spigot, CENTRED, "mm", "%s: play on the hub's collar", which);
    centred.outcome = DD_CHECK_CAUTION;
    if (!isnan(centred.value) && centred.value >= 0) put(w, centred, missing, "with more play the nuts alone centre the wheel: fit a ring, or nuts that centre");
    dd_text(words, sizeof words, "the wheel's holes are for %s, the nuts are %s", o->nut_seat < 0 ? "" : seats[o->nut_seat],
            h->nut_seat < 0 ? "" : seats[h->nut_seat]);
    put(w, CHECK(either(o->nut_seat, h->nut_seat, o->nut_seat != h->nut_seat), AMISS, "", "%s: nut seats amiss", which), missing, words);
    put(w, at_least(CHECK(o->brake_room - h->brake_diameter, 0, "mm", "%s: room less the brake", which)), missing, "drum or caliper must clear the rim");
}

static void check_gap(const dd_weigh *w, double gap, const char *which, const char *where, const char *key)
{
    char missing[120];
    dd_text(missing, sizeof missing, "give trailer.hubs.%s", key);
    put(w, at_least(CHECK(gap, 0, "mm", "%s: gap %s", which, where)), missing, "below nothing it rubs");
    dd_check usual = at_least(CHECK(gap, USUAL_GAP, "mm", "%s: usual gap %s", which, where));
    usual.outcome = DD_CHECK_CAUTION;
    if (!isnan(gap)) put(w, usual, missing, "less may rub as tyre and arm give way");
}

static void check_wheels(const dd_weigh *w, const fitted *f, const char *which)
{
    check_fit(w, f, which);
    check_gap(w, f->guard, which, "to the guard", "gap to guard");
    check_gap(w, f->frame, which, "to the frame", "gap to frame");
    check_gap(w, f->over, which, "over the tyre", "gap over tyre");
}

static void check_other_ratings(const dd_weigh *w, const fitted *f)
{
    const double tyre = heaviest_wheel(w) / w->scenario->gravity / f->wheel.tyres_each_side, capacity = dd_tyre_capacity(&f->wheel.tyre, f->wheel.car_tyre);
    const double speed = w->scenario->vehicle.road_speed;
    dd_check load = CHECK(tyre, isnan(capacity) ? f->rating : capacity, "kg", "other wheels: most loaded tyre");
    dd_text(load.source, sizeof load.source, "load index");
    put(w, load, "give trailer.other wheels.load index", isnan(capacity) ? "at its full pressure" : "at the pressure given");
    dd_check rim = CHECK(tyre, f->wheel.rim_rating, "kg", "other wheels: most loaded rim");
    dd_text(rim.source, sizeof rim.source, "maker's plate");
    put(w, rim, "give trailer.other wheels.rim rating", "");
    dd_check fast = CHECK(speed, dd_speed_symbol_speed(f->wheel.tyre.speed_symbol), "km/h", "other wheels: speed of the tyres");
    dd_text(fast.source, sizeof fast.source, "speed symbol");
    put(w, fast, "give trailer.other wheels.speed symbol and vehicle.road speed", "");
}

/* The vehicle on other tyres: its ball stands higher, its gears are longer. */
static dd_status say_vehicle(const dd_weigh *w, dd_error *error)
{
    dd_vehicle_parameters v = w->scenario->vehicle;
    const dd_tyre_parameters *o = &v.other_tyres;
    if (!is_tyre_given(o)) return DD_OK;
    dd_vehicle_complete(&v);
    const double now = or_now(v.tyres.diameter, 2 * v.tyre_radius), then = or_now(o->diameter, now), g = w->scenario->gravity;
    const dd_state_of_loading *s = &w->states[0];
    dd_road_loads loads;
    v.tyre_radius += 0.5 * (then - now);
    v.coupling_height += 0.5 * (then - now);
    v.centre_height += 0.5 * (then - now);
    dd_status status = dd_road_statics(&v, &w->scenario->trailer, s->boat.mass, s->centre, g, &loads, error);
    if (status != DD_OK) return status;
    char up[DD_REPORTER_TEXT], load[DD_REPORTER_TEXT];
    dd_reporter_note(w->report,
                     "Other tyres of the vehicle: the ball %s higher, the coupling load changes by %s; at the same engine speed %+.1f %% of road "
                     "speed, of the same torques at axle and brake %+.1f %% of force at the road.",
                     dd_reporter_quantity(w->report, 0.5 * (then - now), "mm", 0, up),
                     dd_reporter_quantity(w->report, (loads.coupling - s->road.coupling) / g, "kg", 1, load), 100 * (then / now - 1),
                     100 * (now / then - 1));
    const double rear = s->road.vehicle_rear / g / 2, capacity = dd_tyre_capacity(o, 0);
    dd_check tyre = CHECK(fmax(rear, s->road.vehicle_front / g / 2), isnan(capacity) ? dd_tyre_rating(o, 0) : capacity, "kg",
                             "vehicle's other tyres: most loaded");
    dd_text(tyre.source, sizeof tyre.source, "load index");
    put(w, tyre, "give vehicle.other tyres.load index", isnan(capacity) ? "at its full pressure" : "at the pressure given");
    dd_check fast = CHECK(v.road_speed, dd_speed_symbol_speed(o->speed_symbol), "km/h", "vehicle's other tyres: speed");
    dd_text(fast.source, sizeof fast.source, "speed symbol");
    put(w, fast, "give vehicle.other tyres.speed symbol and vehicle.road speed", "");
    return DD_OK;
}

dd_status dd_weigh_wheels(dd_weigh *w, dd_error *error)
{
    const dd_trailer_parameters *t = &w->scenario->trailer;
    const fitted now = wheels_now(w);
    add_heading(w->report);
    add_row(w, "on it now", &now);
    if (is_given(&t->wheels) || t->hubs.stud_count >= 0 || !isnan(t->hubs.gap_to_guard)) check_wheels(w, &now, "wheels");
    if (is_given(&t->other_wheels)) {
        fitted then;
        dd_status status = wheels_then(w, &now, &then, error);
        if (status != DD_OK) return status;
        const fitted change = difference(&now, &then);
        add_row(w, "others", &then);
        add_row(w, "change", &change);
        check_wheels(w, &then, "other wheels");
        check_other_ratings(w, &then);
        dd_reporter_source(w->report, "wheel offset");
    }
    dd_reporter_table_note(w->report, "%s", isnan(now.offset) ? "Give the offset of the wheels that are on as well: without it what others do to track and gaps is not known."
                                                              : "A larger offset brings the wheels inboard: less track, more gap to the guard.");
    return say_vehicle(w, error);
}
