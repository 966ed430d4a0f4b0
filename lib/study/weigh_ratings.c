/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every load on the road against its rating, in every state of loading; a rating that is not given is said to be missing. */
#include "lib/base/numbers.h"
#include "lib/rig/hitch.h"
#include "lib/rig/tyres.h"
#include "lib/study/weigh.h"
#include <math.h>
#include <string.h>

#define PLATE "maker's plate"

/* key: what to give where the limit is not known; words otherwise, may be empty. */
static dd_check check_of(const dd_state_of_loading *state, double value, double limit, const char *unit, const char *key, const char *name)
{
    dd_check check = dd_check_of("ratings", state->name, value, limit, unit, isnan(limit) ? "" : PLATE, "%s", name);
    if (isnan(limit)) dd_text(check.words, sizeof check.words, "give %s", key);
    return check;
}

static void put(const dd_weigh *w, dd_check check) { dd_reporter_check(w->report, &check); }

static void check_trailer(const dd_weigh *w, const dd_state_of_loading *s)
{
    const dd_trailer_parameters *t = &w->scenario->trailer;
    const double g = w->scenario->gravity;
    put(w, check_of(s, s->road.aggregate_mass, t->aggregate_mass_rating, "kg", "trailer.aggregate mass rating", "trailer's aggregate mass"));
    put(w, check_of(s, s->road.axle_group / g, t->axle_group_rating, "kg", "trailer.axle group rating", "trailer's axle group"));
    for (int i = 0; i < t->axle_count; i++) {
        char key[64], name[64];
        dd_text(key, sizeof key, "trailer.axles[%d].rating", i + 1);
        dd_text(name, sizeof name, "trailer's axle %d", i + 1);
        put(w, check_of(s, s->road.axle[i] / g, t->axles[i].rating, "kg", key, name));
    }
    put(w, check_of(s, s->road.coupling, t->coupling_rating, "N", "trailer.coupling rating", "coupling's vertical load"));
    put(w, check_of(s, s->road.aggregate_mass, t->coupling_aggregate_rating, "kg", "trailer.coupling aggregate rating", "coupling's trailer mass"));
    dd_check size = check_of(s, s->boat.mass, 0.9 * (t->aggregate_mass_rating - t->mass), "kg", "trailer.aggregate mass rating",
                             "boat on this size of trailer");
    size.outcome = DD_CHECK_CAUTION;
    if (!isnan(size.limit)) {
        dd_text(size.source, sizeof size.source, "trailer size");
        dd_text(size.words, sizeof size.words, "above that advisers name the next size of trailer");
        put(w, size);
    }
}

static void check_d_value(const dd_weigh *w, const dd_state_of_loading *s)
{
    const dd_vehicle_parameters *v = &w->scenario->vehicle;
    const double vehicle = isnan(v->gross_mass_rating) ? v->mass : v->gross_mass_rating, d = dd_coupling_d_value(vehicle, s->road.aggregate_mass);
    const struct {
        double limit;
        const char *key, *name;
    } both[] = {{v->tow_bar_d_value, "vehicle.tow bar d value", "D value of the tow bar"},
                {w->scenario->trailer.coupling_d_value, "trailer.coupling d value", "D value of the coupling"}};
    for (int i = 0; i < 2; i++) {
        dd_check check = check_of(s, d, both[i].limit, "kN", both[i].key, both[i].name);
        if (!isnan(check.limit)) {
            dd_text(check.source, sizeof check.source, "coupling d value");
            dd_text(check.words, sizeof check.words, "of the trailer as loaded and the vehicle's %s",
                    isnan(v->gross_mass_rating) ? "present mass, its gross mass rating not being given" : "gross mass rating");
        }
        put(w, check);
    }
}

/* By the classes that hitches, couplings and their chains are marked with; a trailer is as strong as the lesser. */
static void check_classes(const dd_weigh *w, const dd_state_of_loading *s)
{
    const dd_trailer_parameters *t = &w->scenario->trailer;
    const double weight = s->road.aggregate_mass * w->scenario->gravity, rating = isnan(t->aggregate_mass_rating) ? s->road.aggregate_mass : t->aggregate_mass_rating;
    const struct {
        int marked;
        const char *key, *name;
    } both[] = {{w->scenario->vehicle.hitch_class, "vehicle.hitch class", "trailer's mass by the tow bar's class"},
                {t->coupling_class, "trailer.coupling class", "trailer's mass by the coupling's class"}};
    double chain = NAN;
    for (int i = 0; i < 2; i++) {
        dd_check check = check_of(s, s->road.aggregate_mass, dd_hitch_class_mass(both[i].marked), "kg", both[i].key, both[i].name);
        if (!isnan(check.limit)) dd_text(check.source, sizeof check.source, "hitch classes");
        put(w, check);
        chain = fmin(chain, dd_hitch_class_chain(both[i].marked, rating)); /* NaN gives way */
    }
    dd_check advised = check_of(s, t->brakes.chain_break, 1.5 * weight, "kN", "", "strength of each safety chain as advised");
    advised.least = 1;
    advised.outcome = DD_CHECK_CAUTION;
    dd_text(advised.source, sizeof advised.source, "chain strength, advice");
    dd_text(advised.words, sizeof advised.words, isnan(advised.value) ? "give trailer.brakes.chain break strength" : "1.5 times the loaded trailer's weight is advised");
    put(w, advised);
    dd_check by_class = check_of(s, t->brakes.chain_break, chain, "kN", "vehicle.hitch class or trailer.coupling class", "strength of each safety chain by the class");
    by_class.least = 1;
    if (!isnan(chain)) dd_text(by_class.source, sizeof by_class.source, "hitch classes");
    if (!isnan(chain) && isnan(by_class.value)) dd_text(by_class.words, sizeof by_class.words, "give trailer.brakes.chain break strength");
    put(w, by_class);
}

static void check_vehicle(const dd_weigh *w, const dd_state_of_loading *s)
{
    const dd_vehicle_parameters *v = &w->scenario->vehicle;
    const double g = w->scenario->gravity, payload = s->road.vehicle_mass - v->kerb_mass;
    put(w, check_of(s, s->road.coupling / g, v->tow_ball_rating, "kg", "vehicle.tow ball rating", "tow ball's vertical load"));
    dd_check towing = check_of(s, s->road.aggregate_mass, v->towing_rating_braked, "kg", "vehicle.braked towing rating", "towing a trailer with brakes");
    if (!isnan(v->towing_rating_unbraked)) {
        char most[DD_REPORTER_TEXT], text[sizeof towing.words];
        dd_text(text, sizeof text, "%s%swithout brakes %s", towing.words, towing.words[0] != '\0' ? "; " : "",
                dd_reporter_quantity(w->report, v->towing_rating_unbraked, "kg", 0, most));
        memcpy(towing.words, text, sizeof text);
    }
    put(w, towing);
    put(w, check_of(s, s->road.vehicle_mass, v->gross_mass_rating, "kg", "vehicle.gross mass rating", "vehicle's gross mass"));
    put(w, check_of(s, payload, v->gross_mass_rating - v->kerb_mass, "kg", "vehicle.kerb mass and gross mass rating",
                    "vehicle's payload with the coupling load"));
    put(w, check_of(s, s->road.vehicle_front / g, v->front_axle_rating, "kg", "vehicle.front axle rating", "vehicle's front axle"));
    put(w, check_of(s, s->road.vehicle_rear / g, v->rear_axle_rating, "kg", "vehicle.rear axle rating", "vehicle's rear axle"));
    put(w, check_of(s, s->road.combination_mass, v->combination_mass_rating, "kg", "vehicle.combination mass rating", "combination's mass"));
}

/* A tyre's load against what it carries at its pressure, or where that is not known at its full pressure. block: "trailer.wheels". */
static void check_tyre(const dd_weigh *w, const dd_state_of_loading *s, const dd_tyre_parameters *tyre, int car_tyre, double load,
                       const char *block, const char *name)
{
    char key[96], now[DD_REPORTER_TEXT], linear[DD_REPORTER_TEXT];
    double proportional;
    const double capacity = dd_tyre_capacity(tyre, car_tyre), rating = dd_tyre_rating(tyre, car_tyre);
    const double pressure = dd_tyre_pressure_for(tyre, car_tyre, load, &proportional);
    dd_text(key, sizeof key, "%s.load index", block);
    dd_check check = check_of(s, load, isnan(capacity) ? rating : capacity, "kg", key, name);
    if (!isnan(check.limit)) {
        dd_text(check.source, sizeof check.source, "%s", isnan(tyre->load_rating) ? "load index" : PLATE);
        if (isnan(pressure))
            dd_text(check.words, sizeof check.words, "at its full pressure; give %s.pressure and full pressure to check it as it is", block);
        else
            dd_text(check.words, sizeof check.words, "%s; this load needs %s, by simple proportion %s%s",
                    isnan(capacity) ? "at its full pressure" : "at its present pressure", dd_reporter_quantity(w->report, pressure, "kPa", 0, now),
                    dd_reporter_quantity(w->report, proportional, "kPa", 0, linear),
                    load > rating ? ": more than the tyre may have" : "");
        if (!isnan(pressure)) dd_reporter_source(w->report, "tyre pressure");
        if (car_tyre == 1) dd_reporter_source(w->report, "car tyre on a trailer");
    }
    put(w, check);
}

static void check_speed(const dd_weigh *w, const dd_tyre_parameters *tyre, const char *block, const char *name)
{
    const double speed = w->scenario->vehicle.road_speed, most = dd_speed_symbol_speed(tyre->speed_symbol);
    char key[96];
    dd_text(key, sizeof key, "%s.speed symbol%s", block, isnan(speed) ? " and vehicle.road speed" : "");
    dd_check check = check_of(&w->states[0], speed, most, "km/h", key, name);
    check.state[0] = '\0';
    if (!isnan(most)) {
        dd_text(check.source, sizeof check.source, "speed symbol");
        if (isnan(speed)) dd_text(check.words, sizeof check.words, "give vehicle.road speed");
    }
    put(w, check);
}

static void check_wheels(const dd_weigh *w, const dd_state_of_loading *s)
{
    const dd_trailer_parameters *t = &w->scenario->trailer;
    const double wheel = dd_weigh_heaviest_wheel(w, s) / w->scenario->gravity, tyre = wheel / t->wheels.tyres_each_side;
    check_tyre(w, s, &t->wheels.tyre, t->wheels.car_tyre, tyre, "trailer.wheels", "trailer's most loaded tyre");
    put(w, check_of(s, tyre, t->wheels.rim_rating, "kg", "trailer.wheels.rim rating", "trailer's most loaded rim"));
    put(w, check_of(s, wheel, t->hubs.bearing_rating, "kg", "trailer.hubs.bearing rating", "trailer's most loaded hub"));
    const dd_tyre_parameters *own = &w->scenario->vehicle.tyres;
    const double g = w->scenario->gravity;
    check_tyre(w, s, own, 0, s->road.vehicle_front / g / 2, "vehicle.tyres", "vehicle's front tyres");
    check_tyre(w, s, own, 0, s->road.vehicle_rear / g / 2, "vehicle.tyres", "vehicle's rear tyres");
}

/* The tyres of an axle are together rated for what the axle is rated for. */
static void check_tyres_of_axles(const dd_weigh *w)
{
    const dd_trailer_parameters *t = &w->scenario->trailer;
    const double together = 2 * t->wheels.tyres_each_side * dd_tyre_rating(&t->wheels.tyre, t->wheels.car_tyre);
    for (int i = 0; i < t->axle_count; i++) {
        char name[64];
        dd_text(name, sizeof name, "rating of axle %d against that of its tyres", i + 1);
        dd_check check = check_of(&w->states[0], t->axles[i].rating, together, "kg", "trailer.wheels.load index", name);
        check.state[0] = '\0';
        if (!isnan(together)) dd_text(check.source, sizeof check.source, "tyres against axle");
        if (!isnan(together) && isnan(check.value)) dd_text(check.words, sizeof check.words, "give trailer.axles[%d].rating", i + 1);
        put(w, check);
    }
}

dd_status dd_weigh_ratings(dd_weigh *w, dd_error *error)
{
    (void)error;
    for (int i = 0; i < w->state_count; i++) {
        const dd_state_of_loading *s = &w->states[i];
        check_trailer(w, s);
        check_d_value(w, s);
        check_classes(w, s);
        check_vehicle(w, s);
        check_wheels(w, s);
    }
    check_tyres_of_axles(w);
    check_speed(w, &w->scenario->trailer.wheels.tyre, "trailer.wheels", "speed of the trailer's tyres");
    check_speed(w, &w->scenario->vehicle.tyres, "vehicle.tyres", "speed of the vehicle's tyres");
    return DD_OK;
}
