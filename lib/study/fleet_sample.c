/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fleet's rigs: as listed, or drawn from these by length, mass and kind of trailer. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/case/case.h"
#include "lib/hull/surface.h"
#include "lib/ode/gsl.h"
#include "lib/rig/rig.h"
#include "lib/study/fleet.h"
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Of one size whatever the boat. */
static const char *const fixed[] = {"tyre radius", "tyre width", "tyre squash", "spring squash", "coupling height", "frame clearance", "drawbar width", "track", "hand force limit", "wheel radius", "handle length", NULL};
/* Above the ground: about the coupling's height. */
static const char *const heights[] = {"above ground", "foot above ground", "hinge above ground", "bed centre above ground", "centre above ground", "keel above ground", "frame height", "actuator height", "plug height", NULL};

static bool among(const char *const *names, const char *name)
{
    for (; *names != NULL; names++)
        if (strcmp(*names, name) == 0) return true;
    return false;
}

typedef struct scaling {
    double scale, mass, coupling;
} scaling;

static double factor_of(const scaling *s, dd_dimension dimension)
{
    const double cube = s->scale * s->scale * s->scale;
    switch (dimension) {
    case DD_LENGTH: return s->scale;
    case DD_VOLUME: return cube;
    case DD_MASS: case DD_FORCE: case DD_POWER: return cube * s->mass;
    case DD_MOMENT: return cube * s->scale * s->mass;
    case DD_STIFFNESS: return s->scale * s->scale * s->mass;
    case DD_INERTIA: case DD_BENDING_STIFFNESS: return cube * s->scale * s->scale * s->mass;
    default: return 1;
    }
}

static void scale_rows(const scaling *s, const dd_key *rows, char *structure);

static void scale_one(const scaling *s, const dd_key *row, char *at, int count)
{
    const double factor = factor_of(s, row->dimension);
    double value;
    if (factor == 1 || among(fixed, row->name)) return;
    for (int i = 0; i < count; i++) {
        memcpy(&value, at + (size_t)i * sizeof value, sizeof value);
        value = row->dimension == DD_LENGTH && among(heights, row->name) ? s->coupling + factor * (value - s->coupling) : factor * value;
        memcpy(at + (size_t)i * sizeof value, &value, sizeof value);
    }
}

static void scale_list(const scaling *s, const dd_key *row, char *structure, int count)
{
    for (int i = 0; i < count; i++) {
        char *element = structure + row->offset + (size_t)i * row->size;
        int kind = -1;
        scale_rows(s, row->rows, element);
        if (row->variants != NULL) memcpy(&kind, element + row->kind_offset, sizeof kind);
        if (kind >= 0) scale_rows(s, row->variants[kind].rows, element);
    }
}

static void scale_rows(const scaling *s, const dd_key *rows, char *structure)
{
    for (; rows != NULL && rows->name != NULL; rows++) {
        int count = 0;
        if (rows->type == DD_KEY_QUANTITIES || rows->type == DD_KEY_LIST) memcpy(&count, structure + rows->count_offset, sizeof count);
        if (rows->type == DD_KEY_QUANTITY) scale_one(s, rows, structure + rows->offset, 1);
        if (rows->type == DD_KEY_QUANTITIES) scale_one(s, rows, structure + rows->offset, count);
        if (rows->type == DD_KEY_BLOCK && rows->variants == NULL) scale_rows(s, rows->rows, structure + rows->offset);
        if (rows->type == DD_KEY_LIST) scale_list(s, rows, structure, count);
    }
}

void dd_fleet_scale(dd_case *scenario, double scale, double mass)
{
    const scaling s = {scale, mass, scenario->trailer.coupling_height}, places = {scale, 1 / (scale * scale * scale), 0};
    if (scale == 1 && mass == 1) return;
    scale_rows(&s, dd_hull_keys, (char *)&scenario->boat);
    scale_rows(&s, dd_trailer_keys, (char *)&scenario->trailer);
    scale_rows(&s, dd_placed_keys, (char *)&scenario->placed);
    /* A heavier boat's winch is geared lower: the hand at the handle feels the same share of its rating. */
    if (scenario->trailer.winch.drive != DD_DRIVE_ELECTRIC) scenario->trailer.winch.gear_ratio *= factor_of(&s, DD_FORCE) * scale;
    for (int i = 0; i < scenario->boat.item_count; i++) { /* a person is no larger in a larger boat, but sits elsewhere */
        dd_item *item = &scenario->boat.items[i];
        scale_rows(item->kind >= 0 ? &places : &s, dd_item_keys, (char *)item);
    }
}

static const dd_case *any_of(const dd_fleet_made *rig) { return rig->base[DD_FLEET_LAUNCH] != NULL ? rig->base[DD_FLEET_LAUNCH] : rig->base[DD_FLEET_RETRIEVE]; }

static double hull_length(const dd_case *c) { return c->boat.length - (isnan(c->boat.platform_length) ? 0 : c->boat.platform_length); }

static void fill_own(dd_fleet_made *rig)
{
    const dd_case *c = any_of(rig);
    dd_trailer_parameters trailer = c->trailer;
    dd_trailer_complete(&trailer);
    rig->scale = rig->mass = 1;
    rig->length = hull_length(c);
    rig->track = trailer.track;
}

static dd_status list_rigs(const dd_case *scenario, const dd_fleet_member *members, dd_fleet_made *rigs, int *count, dd_error *error)
{
    const dd_fleet *f = &scenario->fleet;
    *count = 0;
    if (f->own > 0) {
        dd_fleet_made *own = &rigs[(*count)++];
        *own = (dd_fleet_made){.count = f->own, .name = "own"};
        own->base[scenario->action == DD_ACTION_LAUNCH ? DD_FLEET_LAUNCH : DD_FLEET_RETRIEVE] = scenario;
        fill_own(own);
    }
    for (int i = 0; i < f->rig_count; i++) {
        char place[64];
        dd_fleet_made *rig = &rigs[(*count)++];
        const dd_case *const given[DD_FLEET_ACTIONS] = {members != NULL ? members[i].launch : NULL, members != NULL ? members[i].retrieve : NULL};
        *rig = (dd_fleet_made){.count = f->rigs[i].count, .base = {given[0], given[1]}};
        dd_text(rig->name, sizeof rig->name, "%s", f->rigs[i].name);
        dd_text(place, sizeof place, "fleet.rigs[%s]", f->rigs[i].name);
        if (given[0] == NULL && given[1] == NULL) return dd_fail(error, DD_ERROR_UNSET, place, "neither its launch nor its retrieve is given");
        for (int a = 0; a < DD_FLEET_ACTIONS; a++) {
            if (given[a] == NULL) continue;
            if (!given[a]->on_ramp) return dd_fail(error, DD_ERROR_UNSET, place, "its %s is a scenario for the road alone, without a procedure", a == 0 ? "launch" : "retrieve");
            if (given[a]->action != (a == 0 ? DD_ACTION_LAUNCH : DD_ACTION_RETRIEVE))
                return dd_fail(error, DD_ERROR_ARGUMENT, place, "the scenario given as its %s is none", a == 0 ? "launch" : "retrieve");
        }
        fill_own(rig);
    }
    return *count > 0 ? DD_OK : dd_fail(error, DD_ERROR_UNSET, "fleet", "the fleet has no rig: give rigs, or own of more than 0");
}

/* The kind of a trailer: that of its rearmost support but for guides. */
static int kind_of(const dd_fleet_made *rig)
{
    const dd_trailer_parameters *t = &any_of(rig)->trailer;
    int kind = 0;
    double rear = -INFINITY;
    for (int i = 0; i < t->support_count; i++)
        if (t->supports[i].kind != DD_SUPPORT_SIDE_GUIDE && t->supports[i].behind_coupling > rear) rear = t->supports[i].behind_coupling, kind = t->supports[i].kind;
    return kind;
}

static double triangle(double u, double least, double likely, double most)
{
    const double whole = most - least, rise = likely - least;
    if (!(whole > 0)) return least;
    return u * whole < rise ? least + sqrt(u * whole * rise) : most - sqrt((1 - u) * whole * (most - likely));
}

/* The trailer's kind by the counts of the list, then of that kind the boat whose length is nearest. */
static const dd_fleet_made *base_of(const dd_fleet_made *listed, int count, double u, double length)
{
    double sum = 0, upto = 0, best = INFINITY;
    const dd_fleet_made *found = &listed[0];
    for (int i = 0; i < count; i++) sum += listed[i].count;
    int kind = kind_of(&listed[count - 1]);
    for (int i = 0; i < count; i++) {
        upto += listed[i].count / sum;
        if (u < upto) {
            kind = kind_of(&listed[i]);
            break;
        }
    }
    for (int i = 0; i < count; i++) {
        const double off = fabs(log(length / listed[i].length));
        if (kind_of(&listed[i]) == kind && off < best) best = off, found = &listed[i];
    }
    return found;
}

static dd_status draw(dd_fleet_work *w, const dd_fleet_made *listed, int count, dd_error *error)
{
    const dd_fleet_sampled *s = &w->scenario->fleet.sampled;
    double shortest = INFINITY, longest = 0, shift[3], u[3];
    for (int i = 0; i < count; i++) shortest = fmin(shortest, listed[i].length), longest = fmax(longest, listed[i].length);
    const double least = isnan(s->least_length) ? shortest : s->least_length, most = isnan(s->most_length) ? longest : s->most_length;
    const double likely = isnan(s->likely_length) ? 0.5 * (least + most) : s->likely_length;
    if (!(least <= likely && likely <= most)) return dd_fail(error, DD_ERROR_ARGUMENT, "fleet.sampled", "found lengths of %g, %g and %g m; expected least, likely and most in that order", least, likely, most);
    dd_gsl_quiet();
    gsl_rng *seed = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_qrng *points = gsl_qrng_alloc(gsl_qrng_sobol, 3);
    if (seed != NULL && points != NULL) {
        gsl_rng_set(seed, (unsigned long)s->seed);
        for (int k = 0; k < 3; k++) shift[k] = gsl_rng_uniform(seed);
        for (int i = 0; i < s->rigs; i++) {
            gsl_qrng_get(points, u);
            for (int k = 0; k < 3; k++) u[k] = fmod(u[k] + shift[k], 1);
            const double length = triangle(u[1], least, likely, most);
            const dd_fleet_made *base = base_of(listed, count, u[0], length);
            dd_fleet_made *rig = &w->rigs[i];
            *rig = *base;
            rig->count = 1;
            rig->scale = length / base->length;
            rig->mass = 1 + s->mass_within * (2 * u[2] - 1);
            rig->length = length;
            dd_text(rig->name, sizeof rig->name, "%d: %.40s", i + 1, base->name);
        }
    }
    const bool made = seed != NULL && points != NULL;
    if (seed != NULL) gsl_rng_free(seed);
    if (points != NULL) gsl_qrng_free(points);
    if (!made) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_fleet", "no memory for the draw");
    dd_reporter_assumed(w->report, "%d rigs drawn (Sobol, shifted by seed %d): lengths a triangle of %.2f, %.2f, %.2f m, masses within %.0f %% evenly; kinds of trailer as counted", s->rigs, s->seed, least, likely, most,
                        100 * s->mass_within);
    dd_reporter_assumed(w->report, "each is the listed rig of its kind and nearest length, boat and trailer scaled about the coupling, a hand winch geared to match; tyres, frame height, vehicle and people as they are");
    return DD_OK;
}

dd_status dd_fleet_make(dd_fleet_work *w, const dd_fleet_member *members, dd_error *error)
{
    const dd_fleet *f = &w->scenario->fleet;
    dd_fleet_made listed[DD_FLEET_RIGS + 1];
    int count;
    dd_status status = list_rigs(w->scenario, members, listed, &count, error);
    if (status != DD_OK) return status;
    w->count = f->sampled.rigs > 0 ? f->sampled.rigs : count;
    w->rigs = calloc((size_t)w->count, sizeof *w->rigs);
    if (w->rigs == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_fleet", "no memory for the rigs");
    if (f->sampled.rigs > 0) return draw(w, listed, count, error);
    memcpy(w->rigs, listed, (size_t)count * sizeof *listed);
    return DD_OK;
}
