/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tide and the datums that a scenario states. */
#ifndef DD_SHORE_TIDE_GIVEN_H
#define DD_SHORE_TIDE_GIVEN_H
#include "lib/base/key.h"
#include "lib/shore/tide.h"
#include <drawdock/shore.h>

/* 1700 to 2300, where node factors are valid: the dates of scenarios. */
#define DD_FIRST_DATE -8520336000.0
#define DD_LAST_DATE 10445327940.0

extern const dd_key dd_tide_keys[], dd_datum_keys[], dd_table_file_keys[];

/* Level over time, m above the ramp's datum (its name, or ""), with the set-up: of the water's tide, or a constant where the water has
   a level alone. A tide by constants is made for from..to, s UTC; one by a table knows the table's span, and a subordinate station less
   of it (dd_tide_span). Errors: as dd_water_take_tide(); DD_ERROR_ARGUMENT also for a level that changes by `rise` or `levels`. */
dd_status dd_water_tide(const dd_water *water, const char *ramp_datum, double from, double to, dd_tide **tide, dd_error *error);
/* The water's level at its time 0, m above the ramp's datum. */
dd_status dd_water_level_now(const dd_water *water, const char *ramp_datum, double *level, dd_error *error);
/* The water stands at a level above the ramp's datum: no tide, no set-up. */
void dd_water_stand_at(dd_water *water, const char *ramp_datum, double level);
/* Whether any difference from a reference station is given. */
bool dd_tide_is_subordinate(const dd_tide_differences *differences);
/* The name of the datum that the tide is told on (the subordinate station's where there is one), "" without a tide. */
const char *dd_tide_datum(const dd_water *water);
/* A datum's name; "the ramp's zero" where it has none (NULL or ""). */
const char *dd_datum_words(const char *datum);
/* How high the datum of the water's tide, else of its level, stands above the ramp's, m; DD_ERROR_ARGUMENT: one of the two has no name, or
   no stated height, at ramp.datum, water.datum, water.tide.datum or water.datums. */
dd_status dd_water_datum_shift(const dd_water *water, const char *ramp_datum, double *shift, dd_error *error);
/* What is wrong with the constants or the table: the key below `water` it is about, and words; false: nothing. */
bool dd_tide_at_odds(const dd_water *water, char *message, size_t size, const char **key);
#endif
