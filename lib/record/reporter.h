/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Collects what a study finds into a dd_report. The first call that runs out of memory makes all later ones do nothing and
   dd_reporter_finish fail, so that a study looks once, at the end. */
#ifndef DD_RECORD_REPORTER_H
#define DD_RECORD_REPORTER_H
#include <drawdock/report.h>

typedef struct dd_reporter dd_reporter;

/* study: "weigh", "seat". NULL: out of memory. */
dd_reporter *dd_reporter_create(const char *title, const char *study, int units);
void dd_reporter_free(dd_reporter *reporter);

/* Begins a table; the columns and rows that follow are its own. brief: DD_REPORT_... */
void dd_reporter_table(dd_reporter *reporter, const char *key, const char *title, int brief);
/* Adds a column. metric_unit: a spelling of units.def ("kg", "mm", "kN", "%", "deg", "kPa", "L"), or "" for words and bare
   numbers; values in other units are handed over in them. A report in US units is turned as a whole when it is finished (us_units.h). */
void dd_reporter_column(dd_reporter *reporter, const char *name, const char *metric_unit, int decimals, const char *help);
/* What the table's levels are above: its heading, its CSV file (a last column "datum") and JSON name it. */
void dd_reporter_datum(dd_reporter *reporter, const char *datum);
/* Adds one row's next cell, from the first column on: words, or a value in SI units (NaN: an empty cell; a ratio for "%"). */
void dd_reporter_words(dd_reporter *reporter, const char *format, ...) DD_PRINTF(2, 3);
void dd_reporter_value(dd_reporter *reporter, double si);
/* A line under the table. */
void dd_reporter_table_note(dd_reporter *reporter, const char *format, ...) DD_PRINTF(2, 3);

/* A check with these fields, the rest nothing: state may be NULL. The limit is the most that is allowed until `least` is set. */
dd_check dd_check_of(const char *group, const char *state, double value, double limit, const char *unit, const char *source,
                     const char *format, ...) DD_PRINTF(7, 8);
/* Appends a check. check->value and ->limit are in SI units, check->unit as metric_unit above; the outcome follows from them
   (not checked where either is NaN; with no unit, for counts and for yes and no, the use is 0 or broken), unless check->outcome is DD_CHECK_CAUTION: then what would break is a caution. With the same
   group and name twice (two states of loading) only the tighter is kept. */
void dd_reporter_check(dd_reporter *reporter, const dd_check *check);
/* What the report is asked about first is answered by its checks of this group: where none of them could be judged, the limits that hold are told, but not as a yes. */
void dd_reporter_asked(dd_reporter *reporter, const char *group);
/* Sentences; a line already there is not repeated. */
void dd_reporter_note(dd_reporter *reporter, const char *format, ...) DD_PRINTF(2, 3);
/* The report's headline: the first that is given stays. */
void dd_reporter_headline(dd_reporter *reporter, const char *format, ...) DD_PRINTF(2, 3);
void dd_reporter_assumed(dd_reporter *reporter, const char *format, ...) DD_PRINTF(2, 3);
/* A key of sources.def, or (unknown there) the text of a source as it is, for rules that files bring along. */
void dd_reporter_source(dd_reporter *reporter, const char *key_or_text);
/* Words of a rule set or of the scenario that sentences have in them: a figure there stays as it is in US units. */
void dd_reporter_quoted(dd_reporter *reporter, const char *text);
/* "1250 kg": an SI value for sentences, remembered as it is for US units. Returns text. */
enum { DD_REPORTER_TEXT = 48 };
char *dd_reporter_quantity(dd_reporter *reporter, double si, const char *metric_unit, int decimals, char text[DD_REPORTER_TEXT]);

/* Sorts the checks, words the verdict, hands the report over and frees the reporter (also on failure, *report is then NULL). */
DD_CHECKED dd_status dd_reporter_finish(dd_reporter *reporter, dd_report **report, dd_error *error);
#endif
