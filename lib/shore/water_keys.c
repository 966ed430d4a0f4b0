/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys and rules of the block `water`. */
#include "lib/shore/shore.h"
#include "lib/shore/tide_given.h"
#include <stdio.h>

#define ICE_POINT 273.15
#define WATER(field) .offset = offsetof(dd_water, field)
#define SURGE(field) .offset = offsetof(dd_surge, field)
#define WAVE(field) .offset = offsetof(dd_wave, field)
#define WIND(field) .offset = offsetof(dd_wind, field)
#define QUANTITY .type = DD_KEY_QUANTITY

static const char *const kind_names[] = {"sea", "brackish", "fresh", NULL};

/* clang-format off */
static const dd_key level_keys[] = {
    {.name = "at", QUANTITY, .dimension = DD_TIME, .offset = 0, .least = 0.1, .most = 1e6, .fallback = NAN, .required = true,
     .help = "time after the start"},
    {.name = "level", QUANTITY, .dimension = DD_LENGTH, .offset = sizeof(double), .least = -100, .most = 100, .fallback = NAN,
     .required = true, .help = "height of the water surface then, above the ramp's datum"},
    {0}};

static const dd_key surge_keys[] = {
    {.name = "height", QUANTITY, .dimension = DD_LENGTH, SURGE(height), .least = 0, .most = 0.5, .fallback = 0,
     .source = "the program", .help = "from the lowest to the highest stand of the wash"},
    {.name = "period", QUANTITY, .dimension = DD_TIME, SURGE(period), .least = 2, .most = 600, .fallback = 8,
     .source = "design memory", .help = "from one highest stand to the next"},
    {0}};

static const dd_key set_up_keys[] = {
    {.name = "offset", QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_set_up, offset), .least = -5, .most = 5, .fallback = 0,
     .source = "the program", .help = "how much higher (> 0) or lower the water stands: about 10 mm for each hPa of pressure below or above 1013"},
    {.name = "within", QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_set_up, within), .least = 0, .most = 5, .fallback = 0,
     .source = "the program", .help = "how far off that may be, either way"},
    {0}};

static const dd_key wave_keys[] = {
    {.name = "height", QUANTITY, .dimension = DD_LENGTH, WAVE(height), .least = 0, .most = 0.5, .fallback = 0,
     .source = "the program", .help = "trough to crest of the waves that come in, before the shore throws them back"},
    {.name = "period", QUANTITY, .dimension = DD_TIME, WAVE(period), .least = 1.5, .most = 60, .fallback = 4,
     .source = "design memory", .help = "from crest to crest"},
    {.name = "depth", QUANTITY, .dimension = DD_LENGTH, WAVE(depth), .least = 0.1, .most = 100, .fallback = NAN,
     .fallback_text = "at the toe, or 10 m seaward of the water's edge", .source = "the program",
     .help = "depth of the water that sets the waves' length"},
    {.name = "reflection", QUANTITY, .dimension = DD_RATIO, WAVE(reflection), .least = 0, .most = 1, .fallback = 1,
     .source = "long waves", .help = "height of the waves that run out again over that of those that come in; 1: a standing wave"},
    {0}};

static const dd_key wind_keys[] = {
    {.name = "speed", QUANTITY, .dimension = DD_SPEED, WIND(speed), .least = 0, .most = 40, .fallback = 0,
     .source = "the program", .unit = "knot", .help = "speed of the wind over the topsides"},
    {.name = "toward", QUANTITY, .dimension = DD_ANGLE, WIND(toward), .least = -6.3, .most = 6.3, .fallback = 0,
     .source = "the program", .unit = "deg",
     .help = "where the wind blows to: 0 seaward, 90 deg to the left of someone looking seaward"},
    {0}};

const dd_key dd_water_keys[] = {
    {.name = "level", QUANTITY, .dimension = DD_LENGTH, WATER(level), .least = -100,
     .most = 100, .fallback = NAN, .fallback_text = "the tide's", .source = "the program", .help = "height of the water surface at the start, above the water's datum; not with a tide"},
    {.name = "datum", .type = DD_KEY_TEXT, WATER(datum), .size = sizeof(((dd_water *)0)->datum), .fallback = NAN,
     .help = "what the level and levels are above, by name; none: the ramp's datum, where that has no name either"},
    {.name = "datums", .type = DD_KEY_LIST, WATER(datums), .rows = dd_datum_keys, .fallback = NAN, .size = sizeof(dd_datum_given),
     .count_offset = offsetof(dd_water, datum_count), .capacity = DD_DATUMS,
     .help = "heights of the place's datums: levels on different ones are put together by these alone"},
    {.name = "time", QUANTITY, .dimension = DD_DATE, WATER(time), .least = DD_FIRST_DATE, .most = DD_LAST_DATE, .fallback = NAN, .fallback_text = "no date: no tide", .source = "the program",
     .help = "date and time of the start, at which the tide is taken"},
    {.name = "tide", .type = DD_KEY_BLOCK, WATER(tide), .rows = dd_tide_keys, .fallback = NAN, .help = "the tide that the level comes from"},
    {.name = "set up", .type = DD_KEY_BLOCK, WATER(set_up), .rows = set_up_keys, .fallback = NAN,
     .help = "how far air pressure and wind hold the water off its level, tide or gauge"},
    {.name = "kind", .type = DD_KEY_CHOICE, WATER(kind), .fallback = DD_WATER_SEA, .source = "practice",
     .choices = kind_names, .help = "sea (practical salinity 35), fresh, or brackish (halfway): used where density is not given"},
    {.name = "temperature", QUANTITY, .dimension = DD_TEMPERATURE, WATER(temperature),
     .least = 271.15, .most = 313.15, .fallback = ICE_POINT + 18, .source = "practice", .unit = "degC",
     .help = "temperature of the water"},
    {.name = "density", QUANTITY, .dimension = DD_DENSITY, WATER(density), .least = 900,
     .most = 1300, .fallback = NAN, .fallback_text = "by kind and temperature", .source = "water density",
     .help = "density of the water"},
    {.name = "viscosity", QUANTITY, .dimension = DD_VISCOSITY, WATER(viscosity),
     .least = 1e-8, .most = 1e-4, .fallback = NAN, .fallback_text = "by kind and temperature", .source = "water viscosity",
     .help = "kinematic viscosity of the water"},
    {.name = "current", QUANTITY, .dimension = DD_SPEED, WATER(current), .least = -5,
     .most = 5, .fallback = 0, .source = "the program", .unit = "knot",
     .help = "steady current along the shore, of the surface, > 0 toward the left of someone looking seaward"},
    {.name = "current exponent", QUANTITY, .dimension = DD_NUMBER, WATER(current_exponent), .least = 0, .most = 1, .fallback = 0,
     .source = "the program", .help = "the current's speed goes as the height above the ground to this power (rivers about 1/7); 0: the same at every depth"},
    {.name = "current full beyond", QUANTITY, .dimension = DD_LENGTH, WATER(current_full_beyond), .least = 0, .most = 1000,
     .fallback = 0, .source = "the program", .help = "distance seaward of the water's edge from which the current has its full speed; it grows from none at the edge"},
    {.name = "wall to", QUANTITY, .dimension = DD_LENGTH, WATER(wall_to), .least = -1000, .most = 1000, .fallback = NAN,
     .fallback_text = "no wall", .source = "the program",
     .help = "how far seaward of the crest point a wall beside the ramp reaches: it keeps the current off"},
    {.name = "wall mixing", QUANTITY, .dimension = DD_LENGTH, WATER(wall_mixing), .least = 0.1, .most = 100, .fallback = 4,
     .source = "design memory", .help = "length over which the current comes up to its speed seaward of the wall's end"},
    {.name = "rise", QUANTITY, .dimension = DD_SPEED, WATER(rise), .least = -0.1, .most = 0.1, .fallback = 0,
     .source = "the program", .help = "speed at which the level rises (> 0) or falls from the start on"},
    {.name = "levels", .type = DD_KEY_LIST, WATER(levels), .rows = level_keys, .fallback = NAN,
     .size = sizeof(((dd_water *)0)->levels[0]), .count_offset = offsetof(dd_water, level_count), .capacity = DD_WATER_LEVELS,
     .help = "levels at later times; the level goes smoothly from each to the next and stays at the last"},
    {.name = "surge", .type = DD_KEY_BLOCK, WATER(surge), .rows = surge_keys, .fallback = NAN,
     .help = "wash that runs up and down the ramp: the level rises and falls as a whole"},
    {.name = "wave", .type = DD_KEY_BLOCK, WATER(wave), .rows = wave_keys, .fallback = NAN,
     .help = "small long waves that run straight at the shore"},
    {.name = "wind", .type = DD_KEY_BLOCK, WATER(wind), .rows = wind_keys, .fallback = NAN, .help = "wind over the water"},
    {0}};
/* clang-format on */

static bool levels_are_in_order(const void *structure, char *message, size_t size, const char **key)
{
    const dd_water *w = structure;
    *key = "levels";
    for (int i = 1; i < w->level_count; i++)
        if (!(w->levels[i].at > w->levels[i - 1].at)) {
            snprintf(message, size, "level %d at %g s, expected later than the one before at %g s", i + 1, w->levels[i].at,
                     w->levels[i - 1].at);
            return false;
        }
    *key = "rise";
    if (w->level_count == 0 || !(w->rise > 0 || w->rise < 0)) return true;
    snprintf(message, size, "found both a rise and levels at later times, expected one of them");
    return false;
}

static bool water_stands_somewhere(const void *structure, char *message, size_t size, const char **key)
{
    const dd_water *w = structure;
    if (dd_tide_at_odds(w, message, size, key)) return false;
    *key = "level";
    if (w->tide.kind >= 0 || !isnan(w->level)) return true;
    snprintf(message, size, "not given; expected the height of the water surface, or a tide");
    return false;
}

const dd_key_rule dd_water_rules[] = {{"the water has a level or a tide, whole and alone", water_stands_somewhere},
                                      {"later levels are in order of time, and stand alone", levels_are_in_order}, {0}};
