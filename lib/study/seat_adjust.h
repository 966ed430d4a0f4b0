/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting a trailer up for its boat: what can be shifted, how a setting is judged, and the search for the best one. */
#ifndef DD_STUDY_SEAT_ADJUST_H
#define DD_STUDY_SEAT_ADJUST_H
#include "lib/study/seat_meet.h"
#include <drawdock/run.h>

enum { DD_SHIFT_UP, DD_SHIFT_OUT, DD_SHIFT_AFT, DD_SHIFT_DIRECTIONS };
enum { DD_SHIFT_POST = -1, DD_SHIFT_AXLES = -2 }; /* instead of a support */
enum { DD_SHIFTS = DD_SHIFT_DIRECTIONS * DD_SUPPORTS + 2 };

/* One part that can go one way: from least to most steps of `step` (m) from where it stands. */
typedef struct dd_shift {
    int support, direction;
    int least, most;
    double step;
} dd_shift;

/* How all are set: by how much each is shifted (m), and which height of a support that has several (from 1; 0: as given). */
typedef struct dd_setting {
    double by[DD_SHIFTS];
    int height[DD_SUPPORTS];
} dd_setting;

/* What is asked, in groups that can be dropped. */
enum {
    DD_ASK_RATED, DD_ASK_HULL, DD_ASK_KEEL, DD_ASK_SIDES, DD_ASK_COUPLING, DD_ASK_CLEAR, /* of loads and distances */
    DD_ASK_ZONES, DD_ASK_TRANSOM, DD_ASK_BULKHEADS, DD_ASK_OVERHANG, DD_ASK_PRESSURE,    /* seating.requirements */
    DD_ASK_KINDS
};

/* What a setting comes to. Loads in N. */
typedef struct dd_seat_outcome {
    bool stands;                 /* false: the hull does not come to rest, or the trailer cannot be built so */
    double load[DD_SUPPORTS];    /* of all rollers of a support */
    double most[DD_SUPPORTS];    /* of its most loaded roller; of a skid of the side that bears more */
    double worst[DD_SUPPORTS];   /* the same with every height within the tolerance at its worst */
    double point[DD_SUPPORTS];   /* of one roller or place of a skid, the same */
    double use[DD_SUPPORTS];     /* worst over the rated load, or where none is given over that at which it has its squash */
    double keel, keel_least, keel_most; /* share of the weight; over the tolerance */
    double coupling;             /* load on the coupling over that of the whole trailer */
    double coupling_load;
    double clearance;            /* least of all supports from strakes and chine, m; NaN: not known */
    double reached[DD_REQUIREMENTS]; /* what each of seating.requirements measures: a distance, m, or the greatest pressure, Pa; NaN: not known */
    double miss[DD_ASK_KINDS];   /* by how much of itself each group is missed; 0: met */
    double greatest;             /* of use */
    double uneven;               /* standard deviation over mean, of the likely use of all supports under the hull */
} dd_seat_outcome;

/* Clearance of a support by how far it is out: at places spread evenly over its travel. */
enum { DD_CLEAR_PLACES = 21 };
typedef struct dd_clear {
    int count; /* 1: it does not go out; 0: nothing is known of it */
    double first, step;
    double least[DD_CLEAR_PLACES]; /* of strakes and chine, m */
} dd_clear;

typedef struct dd_adjusting {
    const dd_case *scenario;
    dd_seat base;                /* at home, as it stands */
    dd_trailer_parameters trailer; /* as it stands, with what was estimated from where the axles stand kept */
    int shift_count;
    dd_shift shifts[DD_SHIFTS];
    int choice_count;            /* supports with several heights */
    int choices[DD_SUPPORTS];
    double tolerance;            /* of heights, m */
    bool asked[DD_ASK_KINDS];
    dd_clear clear[DD_SUPPORTS];
    bool likely;                 /* the cost is the unevenness of the likely loads alone: smooth, and where good settings are found from */
    double reserve;              /* share of every limit that the search leaves, so that what it found still holds when computed in full */
    int dropped;                 /* DD_ASK_... that counts for little; -1: none */
    dd_progress progress;
    void *context;
    int done, planned;           /* searches */
    long judged;                 /* settings */
    dd_status status;            /* DD_ERROR_CANCELLED, DD_ERROR_MEMORY: everything ends */
} dd_adjusting;

/* Fills shifts, choices and what is asked from the scenario; base must stand. Errors: DD_ERROR_ARGUMENT: nothing can be shifted, or a
   part never meets the hull: the place names its key. */
dd_status dd_adjust_begin(dd_adjusting *a, dd_error *error);
/* The trailer set up so; lengths are whole micrometres. */
void dd_adjust_apply(const dd_adjusting *a, const dd_setting *setting, dd_trailer_parameters *trailer);
/* How far a part can be shifted in a direction. */
const dd_travel *dd_adjust_travel(const dd_trailer_parameters *trailer, int support, int direction);
/* "rear cradle, port and starboard"; "winch post". */
void dd_adjust_part(const dd_adjusting *a, int support, char *text, size_t size);

/* Fills a->clear: what depends on how far each support is out, at home as the rig stands. */
void dd_adjust_find_clear(dd_adjusting *a);
/* Least clearance of a support with both sides `out`; NaN: not known. */
double dd_adjust_clear(const dd_adjusting *a, int support, double out);

/* The same of a boat at home, where the support stands. */
double dd_adjust_clear_home(const dd_seat *seat, int support);

/* Loads of a trailer's supports without the run's own equilibrium: the hull is laid anew on the rollers where they then stand.
   thorough: the worst of the tolerance as seat has it; else by the signs of each height's effect alone. false: a->status. */
bool dd_adjust_judge(dd_adjusting *a, const dd_setting *setting, bool thorough, dd_seat_outcome *outcome);
/* The same of a boat at home as seat computes it. */
dd_status dd_adjust_judge_home(const dd_adjusting *a, const dd_seat *seat, dd_seat_outcome *outcome, dd_error *error);
/* Which group a requirement is in. */
int dd_adjust_kind_of(const dd_requirement *requirement);
/* Fills reached[] and what is missed of seating.requirements under those loads of the model's contacts; the loads of supports stand in
   *outcome. reserve: share of every limit that is left, and 1 mm of every distance where it is more than 0. */
void dd_adjust_required(const dd_adjusting *a, const dd_seat_laid *laid, const dd_seat_model *model, const double *load, double reserve, dd_seat_outcome *outcome);
/* How far the loads are from even: the greatest use at worst, and three times the unevenness of the likely loads. */
double dd_adjust_strain(const dd_seat_outcome *outcome);
/* Sum of what is missed of all that is not dropped; and what a search makes least: that first, then the loads' evenness, then how
   much is shifted. */
double dd_adjust_missed(const dd_adjusting *a, const dd_seat_outcome *outcome);
double dd_adjust_cost(const dd_adjusting *a, const dd_setting *setting, const dd_seat_outcome *outcome);

/* The best setting that is found, in whole steps: never worse than the one as it stands. false: a->status. */
bool dd_adjust_search(dd_adjusting *a, dd_setting *best, dd_seat_outcome *outcome);
#endif
