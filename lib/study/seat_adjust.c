/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list that a fitter follows: what to shift and by how much, before and after; or why no setting meets all that is asked. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/case/case.h"
#include "lib/study/seat_adjust_tell.h"
#include <drawdock/study.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double reserve = 0.01; /* of every limit; what the search knows of the loads is nearer than that (unit/study/test_seat_adjust) */

/* Where each travel begins and ends from where the part then stands. */
static void shift_travel(dd_travel *t, double by)
{
    for (int e = 0; e < 2 && t->count == 2; e++) t->ends[e] = rint(1e6 * (t->ends[e] - by)) / 1e6;
}

static void make_adjusted(const dd_adjusting *a, const dd_setting *setting, dd_case *adjusted)
{
    dd_case_copy(adjusted, a->scenario);
    dd_adjust_apply(a, setting, &adjusted->trailer);
    bool axles = false;
    for (int i = 0; i < a->shift_count; i++) {
        const dd_shift *h = &a->shifts[i];
        dd_adjust *adjust = h->support == DD_SHIFT_POST    ? &adjusted->trailer.winch.adjust
                            : h->support == DD_SHIFT_AXLES ? &adjusted->trailer.axle_adjust
                                                           : &adjusted->trailer.supports[h->support].adjust;
        axles |= h->support == DD_SHIFT_AXLES && setting->by[i] != 0;
        shift_travel(h->direction == DD_SHIFT_UP ? &adjust->up : h->direction == DD_SHIFT_OUT ? &adjust->out : &adjust->aft, setting->by[i]);
    }
    /* the trailer's own mass stays where it is when the axles go */
    if (!axles) adjusted->trailer.centre_behind_coupling = a->scenario->trailer.centre_behind_coupling;
}

/* Without each group that is asked, in turn: does all else come right? */
static dd_status find_what_to_drop(dd_adjusting *a, dd_adjusted *found)
{
    for (int kind = 0; kind < DD_ASK_KINDS && a->status == DD_OK; kind++) {
        found->dropped[kind].asked = a->asked[kind] && found->now.miss[kind] > 0;
        if (!found->dropped[kind].asked) continue;
        dd_setting setting;
        a->dropped = kind;
        if (dd_adjust_search(a, &setting, &found->dropped[kind].outcome))
            found->dropped[kind].helps = dd_adjust_missed(a, &found->dropped[kind].outcome) == 0;
        a->dropped = -1;
    }
    return a->status;
}

static double sum_of(const dd_seat_outcome *o)
{
    double sum = 0;
    for (int i = 0; i < DD_ASK_KINDS; i++) sum += o->miss[i];
    return o->stands ? sum : INFINITY;
}

static bool is_better(const dd_seat_outcome *now, const dd_seat_outcome *before)
{
    const double is = sum_of(now), was = sum_of(before);
    return is < was - 1e-9 || (is <= was && dd_adjust_strain(now) < dd_adjust_strain(before));
}

/* The setting computed as seat computes any rig; where that is no better the rig stays as it stands. */
static dd_status compute_in_full(dd_adjusting *a, dd_adjusted *found, dd_case *adjusted, dd_seat *after, dd_error *error)
{
    make_adjusted(a, &found->setting, adjusted);
    dd_error why = {.status = DD_OK};
    dd_status status = dd_seat_begin(adjusted, after, &why);
    if (status == DD_OK) status = dd_adjust_judge_home(a, after, &found->now, &why);
    if (status == DD_ERROR_MEMORY) {
        if (error != NULL) *error = why;
        return status;
    }
    if (status == DD_OK && is_better(&found->now, &found->before)) return DD_OK;
    found->setting = (dd_setting){0};
    make_adjusted(a, &found->setting, adjusted);
    dd_study_model_free(after->m);
    *after = (dd_seat){.report = after->report};
    status = dd_seat_begin(adjusted, after, error);
    if (status == DD_OK) status = dd_adjust_judge_home(a, after, &found->now, error);
    return status;
}

static int settings_of_heights(const dd_adjusting *a)
{
    int many = 1;
    for (int i = 0; i < a->choice_count; i++) many *= a->trailer.supports[a->choices[i]].height_setting_count;
    return many;
}

static dd_status told(const dd_adjusting *a, dd_error *error)
{
    return a->status == DD_ERROR_CANCELLED ? dd_fail(error, a->status, "dd_study_adjust", "interrupted")
                                           : dd_fail(error, a->status, "dd_study_adjust", "no memory for the supports' loads");
}

static dd_status find(dd_adjusting *a, dd_adjusted *found, dd_case *adjusted, dd_seat *after, dd_error *error)
{
    dd_status status = dd_seat_begin(a->scenario, &a->base, error);
    if (status == DD_OK) status = dd_adjust_begin(a, error);
    if (status != DD_OK) return a->status != DD_OK ? told(a, error) : status;
    status = dd_adjust_judge_home(a, &a->base, &found->before, error);
    if (status != DD_OK) return status;
    a->reserve = reserve;
    a->planned = settings_of_heights(a);
    if (!dd_adjust_search(a, &found->setting, &found->searched)) return told(a, error);
    status = compute_in_full(a, found, adjusted, after, error);
    if (status != DD_OK || sum_of(&found->now) == 0) return status;
    for (int kind = 0; kind < DD_ASK_KINDS; kind++)
        if (a->asked[kind] && found->now.miss[kind] > 0) a->planned += settings_of_heights(a);
    return find_what_to_drop(a, found) == DD_OK ? DD_OK : told(a, error);
}

dd_status dd_study_adjust(const dd_case *scenario, dd_progress progress, void *context, dd_report **report, char **changes, dd_error *error)
{
    *report = NULL;
    *changes = NULL;
    if (scenario->cookie != sizeof *scenario)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_case: cookie", "the scenario was not filled by dd_case_defaults of this version");
    dd_adjusting *a = calloc(1, sizeof *a);
    dd_adjusted *found = calloc(1, sizeof *found);
    dd_case *adjusted = calloc(1, sizeof *adjusted);
    dd_seat *after = calloc(1, sizeof *after);
    dd_status status = DD_OK;
    if (after != NULL) after->report = dd_reporter_create(scenario->title, "seat", DD_REPORT_METRIC);
    if (a == NULL || found == NULL || adjusted == NULL || after == NULL || after->report == NULL)
        status = dd_fail(error, DD_ERROR_MEMORY, "dd_study_adjust", "no memory for the supports");
    if (status == DD_OK) {
        *a = (dd_adjusting){.scenario = scenario, .progress = progress, .context = context, .dropped = -1};
        status = find(a, found, adjusted, after, error);
    }
    if (status == DD_OK) {
        dd_adjust_tell(a, found, adjusted, after->report);
        status = dd_seat_parts(after, error);
    }
    if (status == DD_OK) {
        *changes = dd_adjust_changes(a, adjusted);
        if (*changes == NULL) status = dd_fail(error, DD_ERROR_MEMORY, "dd_study_adjust", "no memory for the list of changes");
    }
    if (status == DD_OK) {
        status = dd_reporter_finish(after->report, report, error);
        after->report = NULL;
    }
    if (status != DD_OK) {
        free(*changes);
        *changes = NULL;
    }
    if (after != NULL) dd_reporter_free(after->report), dd_study_model_free(after->m);
    if (a != NULL) dd_study_model_free(a->base.m);
    free(a);
    free(found);
    free(adjusted);
    free(after);
    return status;
}
