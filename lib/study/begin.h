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

/* What was found by asking the files as first written: hub depths of the procedures, coupling load. */
typedef struct dd_begin_depths {
    double launch, retrieve;           /* m */
    double coupling_share;             /* of the laden trailer's mass, that weigh finds with the axles where they are put first; 0: not known */
    bool launch_works, retrieve_works; /* 0: no place on this ramp keeps every limit; the depth is the nearest */
} dd_begin_depths;

enum { DD_BEGIN_FILES = 6 };
typedef struct dd_begin_file {
    const char *name; /* "boat.yaml" */
    char *text;       /* malloc'ed */
} dd_begin_file;
/* All six: boat, trailer, vehicle, ramp, launch, retrieve; all answers must stand. The trailer is set up for the hull of these figures.
   Errors: those of dd_hull_create(), DD_ERROR_MEMORY. On an error no file has a text. */
DD_CHECKED dd_status dd_begin_files(const dd_begin *answers, const dd_begin_depths *depths, dd_begin_file files[DD_BEGIN_FILES], dd_error *error);
void dd_begin_files_free(dd_begin_file files[DD_BEGIN_FILES]);
/* Hub depth at which the scenario's action is best done, and whether there is one. Errors: those of dd_study_ramp_depth(). */
DD_CHECKED dd_status dd_begin_best_depth(const dd_case *scenario, double *depth, bool *works, dd_error *error);

/* The share that weigh finds on the coupling. Errors: those of dd_study_weigh(). */
DD_CHECKED dd_status dd_begin_coupling_share(const dd_case *scenario, double *share, dd_error *error);

/* Where the trailer's parts belong, SI, trailer frame as in drawdock/rig.h. */
typedef struct dd_begin_placed {
    double boat, draught;   /* mass of the laden boat, kg; afloat, m */
    double keel_height;     /* of the keel at the transom above the ground */
    double transom;         /* behind the coupling */
    double centre;          /* of the laden boat from its transom */
    double coupling_load;   /* planned, N */
    dd_trailer_parameters trailer;
} dd_begin_placed;
DD_CHECKED dd_status dd_begin_place(const dd_begin *answers, double coupling_share, dd_begin_placed *placed, dd_error *error);
#endif
