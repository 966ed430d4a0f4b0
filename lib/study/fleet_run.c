/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The least level of every rig on every ramp. Each answer is computed from its scenario alone and kept in its own place, so that it does
   not matter which thread does it, or when. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/study/fleet.h"
#include <math.h>
#include <stdlib.h>
#ifdef _OPENMP
#include <omp.h>
#endif

const char *dd_fleet_ramp_name(const dd_fleet_work *w, int ramp) { return ramp > 0 ? w->scenario->fleet.variants[ramp - 1].name : "as it is"; }

dd_fleet_answer *dd_fleet_answer_of(const dd_fleet_work *w, int ramp, int rig, int action)
{
    return &w->answers[((size_t)ramp * (size_t)w->count + (size_t)rig) * DD_FLEET_ACTIONS + (size_t)action];
}

/* Levels at which the search may begin, over the toe: where the first is too low or high for the ramp. */
static const double begins[] = {1.0, 0.6, 1.6};

/* The ramp or the water there, not the computation, is what fails. */
static bool does_not_stand(dd_status status) { return status == DD_ERROR_ARGUMENT || status == DD_ERROR_NO_EQUILIBRIUM; }

static void find_least(const dd_case *scenario, double level, double toe, dd_fleet_answer *a)
{
    dd_depth *d = calloc(1, sizeof *d);
    dd_depth_band band;
    dd_depth_level least;
    if (d == NULL) {
        a->status = dd_fail(&a->why, DD_ERROR_MEMORY, "dd_study_fleet", "no memory for the rows");
        return;
    }
    a->status = dd_depth_open(scenario, level, NULL, d, &a->why);
    const dd_error first = a->why;
    for (size_t i = 0; i < sizeof begins / sizeof begins[0] && isfinite(toe) && does_not_stand(a->status); i++) {
        dd_depth_close(d);
        a->status = dd_depth_open(scenario, toe + begins[i], NULL, d, &a->why);
    }
    if (does_not_stand(a->status)) a->why = first;
    if (a->status == DD_OK) a->status = dd_depth_find_least(d, &band, &a->why);
    if (a->status == DD_OK) a->status = dd_depth_least_level(scenario, d, &band, &least, &a->why);
    if (a->status == DD_OK) {
        a->level = least.found ? least.level : least.everywhere ? -INFINITY : INFINITY;
        a->shallow = least.shallow;
        a->deep = least.deep;
        a->reach = least.reach;
        a->now = band.works;
        a->tyres = band.works ? band.least.look.seen.v[DD_SEEN_VEHICLE_WHEEL_DEPTH] : NAN;
    }
    dd_depth_close(d);
    free(d);
}

static void answer(const dd_fleet_work *w, int ramp, int rig, int action, dd_fleet_answer *a)
{
    const dd_fleet_made *made = &w->rigs[rig];
    dd_case *c = malloc(sizeof *c);
    if (c == NULL) {
        a->status = dd_fail(&a->why, DD_ERROR_MEMORY, "dd_study_fleet", "no memory for the scenario");
        return;
    }
    *c = *made->base[action];
    c->ramp = w->ramp[ramp];
    c->water = w->scenario->water;
    c->place = w->scenario->place;
    c->gravity = w->scenario->gravity;
    dd_fleet_scale(c, made->scale, made->mass);
    find_least(c, w->level, w->toe[ramp], a);
    free(c);
}

dd_status dd_fleet_run(dd_fleet_work *w, int threads, dd_progress progress, void *context, dd_error *error)
{
    const int jobs = w->ramp_count * w->count * DD_FLEET_ACTIONS;
    int done = 0, cancelled = 0;
    w->answers = calloc((size_t)jobs, sizeof *w->answers);
    if (w->answers == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_fleet", "no memory for the answers");
#ifdef _OPENMP
    if (threads <= 0) threads = omp_get_max_threads();
#pragma omp parallel for schedule(dynamic) num_threads(threads)
#else
    (void)threads;
#endif
    for (int job = 0; job < jobs; job++) {
        int stop;
        const int action = job % DD_FLEET_ACTIONS, rig = job / DD_FLEET_ACTIONS % w->count, ramp = job / DD_FLEET_ACTIONS / w->count;
        dd_fleet_answer *a = &w->answers[job];
        *a = (dd_fleet_answer){.level = NAN, .tyres = NAN, .reach = {.level = NAN}, .asked = w->rigs[rig].base[action] != NULL};
#ifdef _OPENMP
#pragma omp atomic read
#endif
        stop = cancelled;
        if (stop || !a->asked) continue;
        answer(w, ramp, rig, action, a);
#ifdef _OPENMP
#pragma omp critical
#endif
        {
            done++;
            if (progress != NULL && progress((double)done / jobs, 0, context) != 0) {
#ifdef _OPENMP
#pragma omp atomic write
#endif
                cancelled = 1;
            }
        }
    }
    if (cancelled) return dd_fail(error, DD_ERROR_CANCELLED, "dd_study_fleet", "interrupted");
    for (int job = 0; job < jobs; job++)
        if (w->answers[job].status == DD_ERROR_MEMORY) {
            if (error != NULL) *error = w->answers[job].why;
            return DD_ERROR_MEMORY;
        }
    return DD_OK;
}
