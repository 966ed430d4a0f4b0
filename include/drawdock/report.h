/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file report.h
 *  What a study on the road or in the yard found: tables of figures, checks against ratings and rules, notes. Every number is in
 *  the unit that stands beside it; a report is in metric or in US customary units as a whole. */
#ifndef DRAWDOCK_REPORT_H
#define DRAWDOCK_REPORT_H
#include <drawdock/status.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { DD_REPORT_METRIC, DD_REPORT_US };
enum { DD_REPORT_LONG, DD_REPORT_BRIEF, DD_REPORT_WHOLE, DD_REPORT_DRAWN };

/** Column of a table. */
typedef struct dd_report_column {
    char name[48];   /**< "coupling load"; the CSV's heading is the name with underscores, then the unit */
    char unit[16];   /**< of its numbers; "" for words and bare numbers */
    int decimals;    /**< that a person is shown; below 0: rounded to tens, hundreds */
    char help[160]; /**< what the column holds */
} dd_report_column;

/** One cell: words, or a number in its column's unit. */
typedef struct dd_report_cell {
    double value;    /**< NaN: nothing, or the words in text */
    char *text;      /**< NULL: a number */
} dd_report_cell;

/** Rows of cells under a heading. */
typedef struct dd_report_table {
    char key[32];    /**< "loads": name of its CSV file and in JSON */
    char title[120]; /**< of the table */
    int brief;       /**< DD_REPORT_...: LONG with --figures, in the files and in JSON; BRIEF on the terminal's one screen as well where
                          it fits; WHOLE there in any case; DRAWN, the points of a picture, in the files and in JSON alone */
    int column_count, row_count; /**< columns; rows of cells */
    dd_report_column *columns; /**< from left to right */
    dd_report_cell *cells; /**< row-major */
    char note[400];  /**< a line under the table; may be empty */
    char datum[48];  /**< what the levels in it are above: a datum's name, or "the ramp's zero"; "": it has none */
} dd_report_table;

enum { DD_CHECK_GOOD, DD_CHECK_BROKEN, DD_CHECK_NOT_CHECKED, DD_CHECK_CAUTION };

/** One figure held against a rating, a rule or a requirement. */
typedef struct dd_check {
    char group[32];  /**< "ratings", "rules", "coupling", "wheels", "supports" */
    char name[96];   /**< "axle 2 against its rating" */
    char state[48];  /**< of loading, at which it is tightest; may be empty */
    double value, limit; /**< in `unit`; NaN: not known */
    char unit[16]; /**< of value and limit; "1": none */
    int decimals;    /**< of both that a person is shown; below 0: rounded to tens, hundreds */
    int least;       /**< 1: the limit is the least, 0: the most that is allowed */
    double share;    /**< use of the limit: above 1 broken; NaN: not checked */
    int outcome;     /**< DD_CHECK_...: a caution is shown and breaks nothing */
    char source[64]; /**< where the limit comes from: a key of the source list, or a rule's instrument */
    char words[400]; /**< what follows, what to do, or why it was not checked; may be empty */
} dd_check;

/** A figure that stands rounded in a sentence. */
typedef struct dd_told {
    double value;    /**< in `unit`, before rounding */
    char unit[16];   /**< metric */
} dd_told;

/** Everything a study found; made by dd_study_weigh() and dd_study_seat(). */
typedef struct dd_report {
    char title[160], study[16]; /**< of the scenario; "weigh", "seat", "brake", "depth", "fleet" */
    int units;       /**< DD_REPORT_... */
    int table_count; /**< of tables */
    dd_report_table *tables; /**< in the order of the screen */
    int check_count; /**< of checks */
    dd_check *checks; /**< broken ones first, then by use of the limit, then what was not checked */
    int note_count; /**< of notes */
    char (*notes)[400];    /**< sentences in the order in which they were found */
    int assumed_count; /**< of assumed */
    char (*assumed)[200]; /**< what was assumed, with its source */
    int source_count; /**< of sources */
    char (*sources)[320];  /**< what the figures and limits rest on, each once */
    int quoted_count; /**< of quoted */
    char (*quoted)[200];   /**< words of a rule set or of the scenario that stand in sentences as they are, whatever the report's units */
    int told_count; /**< of told */
    dd_told *told;         /**< figures of the sentences; in US units they are turned from here */
    int verdict;           /**< DD_VERDICT_WITHIN, DD_VERDICT_BROKEN, or DD_VERDICT_UNCHECKED: no limit is broken, and none that answers what is asked could be checked (result.h) */
    char word[48];         /**< "within every rating given", "over a rating", ... */
    char sentence[400]; /**< the reason in one sentence */
    char headline[400];    /**< an answer that stands beside the verdict, such as the brake class; may be empty */
} dd_report;

/** NULL is allowed. */
DD_API void dd_report_free(dd_report *report);
/** Two to eight reports of one study and the same units side by side: one table "differences" of every number of a brief table and
 *  every check that all have and that is not the same in all, with the change from the first to the last (levels on different datums are left out); each one's headline is a note. names: one for each. *report is NULL on an error. Errors:
 *  DD_ERROR_ARGUMENT (how many, units at odds), DD_ERROR_MEMORY. */
DD_API DD_CHECKED dd_status dd_report_compare(const dd_report *const *reports, const char *const *names, int count,
                                              dd_report **report, dd_error *error);
/** One table as CSV (RFC 4180, LF, 9 significant digits whatever the locale); key "checks": the checks. malloc'ed; NULL: no such
 *  table, or out of memory. */
DD_API char *dd_report_csv(const dd_report *report, const char *key);
/** The whole report; doubles keep their bits, what is not finite is null. malloc'ed; NULL: out of memory. */
DD_API char *dd_report_json(const dd_report *report);

#ifdef __cplusplus
}
#endif
#endif
