/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A first scenario from a brochure's figures: what is asked, what is taken where nothing is answered, and the files that come of it. */
#ifndef DD_STUDY_BEGIN_H
#define DD_STUDY_BEGIN_H
#include "lib/base/units.h"
#include <drawdock/case.h>

enum {
#define DD_BEGIN(id, name, dimension, metric, metric_decimals, us, us_decimals, least, most, usual, choices, question, source, help) DD_BEGIN_##id,
#include "lib/study/begin.def"
#undef DD_BEGIN
    DD_BEGIN_COUNT
};

/* Choices of KIND, in begin.def's order. */
enum { DD_BEGIN_CRADLES, DD_BEGIN_KEEL_ROLLERS, DD_BEGIN_SKIDS, DD_BEGIN_ROCKER };

#define DD_BEGIN_USUAL_POWER 75 /* of the engine, W for each kg of the bare hull */

typedef struct dd_begin_row {
    const char *name;
    dd_dimension dimension;
    const char *units[2];  /* metric, US: of a bare number, and of the usual answer */
    int decimals[2];       /* of the usual answer; -1: to tens, -2: to hundreds */
    double least, most;    /* SI */
    const char *choices, *question, *source, *help;
} dd_begin_row;
/* NULL past the end. */
const dd_begin_row *dd_begin_row_at(int index);
/* Index of a row by its name; -1: there is none. */
int dd_begin_find(const char *name);

/* Answers so far. Empty to begin with but for `us`. */
typedef struct dd_begin {
    int us;                       /* 1: US customary units, 0: metric */
    int given[DD_BEGIN_COUNT];    /* 1: answered, 0: the usual answer */
    double value[DD_BEGIN_COUNT]; /* SI, or the number of the choice; NaN: not given */
    char text[DD_BEGIN_COUNT][DD_QUANTITY_TEXT]; /* as it stands in the files, with unit */
} dd_begin;

/* The answer when nothing is said, by the answers before it; "" when there is none. */
void dd_begin_usual(const dd_begin *answers, int index, char text[DD_QUANTITY_TEXT]);
/* Takes an answer: a quantity, a bare number in the row's unit, a choice's word or its first letters or its number from 1; empty: the
   usual one. false: message says what was found and what is expected. */
bool dd_begin_answer(dd_begin *answers, int index, const char *said, char *message, size_t size);

/* What the trailer set up for the boat is, found by asking what was written first: loads of its supports, weights, places on the ramp. All 0: nothing
   is known yet, and the trailer stands by the hull's lines alone. */
typedef struct dd_begin_found {
    double stern_ahead;    /* of the place where the hull's stem line puts it, m: how it settles against its stop */
    double front;          /* of the foremost support, from the transom, m; 0: as far forward as the keel is straight */
    double raise;          /* of skids over where the hull just meets them, m */
    double coupling_share; /* of the laden trailer's mass, that weigh finds with the axles where they are put first; 0: not known */
    double coupling_most;  /* load on the coupling on the way down the ramp, N */
    double launch, retrieve;           /* hub depths of the procedures, m */
    double launch_room;                /* to the deepest at which the launch keeps every limit, m; 0: not known */
    bool launch_works, retrieve_works; /* 0: no place on this ramp keeps every limit; the depth is the nearest */
    bool driven;                       /* 1: the boat is driven off; 0: pushed */
} dd_begin_found;

/* Sets the supports up for the boat of the answers by their loads as `seat` has them, then the axles by `weigh`: fills the first four of found.
   scenario: gives the vehicle; its boat and trailer do not count. Errors: those of dd_study_seat() and dd_study_weigh(). */
DD_CHECKED dd_status dd_begin_set_up(const dd_case *scenario, const dd_begin *answers, dd_begin_found *found, dd_error *error);
/* Hub depth at which the scenario's action is best done (a retrieve a little shallower), how much deeper it can be, whether there is one, and the greatest load on the coupling down to there, which is
   never made less than it was. Errors: those of dd_study_ramp_depth(). */
DD_CHECKED dd_status dd_begin_best_depth(const dd_case *scenario, double *depth, double *room, bool *works, double *coupling_most, dd_error *error);

enum { DD_BEGIN_FILES = 6 };
typedef struct dd_begin_file {
    const char *name; /* "boat.yaml" */
    char *text;       /* malloc'ed */
} dd_begin_file;
/* All six: boat, trailer, vehicle, ramp, launch, retrieve; all answers must stand. The trailer is set up for the hull of these figures.
   Errors: those of dd_hull_create(), DD_ERROR_MEMORY. On an error no file has a text. */
DD_CHECKED dd_status dd_begin_files(const dd_begin *answers, const dd_begin_found *found, dd_begin_file files[DD_BEGIN_FILES], dd_error *error);
void dd_begin_files_free(dd_begin_file files[DD_BEGIN_FILES]);
/* Where the trailer's parts belong, SI, trailer frame as in drawdock/rig.h. */
typedef struct dd_begin_placed {
    double boat, draught;   /* mass of the laden boat, kg; afloat, m */
    double keel_height;     /* of the keel at the transom above the ground */
    double transom;         /* behind the coupling */
    double centre;          /* of the laden boat from its transom */
    double coupling_load;   /* planned, N */
    double front, front_least, front_most; /* of the foremost support from the transom: where it stands, and between which places it can, m */
    dd_hull_parameters hull;
    dd_trailer_parameters trailer;
} dd_begin_placed;
DD_CHECKED dd_status dd_begin_place(const dd_begin *answers, const dd_begin_found *found, dd_begin_placed *placed, dd_error *error);
#endif
