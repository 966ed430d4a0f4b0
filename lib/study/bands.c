/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a verdict holds over what is known only within a band, and which figures decide when it does not. */
#include "lib/base/error.h"
#include <drawdock/study.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { CHANGE_OF_VERDICT = 10, DECIDING = 3, MOST_BANDS = 21 + DD_SUPPORTS, SET_UP = -1 };

static const double degrees = 57.295779513082320877;

/* The boat's estimates: where each stands, how it is shown, how it is taken. */
typedef struct estimated {
    const char *name, *unit;
    size_t parameter, estimate; /* offsets in dd_hull_parameters and dd_hull_estimates */
    const char *how;
} estimated;

#define BOAT(field) offsetof(dd_hull_parameters, field), offsetof(dd_hull_estimates, field)
static const estimated rows[] = {
    {"total mass", "kg", offsetof(dd_hull_parameters, mass), offsetof(dd_hull_estimates, total_mass),
     "weigh the loaded rig on a weighbridge and take off the empty trailer"},
    {"centre of mass from the transom", "m", BOAT(centre_from_transom),
     "weigh coupling and axles of the loaded trailer on level ground"},
    {"centre of mass above the keel", "m", BOAT(centre_height), "weigh the coupling again with it raised by half a metre"},
    {"chine beam", "m", BOAT(chine_beam), "tape from chine to chine where it is widest, under the hull"},
    {"deadrise amidships", "deg", BOAT(midships_deadrise),
     "at half length hold a level out from the keel and tape up to the bottom half a metre out"},
    {"deadrise at the bow", "deg", BOAT(bow_deadrise), "as amidships, at four fifths of the length"},
    {"keel rise at the bow", "m", BOAT(keel_rise), "stretch a string along the keel and tape from it up to the stem's foot"},
    {"sheer height at the transom", "m", BOAT(transom_sheer_height), "tape from the keel's line up to the gunwale at the transom"},
    {"sheer height amidships", "m", BOAT(midships_sheer_height), "tape from the keel's line up to the gunwale at half length"},
    {"sheer height at the bow", "m", BOAT(bow_sheer_height), "tape from the keel's line up to the gunwale at the stem"},
    {"roll radius", "m", BOAT(roll_radius), "rock the boat afloat and time ten rolls"},
    {"pitch radius", "m", BOAT(pitch_radius), "no tape takes it: list heavy things aboard with their places"},
    {"yaw radius", "m", BOAT(yaw_radius), "no tape takes it: list heavy things aboard with their places"},
    {"bow eye from the transom", "m", BOAT(bow_eye_from_transom), "tape from the transom to the bow eye, level"},
    {"bow eye above the keel", "m", BOAT(bow_eye_height), "tape from the keel's line up to the bow eye"},
    {"skeg below the keel", "m", BOAT(skeg_depth), "engine down: tape from the keel's line to the lowest point of the skeg"},
};
#undef BOAT
enum { ROWS = sizeof rows / sizeof rows[0] };

/* One figure with a band: a row of the boat (support < 0), a support's height, or (row SET_UP, support < 0) the water's set-up. */
typedef struct figure {
    int row, support;
    double low, likely, high; /* SI */
    dd_band band;
    double badness[2]; /* of the result at each end */
} figure;

typedef struct study_of_bands {
    const dd_case *scenario;
    dd_study study;
    figure figures[MOST_BANDS];
    int count, done, runs;
    dd_progress progress;
    void *context;
    dd_result *base;
} study_of_bands;

static double shown(double value, const char *unit) { return strcmp(unit, "deg") == 0 ? value * degrees : value; }

static void add_figure(study_of_bands *s, int row, int support, double low, double likely, double high)
{
    if (s->count >= MOST_BANDS || !(high > low)) return;
    figure *f = &s->figures[s->count++];
    *f = (figure){.row = row, .support = support, .low = low, .likely = likely, .high = high};
    if (support < 0 && row == SET_UP) {
        snprintf(f->band.name, sizeof f->band.name, "set-up of the water");
        snprintf(f->band.unit, sizeof f->band.unit, "m");
        snprintf(f->band.how, sizeof f->band.how, "read a board or gauge at the ramp against the table");
    } else if (support < 0) {
        snprintf(f->band.name, sizeof f->band.name, "%s", rows[row].name);
        snprintf(f->band.unit, sizeof f->band.unit, "%s", rows[row].unit);
        snprintf(f->band.how, sizeof f->band.how, "%s", rows[row].how);
    } else {
        snprintf(f->band.name, sizeof f->band.name, "height of %s", s->scenario->trailer.supports[support].name);
        snprintf(f->band.unit, sizeof f->band.unit, "m");
        snprintf(f->band.how, sizeof f->band.how, "trailer level on flat ground: tape from the ground to its top");
    }
    f->band.low = shown(low, f->band.unit);
    f->band.likely = shown(likely, f->band.unit);
    f->band.high = shown(high, f->band.unit);
}

static dd_status find_figures(study_of_bands *s, dd_error *error)
{
    dd_hull_estimates estimates;
    dd_status status = dd_hull_estimate(&s->scenario->boat, &estimates, error);
    if (status != DD_OK) return status;
    for (int r = 0; r < ROWS; r++) {
        dd_estimate e;
        memcpy(&e, (const char *)&estimates + rows[r].estimate, sizeof e);
        if (!e.given) add_figure(s, r, -1, e.low, e.likely, e.high);
    }
    const double tolerance = s->scenario->limits.height_tolerance;
    for (int i = 0; tolerance > 0 && i < s->scenario->trailer.support_count; i++) {
        double height = s->scenario->trailer.supports[i].above_ground;
        if (isfinite(height)) add_figure(s, -1, i, fmax(0.0, height - tolerance), height, height + tolerance);
    }
    const dd_set_up *set_up = &s->scenario->water.set_up;
    if (set_up->within > 0) add_figure(s, SET_UP, -1, set_up->offset - set_up->within, set_up->offset, set_up->offset + set_up->within);
    return DD_OK;
}

static void set_figure(dd_case *scenario, const figure *f, double value)
{
    if (f->support >= 0) {
        scenario->trailer.supports[f->support].above_ground = value;
        return;
    }
    if (f->row == SET_UP) {
        scenario->water.set_up.offset = value;
        return;
    }
    dd_hull_parameters *boat = &scenario->boat;
    if (rows[f->row].parameter == offsetof(dd_hull_parameters, mass)) {
        /* The band is of the whole mass: what is aboard beside the brochure's mass stays as it is. */
        for (int i = 0; i < boat->item_count; i++) value -= dd_item_mass(&boat->items[i]);
        value -= boat->water_aboard.mass;
        boat->mass_of = DD_MASS_READY_TO_GO;
    }
    memcpy((char *)boat + rows[f->row].parameter, &value, sizeof value);
}

static int forward(double share, double time, void *context)
{
    const study_of_bands *s = context;
    (void)time;
    return s->progress((s->done + fmin(1.0, share)) / s->runs, 0, s->context);
}

/* Runs once; only that it was cancelled, or that memory ran out, is an error here. *result may be NULL. */
static dd_status run_once(study_of_bands *s, const dd_case *scenario, dd_result **result, dd_error *error)
{
    dd_error why = {.status = DD_OK};
    *result = NULL;
    dd_status status = s->study(scenario, s->progress != NULL ? forward : NULL, s, result, &why);
    s->done++;
    if (status != DD_ERROR_CANCELLED && status != DD_ERROR_MEMORY) return DD_OK;
    dd_result_free(*result);
    *result = NULL;
    if (error != NULL) *error = why;
    return status;
}

static double share_of(const study_of_bands *s, const dd_result *r)
{
    if (r == NULL || s->base->margin_count == 0) return NAN;
    for (int i = 0; i < r->margin_count; i++)
        if (strcmp(r->margins[i].name, s->base->margins[0].name) == 0) return r->margins[i].share;
    return NAN;
}

static int rank_of(int verdict) { return verdict == DD_VERDICT_WITHIN ? 0 : verdict == DD_VERDICT_BROKEN ? 1 : 2; }

static int verdict_of(const dd_result *r) { return r == NULL ? DD_VERDICT_INCOMPLETE : r->verdict; }

/* The same verdict in class and in word. What cannot be computed changes nothing: it is told by its word. */
static bool differs(const study_of_bands *s, int verdict, const char *word)
{
    return verdict != DD_VERDICT_INCOMPLETE && (verdict != s->base->verdict || strcmp(word, s->base->word) != 0);
}

static double badness_of(const study_of_bands *s, const dd_result *r)
{
    if (verdict_of(r) == DD_VERDICT_INCOMPLETE) return -INFINITY;
    const double share = share_of(s, r);
    return CHANGE_OF_VERDICT * rank_of(r->verdict) + (isnan(share) ? 0.0 : share);
}

static dd_status run_end(study_of_bands *s, dd_case *scenario, figure *f, int high, dd_error *error)
{
    dd_result *r;
    *scenario = *s->scenario;
    set_figure(scenario, f, high ? f->high : f->low);
    dd_status status = run_once(s, scenario, &r, error);
    if (status != DD_OK) return status;
    char *word = high ? f->band.word_high : f->band.word_low;
    *(high ? &f->band.verdict_high : &f->band.verdict_low) = verdict_of(r);
    snprintf(word, sizeof f->band.word_low, "%s", r != NULL ? r->word : "could not be computed");
    *(high ? &f->band.share_high : &f->band.share_low) = share_of(s, r);
    f->badness[high] = badness_of(s, r);
    dd_result_free(r);
    return DD_OK;
}

static double effect_of(const study_of_bands *s, const figure *f)
{
    const double shares[] = {share_of(s, s->base), f->band.share_low, f->band.share_high};
    double least = INFINITY, most = -INFINITY;
    for (int i = 0; i < 3; i++)
        if (!isnan(shares[i])) least = fmin(least, shares[i]), most = fmax(most, shares[i]);
    double effect = most > least ? fmin(most - least, CHANGE_OF_VERDICT - 1) : 0;
    effect += differs(s, f->band.verdict_low, f->band.word_low) ? CHANGE_OF_VERDICT : 0;
    return effect + (differs(s, f->band.verdict_high, f->band.word_high) ? CHANGE_OF_VERDICT : 0);
}

static int by_effect(const void *left, const void *right)
{
    const figure *a = left, *b = right;
    if (a->band.effect != b->band.effect) return a->band.effect > b->band.effect ? -1 : 1;
    return strcmp(a->band.name, b->band.name);
}

static dd_status run_all(study_of_bands *s, dd_case *scenario, dd_result **worst, dd_error *error)
{
    dd_status status = DD_OK;
    for (int i = 0; i < s->count && status == DD_OK; i++)
        for (int high = 0; high < 2 && status == DD_OK; high++)
            status = run_end(s, scenario, &s->figures[i], high, error);
    if (status != DD_OK) return status;
    *scenario = *s->scenario;
    for (int i = 0; i < s->count; i++) {
        figure *f = &s->figures[i];
        f->band.effect = effect_of(s, f);
        const int high = f->badness[1] >= f->badness[0];
        if (f->badness[high] > badness_of(s, s->base)) set_figure(scenario, f, high ? f->high : f->low);
    }
    return run_once(s, scenario, worst, error);
}

/* --- in words ---------------------------------------------------------------------------------------------------- */

static void add_text(char *text, size_t size, const char *format, ...) DD_PRINTF(3, 4);
static void add_text(char *text, size_t size, const char *format, ...)
{
    size_t length = strlen(text);
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text + length, size - length, format, arguments);
    va_end(arguments);
}

static void say_what_decides(const study_of_bands *s, char *text, size_t size)
{
    for (int i = 0; i < s->count && i < DECIDING && s->figures[i].band.effect > 0; i++)
        add_text(text, size, "%s %s (%.4g to %.4g %s; %s)", i == 0 ? " What decides:" : ";", s->figures[i].band.name,
                 s->figures[i].band.low, s->figures[i].band.high, s->figures[i].band.unit, s->figures[i].band.how);
    add_text(text, size, ".");
}

static const char *outcome(int verdict, const char *word) { return verdict == DD_VERDICT_BROKEN ? "a limit is broken" : word; }

static void conclude(study_of_bands *s, const dd_result *worst)
{
    dd_result *r = s->base;
    char *text = r->bands_sentence;
    const size_t size = sizeof r->bands_sentence;
    const figure *first = &s->figures[0];
    if (s->count == 0) {
        r->bands = DD_BANDS_HOLD;
        snprintf(text, size, "Nothing here is known only within a band.");
        return;
    }
    const bool low = differs(s, first->band.verdict_low, first->band.word_low),
               alone = low || differs(s, first->band.verdict_high, first->band.word_high),
               together = worst != NULL && differs(s, worst->verdict, worst->word);
    r->bands = alone || together ? DD_BANDS_DECIDE : DD_BANDS_HOLD;
    if (!alone && !together) {
        snprintf(text, size, "The verdict holds over the bands of %d figures, each alone and all at their worse ends together.",
                 s->count);
        return;
    }
    if (alone)
        snprintf(text, size, "The verdict hangs on figures known only within a band: with %s at %.4g %s it is \"%s\".",
                 first->band.name, low ? first->band.low : first->band.high, first->band.unit,
                 low ? outcome(first->band.verdict_low, first->band.word_low)
                     : outcome(first->band.verdict_high, first->band.word_high));
    else
        snprintf(text, size, "The verdict holds for each figure's band alone; with all at their worse ends it is \"%s\".",
                 outcome(worst->verdict, worst->word));
    say_what_decides(s, text, size);
}

static dd_status take(study_of_bands *s, dd_error *error)
{
    dd_result *r = s->base;
    if (s->count == 0) return DD_OK;
    r->band = calloc((size_t)s->count, sizeof *r->band);
    if (r->band == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_bands", "no memory for the bands");
    for (int i = 0; i < s->count; i++) {
        r->band[i] = s->figures[i].band;
        r->band[i].decides = i < DECIDING && r->bands == DD_BANDS_DECIDE && r->band[i].effect > 0 ? i + 1 : 0;
    }
    r->band_count = s->count;
    return DD_OK;
}

static dd_status run_bands(study_of_bands *s, dd_case *scenario, dd_error *error)
{
    dd_result *worst = NULL;
    dd_status status = find_figures(s, error);
    s->runs = 2 + 2 * s->count;
    if (status == DD_OK) status = s->study(s->scenario, s->progress != NULL ? forward : NULL, s, &s->base, error);
    s->done++;
    /* Of a run that cannot be completed nothing more is known at the ends of its bands. */
    if (status != DD_OK || s->base->verdict == DD_VERDICT_INCOMPLETE) return status;
    status = run_all(s, scenario, &worst, error);
    if (status == DD_OK) {
        qsort(s->figures, (size_t)s->count, sizeof s->figures[0], by_effect);
        conclude(s, worst);
        status = take(s, error);
    }
    dd_result_free(worst);
    return status;
}

dd_status dd_study_bands(const dd_case *scenario, dd_study study, dd_progress progress, void *context, dd_result **result,
                         dd_error *error)
{
    *result = NULL;
    study_of_bands *s = calloc(1, sizeof *s);
    dd_case *varied = malloc(sizeof *varied);
    dd_status status = DD_OK;
    if (s == NULL || varied == NULL)
        status = dd_fail(error, DD_ERROR_MEMORY, "dd_study_bands", "no memory for the bands");
    if (status == DD_OK) {
        s->scenario = scenario;
        s->study = study;
        s->progress = progress;
        s->context = context;
        status = run_bands(s, varied, error);
        if (status == DD_OK || (s->base != NULL && s->base->verdict == DD_VERDICT_INCOMPLETE))
            *result = s->base;
        else
            dd_result_free(s->base);
    }
    free(varied);
    free(s);
    return status;
}
