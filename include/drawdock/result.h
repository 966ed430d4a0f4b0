/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file result.h
 *  What a study found: channels over time, events, verdict, margins, assumptions; and how it is written. */
#ifndef DRAWDOCK_RESULT_H
#define DRAWDOCK_RESULT_H
#include <drawdock/status.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Column of the record: name ends with its unit ("strap_tension_N"). */
typedef struct dd_column {
    char name[96], unit[16], help[192]; /**< with the unit as last word; that unit; what it is */
    int optional;         /**< the library's own: 0 in a finished result */
} dd_column;

/** Something that happened. */
typedef struct dd_event {
    double time;          /**< s */
    char name[48];        /**< "stern lifts" */
    char detail[160];     /**< where and how much, with units */
    double rig_x, hub_depth, value; /**< m, m, the value that was tested */
    char value_unit[16]; /**< of value */
} dd_event;

/** One limit checked, and how far from it the run stayed. */
typedef struct dd_margin {
    char name[64];          /**< "strap against its rating" */
    double value, limit;    /**< in `unit` */
    char unit[16]; /**< of value and limit */
    double share;           /**< use of the limit: 1 is at the limit, above 1 broken */
    int broken; /**< 1: beyond the limit */
    double time;            /**< when it was tightest, s */
    char source[64];        /**< where the limit comes from: a key of the source list */
    char channel[96];       /**< column of the record that the limit applies to, in that column's unit; plots draw it as a line.
                                 Empty: none */
} dd_margin;

/** A line of a side view: x seaward, z up, world frame. Names that plots/side.gnuplot knows how to draw: ramp, water, hull,
 *  trailer, wheel, vehicle, support, arm, guide, strap, rope, stop; any other becomes a thin line. A closed outline repeats its first point. */
typedef struct dd_shape {
    char name[32]; /**< what is drawn */
    int event;              /**< index of the event whose moment it shows; -1: the start. Shapes of one moment form one view. */
    int count;              /**< points */
    double *xy;             /**< x, z of each point in turn, m */
} dd_shape;

/** A figure that belongs to the result beside its columns: "gap at the bow stop" of the group "home". */
typedef struct dd_figure {
    char group[32];         /**< what it belongs to: "home", "first contact", "winch rules" */
    char name[64]; /**< "gap at the bow stop" */
    double value;           /**< in `unit`; NaN: not known */
    char unit[16]; /**< of value */
    char words[200];        /**< what it is compared with, or how it was found; may be empty */
} dd_figure;

/** A figure of the scenario that is known only within a band, and what its ends do to the result. */
typedef struct dd_band {
    char name[96], unit[16]; /**< of the figure; of low, likely and high */
    double low, likely, high;   /**< in `unit` */
    int verdict_low, verdict_high;          /**< DD_VERDICT_... with this figure alone at that end */
    char word_low[32], word_high[32];       /**< the verdict's words there */
    double share_low, share_high;           /**< use of the deciding limit there, as dd_margin.share; NaN: not reached */
    double effect;              /**< how much it decides: spread of that use, and 10 for each change of the verdict */
    int decides;                /**< 1 to 3: the first, second, third figure that decides; 0: none of them */
    char how[200];              /**< how to take it with a tape or a scale */
} dd_band;

enum { DD_BANDS_NOT_RUN, DD_BANDS_HOLD, DD_BANDS_DECIDE };

/** What one force did over the run, on hull and rig together. */
typedef struct dd_force_figures {
    char name[48];          /**< as in the scenario's `without` and `forces` */
    double work;            /**< J, > 0 driving */
    double largest_force;   /**< N, on the hull, or on the rig for a force that does not touch the hull */
    double largest_time;    /**< s, when it was */
} dd_force_figures;

enum { DD_RESULT_FORCES = 64 };

enum { DD_VERDICT_WITHIN, DD_VERDICT_BROKEN, DD_VERDICT_FAILED, DD_VERDICT_INCOMPLETE, DD_VERDICT_UNCHECKED };

/** Everything a study found; made by dd_study_run() and dd_study_settle(). */
typedef struct dd_result {
    char title[160], study[16]; /**< of the scenario; "run" or "settle" */
    int column_count, row_count; /**< of columns; of rows */
    dd_column *columns; /**< what the record holds */
    double *rows;            /**< row-major row_count x column_count */
    int event_count; /**< of events */
    dd_event *events; /**< in the order of time */
    int margin_count; /**< of margins */
    dd_margin *margins;      /**< tightest first */
    int shape_count; /**< of shapes */
    dd_shape *shapes;        /**< side views, in the order of their moments */
    struct dd_drawing *drawing; /**< the library's own, for dd_result_drawing_json(); NULL: none */
    int unchecked_count; /**< of unchecked */
    char (*unchecked)[160];  /**< what was not checked and why */
    int assumed_count; /**< of assumed */
    char (*assumed)[200];    /**< what was assumed: "hull centre 1.95 m from the transom (estimate, ...)" */
    int figure_count; /**< of figures */
    dd_figure *figures;      /**< in the order of their groups */
    int bands;               /**< DD_BANDS_...: whether the verdict holds over the bands */
    int band_count; /**< of band */
    dd_band *band;           /**< the figure that decides most first; dd_study_bands() fills it */
    char bands_sentence[600]; /**< whether the verdict holds, and if not, which figures decide */
    int verdict;             /**< DD_VERDICT_... */
    char word[32];           /**< "launch works", "dropped", ... */
    char sentence[400];      /**< the reason in one sentence */
    double ledger_residual, ledger_bound; /**< relative */
    double energy_exchanged;              /**< J */
    int force_count; /**< of forces */
    dd_force_figures forces[DD_RESULT_FORCES]; /**< in the order of the ledger */
    dd_error failure;        /**< why the run is incomplete; status DD_OK otherwise */
    long derivatives, jacobians, steps; /**< evaluations and accepted steps of the integrator */
} dd_result;

/** NULL is allowed. */
DD_API void dd_result_free(dd_result *result);
/** CSV text (RFC 4180, lines end with LF), malloc'ed; NULL: out of memory. Numbers have 9 significant digits whatever the
 *  locale; a value that is not finite is an empty field. */
DD_API char *dd_result_timeline_csv(const dd_result *result); /**< the columns and rows */
DD_API char *dd_result_events_csv(const dd_result *result);   /**< time_s,name,detail,rig_x_m,hub_depth_m,value,unit,mark */
DD_API char *dd_result_limits_csv(const dd_result *result);   /**< the margins, tightest first */
DD_API char *dd_result_side_csv(const dd_result *result);     /**< the side views, one row per point */
/** The drawing that moves, as one JSON text of at most some 150 kB: bodies in their own axes, where these stand in each frame, events
 *  and values beside them; lib/record/drawing.h has its fields. Text in it has no < > &, so that it can stand in a page. malloc'ed;
 *  NULL: out of memory, or the study draws none (a run does). */
DD_API char *dd_result_drawing_json(const dd_result *result);
DD_API char *dd_result_bands_csv(const dd_result *result);    /**< the bands, the figure that decides most first */
/** result.json: everything but the rows, fields as listed in lib/record/fields.def; doubles keep their bits (17 digits), a
 *  value that is not finite is null. malloc'ed; NULL: out of memory. */
DD_API char *dd_result_json(const dd_result *result);

#ifdef __cplusplus
}
#endif
#endif
