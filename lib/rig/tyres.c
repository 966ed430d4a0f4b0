/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/rig/tyres.h"

#define QUANTITY .type = DD_KEY_QUANTITY
#define LENGTH .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .unit = "mm"
#define UNCHECKED .fallback = NAN, .fallback_text = "not checked", .source = "the program"
#define COUNT .type = DD_KEY_COUNT

static const char *const symbols[] = {
#define DD_SPEED_SYMBOL(symbol, speed) symbol,
#include "lib/rig/tyres.def"
    NULL};
static const double speeds[] = {
#define DD_SPEED_SYMBOL(symbol, speed) speed,
#include "lib/rig/tyres.def"
};
static const double masses[] = {
#define DD_LOAD_INDEX(index, mass) [index - DD_LEAST_LOAD_INDEX] = mass,
#include "lib/rig/tyres.def"
};
enum { SYMBOLS = sizeof speeds / sizeof speeds[0] };

static const char *const seats[] = {"cone", "ball", "flat", NULL};

/* Rows that a vehicle's tyres and a trailer's wheels have alike. */
/* clang-format off */
#define TYRE_ROWS(AT)                                                                                                          \
    {.name = "load index", COUNT, AT(load_index), .least = DD_LEAST_LOAD_INDEX, .most = DD_MOST_LOAD_INDEX, UNCHECKED,      \
     .help = "load index on the tyre's side, 60 to 130; beyond them give the load rating"},                                    \
    {.name = "load rating", QUANTITY, .dimension = DD_MASS, AT(load_rating), .least = 10, .most = 10000, .fallback = NAN,   \
     .fallback_text = "by the load index", .source = "load index", .help = "mass that one tyre carries at its full pressure"}, \
    {.name = "speed symbol", .type = DD_KEY_CHOICE, AT(speed_symbol), .choices = symbols, UNCHECKED,                        \
     .help = "letter behind the load index"},                                                                                  \
    {.name = "pressure", QUANTITY, .dimension = DD_PRESSURE, AT(pressure), .least = 20e3, .most = 1.2e6, UNCHECKED,         \
     .unit = "kPa", .help = "pressure that the tyres have, cold"},                                                             \
    {.name = "full pressure", QUANTITY, .dimension = DD_PRESSURE, AT(full_pressure), .least = 50e3, .most = 1.2e6, UNCHECKED, \
     .unit = "kPa", .help = "pressure at which a tyre carries its rating, from its side"},                                     \
    {.name = "tyre diameter", LENGTH, AT(diameter), .least = 0.15, .most = 2, .fallback = NAN,                         \
     .fallback_text = "twice the tyre radius and squash given", .source = "the program", .help = "diameter of the unloaded tyre"}

#define TYRE(field) .offset = offsetof(dd_tyre_parameters, field)
const dd_key dd_vehicle_tyre_keys[] = {
    TYRE_ROWS(TYRE),
    {0}};

#define FIELD(field) .offset = offsetof(dd_wheel_parameters, field)
#define TYRE_OF(field) FIELD(tyre.field)

const dd_key dd_wheel_keys[] = {
    TYRE_ROWS(TYRE_OF),
    {.name = "car tyre", .type = DD_KEY_FLAG, FIELD(car_tyre), .fallback = 0, .source = "the program",
     .help = "a passenger car's tyre: on a trailer its rating is divided by 1.10"},
    {.name = "tyres each side", COUNT, FIELD(tyres_each_side), .least = 1, .most = 2, .fallback = 1, .source = "the program",
     .help = "at each end of an axle; of pairs give the load index for pairs"},
    {.name = "tyre width", LENGTH, FIELD(tyre_width), .least = 0.05, .most = 0.6, .fallback = NAN,
     .fallback_text = "the trailer's tyre width", .source = "the program", .help = "width of the tyre over its sides"},
    {.name = "rim rating", QUANTITY, .dimension = DD_MASS, FIELD(rim_rating), .least = 10, .most = 10000, UNCHECKED,
     .help = "mass that one rim is rated for"},
    {.name = "rim width", LENGTH, FIELD(rim_width), .least = 0.05, .most = 0.6, UNCHECKED,
     .help = "between the rim's flanges; with the backspace it gives the offset"},
    {.name = "offset", LENGTH, FIELD(offset), .least = -0.2, .most = 0.2, .fallback = NAN,
     .fallback_text = "backspace less half the rim's width", .source = "wheel offset",
     .help = "of the mounting face outboard (towards the street) of the rim's middle, as in ET 25"},
    {.name = "backspace", LENGTH, FIELD(backspace), .least = 0, .most = 0.5, UNCHECKED,
     .help = "from the rim's inner edge to its mounting face"},
    {.name = "stud count", COUNT, FIELD(stud_count), .least = 3, .most = 12, UNCHECKED, .help = "holes for studs"},
    {.name = "pitch circle", LENGTH, FIELD(pitch_circle), .least = 0.05, .most = 0.4, UNCHECKED,
     .help = "diameter of the circle through the middles of the holes"},
    {.name = "centre bore", LENGTH, FIELD(centre_bore), .least = 0.02, .most = 0.3, UNCHECKED, .help = "diameter of the hole in the middle"},
    {.name = "nut seat", .type = DD_KEY_CHOICE, FIELD(nut_seat), .choices = seats, UNCHECKED,
     .help = "where the nuts bear: a cone of 60 degrees, a ball, or flat"},
    {.name = "brake room", LENGTH, FIELD(brake_room), .least = 0.05, .most = 0.8, UNCHECKED,
     .help = "diameter of the largest drum or caliper that the rim clears"},
    {0}};
#undef FIELD

#define FIELD(field) .offset = offsetof(dd_hub_parameters, field)
const dd_key dd_hub_keys[] = {
    {.name = "stud count", COUNT, FIELD(stud_count), .least = 3, .most = 12, UNCHECKED, .help = "studs of the hub"},
    {.name = "pitch circle", LENGTH, FIELD(pitch_circle), .least = 0.05, .most = 0.4, UNCHECKED,
     .help = "diameter of the circle through the middles of the studs"},
    {.name = "spigot diameter", LENGTH, FIELD(spigot), .least = 0.02, .most = 0.3, UNCHECKED,
     .help = "diameter of the hub's collar in the wheel's centre bore"},
    {.name = "nut seat", .type = DD_KEY_CHOICE, FIELD(nut_seat), .choices = seats, UNCHECKED,
     .help = "shape of the nuts: a cone of 60 degrees, a ball, or flat"},
    {.name = "brake diameter", LENGTH, FIELD(brake_diameter), .least = 0.05, .most = 0.8, UNCHECKED,
     .help = "of the brake drum, or over the caliper about the axle"},
    {.name = "bearing rating", QUANTITY, .dimension = DD_MASS, FIELD(bearing_rating), .least = 10, .most = 10000, UNCHECKED,
     .help = "mass that one hub is rated for"},
    {.name = "gap to guard", LENGTH, FIELD(gap_to_guard), .least = -0.1, .most = 1, UNCHECKED,
     .help = "from the outer side of the tyre on it now to the guard beside it"},
    {.name = "gap to frame", LENGTH, FIELD(gap_to_frame), .least = 0, .most = 1, UNCHECKED,
     .help = "from the inner side of the tyre on it now to frame, spring or arm"},
    {.name = "gap over tyre", LENGTH, FIELD(gap_over_tyre), .least = 0, .most = 1, UNCHECKED,
     .help = "from the tread of the tyre on it now to the guard above, loaded"},
    {0}};
/* clang-format on */
#undef FIELD

double dd_load_index_mass(int index)
{
    return index >= DD_LEAST_LOAD_INDEX && index <= DD_MOST_LOAD_INDEX ? masses[index - DD_LEAST_LOAD_INDEX] : NAN;
}

double dd_speed_symbol_speed(int symbol) { return symbol >= 0 && symbol < SYMBOLS ? speeds[symbol] / 3.6 : NAN; }

const char *dd_speed_symbol_name(int symbol) { return symbol >= 0 && symbol < SYMBOLS ? symbols[symbol] : NULL; }

#define CAR_TYRE_DIVISOR 1.10 /* source "car tyre on a trailer" */
#define PRESSURE_POWER 1.25   /* source "tyre pressure" */

double dd_tyre_rating(const dd_tyre_parameters *t, int car_tyre_on_trailer)
{
    const double rating = isnan(t->load_rating) ? dd_load_index_mass(t->load_index) : t->load_rating;
    return car_tyre_on_trailer == 1 ? rating / CAR_TYRE_DIVISOR : rating;
}

double dd_tyre_capacity(const dd_tyre_parameters *t, int car_tyre_on_trailer)
{
    const double share = t->pressure / t->full_pressure;
    return isnan(share) ? NAN : dd_tyre_rating(t, car_tyre_on_trailer) * fmin(1, pow(share, 1 / PRESSURE_POWER));
}

double dd_tyre_pressure_for(const dd_tyre_parameters *t, int car_tyre_on_trailer, double load, double *linear)
{
    const double share = load / dd_tyre_rating(t, car_tyre_on_trailer);
    if (linear != NULL) *linear = isnan(share) ? NAN : t->full_pressure * fmax(0, share);
    return isnan(share) ? NAN : t->full_pressure * pow(fmax(0, share), PRESSURE_POWER);
}

double dd_wheel_offset(const dd_wheel_parameters *w) { return isnan(w->offset) ? w->backspace - 0.5 * w->rim_width : w->offset; }

double dd_coupling_d_value(double vehicle_mass, double trailer_mass)
{
    const double gravity = 9.81; /* as the regulation that defines the figure rounds it; source "coupling d value" */
    return gravity * vehicle_mass * trailer_mass / (vehicle_mass + trailer_mass);
}
