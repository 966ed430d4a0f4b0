/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys and rules of the tide and the datums in the block `water`. */
#include "lib/base/calendar.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/shore/tide_constituents.h"
#include "lib/shore/tide_given.h"
#include <math.h>
#include <string.h>

#define TIDE(field) .offset = offsetof(dd_tide_parameters, field)
#define STATION(field) .offset = offsetof(dd_tide_differences, field)
#define DATUM(field) .offset = offsetof(dd_datum_given, field)
#define QUANTITY .type = DD_KEY_QUANTITY
#define TEXT(structure, field) .type = DD_KEY_TEXT, .offset = offsetof(structure, field), .size = sizeof(((structure *)0)->field), .fallback = NAN
#define READ(field) TEXT(dd_table_file, field)
#define CHOICE(field, names) .type = DD_KEY_CHOICE, .offset = offsetof(dd_table_file, field), .choices = names, .fallback = NAN, .source = "the program"
#define LEVEL .dimension = DD_LENGTH, .least = -100, .most = 100

static const char *const kind_names[] = {"harmonic", "high and low waters", "twelfths", "samples", NULL};
static const char *const separator_names[] = {"comma", "semicolon", "tab", NULL};
static const char *const unit_names[] = {"m", "cm", "mm", "ft", NULL};
static const char *const node_names[] = {"mid-year", "continuous", NULL};

/* clang-format off */
const dd_key dd_datum_keys[] = {
    {.name = "name", TEXT(dd_datum_given, name), .required = true, .help = "name of the datum, as the levels that are above it say it"},
    {.name = "height", QUANTITY, LEVEL, DATUM(height), .fallback = NAN, .required = true,
     .help = "height of the datum above any one level of the place, the same for all datums"},
    {.name = "source", TEXT(dd_datum_given, source), .help = "who says so"},
    {0}};

static const dd_key constant_keys[] = {
    {.name = "name", .type = DD_KEY_TEXT, .offset = 0, .size = sizeof(((dd_tide_parameters *)0)->constants[0].name), .fallback = NAN,
     .required = true, .help = "constituent, as M2"},
    {.name = "amplitude", QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_tide_parameters, constants[0].amplitude) - offsetof(dd_tide_parameters, constants[0]),
     .least = 0, .most = 20, .fallback = NAN, .required = true, .help = "half its range"},
    {.name = "phase", QUANTITY, .dimension = DD_ANGLE, .offset = offsetof(dd_tide_parameters, constants[0].phase) - offsetof(dd_tide_parameters, constants[0]),
     .least = -12.6, .most = 12.6, .fallback = NAN, .required = true, .unit = "deg", .help = "phase lag on Greenwich, for times UTC"},
    {0}};

static const dd_key tide_point_keys[] = {
    {.name = "at", QUANTITY, .dimension = DD_DATE, .offset = 0, .least = DD_FIRST_DATE, .most = DD_LAST_DATE, .fallback = NAN, .required = true,
     .help = "date and time"},
    {.name = "level", QUANTITY, LEVEL, .offset = sizeof(double), .fallback = NAN, .required = true, .help = "height of the water then, above the tide's datum"},
    {0}};

static const dd_key subordinate_keys[] = {
    {.name = "station", TEXT(dd_tide_differences, station), .help = "name of the place that the scenario is at"},
    {.name = "datum", TEXT(dd_tide_differences, datum), .help = "what the station's own levels are above"},
    {.name = "high water later", QUANTITY, .dimension = DD_TIME, STATION(high_later), .least = -43200, .most = 43200, .fallback = NAN, .fallback_text = "at the same time", .source = "the program", .unit = "min",
     .help = "how much later its high waters are than the reference's (< 0: earlier)"},
    {.name = "low water later", QUANTITY, .dimension = DD_TIME, STATION(low_later), .least = -43200, .most = 43200, .fallback = NAN, .fallback_text = "at the same time", .source = "the program", .unit = "min",
     .help = "how much later its low waters are"},
    {.name = "high water ratio", QUANTITY, .dimension = DD_RATIO, STATION(high_ratio), .least = 0, .most = 10, .fallback = NAN, .fallback_text = "1", .source = "the program",
     .help = "its high waters over the reference's, each above its own datum"},
    {.name = "low water ratio", QUANTITY, .dimension = DD_RATIO, STATION(low_ratio), .least = -10, .most = 10, .fallback = NAN, .fallback_text = "1", .source = "the program",
     .help = "its low waters over the reference's"},
    {.name = "high water higher", QUANTITY, .dimension = DD_LENGTH, STATION(high_higher), .least = -20, .most = 20, .fallback = NAN, .fallback_text = "by nothing", .source = "the program",
     .help = "how much higher its high waters are than the reference's, or than the ratio makes them"},
    {.name = "low water higher", QUANTITY, .dimension = DD_LENGTH, STATION(low_higher), .least = -20, .most = 20, .fallback = NAN, .fallback_text = "by nothing", .source = "the program",
     .help = "how much higher its low waters are"},
    {0}};

const dd_key dd_table_file_keys[] = {
    {.name = "file", READ(file), .help = "a CSV file beside the scenario, as the agency publishes it; empty lines and lines that begin with # are left out"},
    {.name = "header lines", .type = DD_KEY_COUNT, .offset = offsetof(dd_table_file, header_lines), .least = 0, .most = 200, .fallback = NAN, .fallback_text = "1", .source = "the program",
     .help = "lines of the file, counted with empty ones, before the first row; the last of them names the columns"},
    {.name = "separator", CHOICE(separator, separator_names), .fallback_text = "comma", .help = "what stands between columns; where it is no comma, a comma in a number is a decimal point"},
    {.name = "name column", READ(name_column), .help = "constants: the column of the constituent's name, by its own name in the file or by its number from 1; a row Z0 is the mean level"},
    {.name = "amplitude column", READ(amplitude_column), .help = "constants: the column of the amplitude"},
    {.name = "phase column", READ(phase_column), .help = "constants: the column of the phase lag on Greenwich in degrees"},
    {.name = "date column", READ(date_column), .help = "table: the column of the date, where the time has a column of its own"},
    {.name = "time column", READ(time_column), .help = "table: the column of the time, or of date and time"},
    {.name = "level column", READ(level_column), .help = "table: the column of the level"},
    {.name = "unit", CHOICE(unit, unit_names), .fallback_text = "m", .help = "unit of amplitudes and levels"},
    {.name = "date format", READ(date_format), .help = "table: how it writes date, a blank and time, in the letters of strptime; %Y-%m-%d %H:%M unless given"},
    {.name = "utc offset", QUANTITY, .dimension = DD_TIME, .offset = offsetof(dd_table_file, utc_offset), .least = -50400, .most = 50400, .fallback = NAN,
     .fallback_text = "0: its times are UTC", .source = "the program", .unit = "h", .help = "table: how far its times are ahead of UTC all through (> 0 east of Greenwich): ask for a table without summer time"},
    {0}};

const dd_key dd_tide_keys[] = {
    {.name = "kind", .type = DD_KEY_CHOICE, TIDE(kind), .choices = kind_names, .fallback = NAN, .fallback_text = "no tide", .source = "the program",
     .help = "by harmonic constants, by published high and low waters (cosine between), the same by the rule of twelfths, or by samples"},
    {.name = "station", TEXT(dd_tide_parameters, station), .help = "name of the place that the figures are of"},
    {.name = "datum", TEXT(dd_tide_parameters, datum), .help = "what the tide's levels are above: chart datum, LAT, MLLW, ..."},
    {.name = "mean level", QUANTITY, LEVEL, TIDE(mean_level), .fallback = NAN, .fallback_text = "none: needed by a harmonic tide", .source = "the program", .help = "harmonic: mean level of the sea above the tide's datum"},
    {.name = "nodes", .type = DD_KEY_CHOICE, TIDE(nodes), .choices = node_names, .fallback = NAN, .fallback_text = "mid-year", .source = "the program",
     .help = "harmonic: node factors of the middle of the year (where nothing is given), as NOAA predicts, or those of each moment"},
    {.name = "constants", .type = DD_KEY_LIST, TIDE(constants), .rows = constant_keys, .fallback = NAN,
     .size = sizeof(((dd_tide_parameters *)0)->constants[0]), .count_offset = offsetof(dd_tide_parameters, constant_count),
     .capacity = DD_TIDE_CONSTANTS, .help = "harmonic constants"},
    {.name = "points", .type = DD_KEY_LIST, TIDE(points), .rows = tide_point_keys, .fallback = NAN,
     .size = sizeof(((dd_tide_parameters *)0)->points[0]), .count_offset = offsetof(dd_tide_parameters, point_count),
     .capacity = DD_TIDE_POINTS, .help = "high and low waters in turn, or samples of the level: of a tide, a river stage, a lake"},
    {.name = "read", .type = DD_KEY_BLOCK, TIDE(read), .rows = dd_table_file_keys, .fallback = NAN,
     .help = "the CSV file that the constants or points are read from, and its columns; they then count as given here"},
    {.name = "subordinate", .type = DD_KEY_BLOCK, TIDE(subordinate), .rows = subordinate_keys, .fallback = NAN,
     .help = "where the place differs from the station whose figures these are"},
    {0}};
/* clang-format on */

/* The key of the row at fault; each thread has its own. */
static _Thread_local char key_at_fault[64];

static const char *constant_key(const char *name)
{
    dd_text(key_at_fault, sizeof key_at_fault, "tide.constants[%s].name", name);
    return key_at_fault;
}

static const char *point_key(int number, const char *field)
{
    dd_text(key_at_fault, sizeof key_at_fault, "tide.points[%d].%s", number, field);
    return key_at_fault;
}

static bool constants_are_at_odds(const dd_tide_parameters *t, char *message, size_t size, const char **key)
{
    static const char *const needed[] = {"M2", "S2", "K1", "O1"};
    for (int i = 0; i < t->constant_count; i++) {
        const char *name = t->constants[i].name;
        const int constituent = dd_tide_constituent(name);
        *key = constant_key(name);
        if (constituent < 0) {
            dd_text(message, size, "found the constituent '%s', which is not known", name);
            return true;
        }
        for (int other = 0; other < i; other++)
            if (dd_tide_constituent(t->constants[other].name) == constituent) {
                dd_text(message, size, "found the constituent '%s' twice (also as '%s'); expected it once", name, t->constants[other].name);
                return true;
            }
    }
    for (size_t m = 0; m < sizeof needed / sizeof needed[0]; m++) {
        int i = 0;
        while (i < t->constant_count && dd_tide_constituent(t->constants[i].name) != dd_tide_constituent(needed[m])) i++;
        if (i < t->constant_count) continue;
        *key = "tide.constants";
        dd_text(message, size, "the constituent '%s' is missing; expected it, with amplitude 0 where the place has none", needed[m]);
        return true;
    }
    return false;
}

static bool points_are_at_odds(const dd_tide_parameters *t, char *message, size_t size, const char **key)
{
    char text[64], before[64];
    *key = "tide.points";
    const int least = t->kind == DD_TIDE_SAMPLED ? 3 : 2;
    if (t->point_count < least) {
        dd_text(message, size, "found %d row%s; expected at least %d", t->point_count, t->point_count == 1 ? "" : "s", least);
        return true;
    }
    for (int i = 1; i < t->point_count; i++) {
        dd_calendar_text(t->points[i].at, text, sizeof text);
        dd_calendar_text(t->points[i - 1].at, before, sizeof before);
        *key = point_key(i + 1, "at");
        if (!(t->points[i].at > t->points[i - 1].at)) {
            dd_text(message, size, "found %s after %s; expected the rows in order of time, each time once", text, before);
            return true;
        }
        if (t->kind == DD_TIDE_SAMPLED) continue;
        *key = point_key(i + 1, "level");
        const double rise = t->points[i].level - t->points[i - 1].level;
        const double next = i + 1 < t->point_count ? t->points[i + 1].level - t->points[i].level : -rise;
        if (rise != 0 && rise * next < 0) continue;
        dd_text(message, size, "the level at %s is neither higher nor lower than both of its neighbours; expected high and low waters in turn", text);
        return true;
    }
    return false;
}

bool dd_tide_at_odds(const dd_water *w, char *message, size_t size, const char **key)
{
    const dd_tide_parameters *t = &w->tide;
    const bool harmonic = t->kind == DD_TIDE_HARMONIC_CONSTANTS;
    const struct {
        bool wrong;
        const char *key, *message;
    } faults[] = {
        {t->kind < 0 && (t->constant_count > 0 || t->point_count > 0), "tide.kind", "not given; expected harmonic, high and low waters, twelfths or samples"},
        {t->kind >= 0 && t->datum[0] == '\0', "tide.datum", "not given; expected what the tide's levels are above, as chart datum, LAT or MLLW"},
        {t->kind >= 0 && isnan(w->time), "time", "not given; expected the date and time at which the tide is taken"},
        {t->kind >= 0 && !isnan(w->level), "level", "found both a level and a tide; expected one of them"},
        {t->kind >= 0 && (w->level_count > 0 || w->rise != 0), w->level_count > 0 ? "levels" : "rise", "found a tide beside 'rise' or 'levels'; expected one of them"},
        {harmonic && isnan(t->mean_level), "tide.mean level", "not given; expected the mean level above the tide's datum"},
        {harmonic && t->point_count > 0, "tide.points", "found rows of a table in a harmonic tide; expected one kind"},
        {t->kind > 0 && (t->constant_count > 0 || !isnan(t->mean_level) || t->nodes >= 0), "tide.kind",
         "found what belongs to a harmonic tide (constants, mean level, nodes) in one by a table; expected one kind"},
        {t->kind >= 0 && t->subordinate.station[0] != '\0' && t->subordinate.datum[0] == '\0', "tide.subordinate.datum",
         "not given; expected what the station's own levels are above"},
    };
    for (size_t i = 0; i < sizeof faults / sizeof faults[0]; i++)
        if (faults[i].wrong) {
            *key = faults[i].key;
            dd_text(message, size, "%s", faults[i].message);
            return true;
        }
    if (t->kind < 0) return false;
    return harmonic ? constants_are_at_odds(t, message, size, key) : points_are_at_odds(t, message, size, key);
}
