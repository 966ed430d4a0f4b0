/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/fleet.h"
#include "lib/base/error.h"
#include "lib/shore/shore.h"
#include "lib/shore/tide_given.h"
#include "lib/study/quote.h"
#include <math.h>
#include <stdlib.h>

dd_status dd_fleet_prepare(dd_fleet_work *w, const dd_fleet_member *members, dd_error *error)
{
    const dd_case *s = w->scenario;
    dd_status status = dd_water_level_now(&s->water, s->ramp.datum, &w->level, error);
    if (status == DD_OK) status = dd_fleet_make(w, members, error);
    w->ramp_count = 1 + s->fleet.variant_count;
    for (int i = 0; i < w->ramp_count && status == DD_OK; i++)
        status = dd_fleet_change(&s->ramp, i > 0 ? &s->fleet.variants[i - 1] : NULL, i, &w->ramp[i], &w->toe[i], error);
    if (status == DD_OK) status = dd_fleet_tide(w, error);
    return status;
}

void dd_fleet_end(dd_fleet_work *w)
{
    free(w->levels);
    free(w->answers);
    free(w->rigs);
}

/* A fleet of which nothing is known is no answer. */
static dd_status some_computed(const dd_fleet_work *w, dd_error *error)
{
    const dd_fleet_answer *failed = NULL;
    const int all = w->count * DD_FLEET_ACTIONS;
    for (int i = 0; i < all; i++) {
        if (w->answers[i].asked && w->answers[i].status == DD_OK) return DD_OK;
        if (w->answers[i].asked) failed = &w->answers[i];
    }
    if (failed == NULL) return dd_fail(error, DD_ERROR_UNSET, "fleet", "the fleet has no rig");
    if (error != NULL) *error = failed->why;
    return failed->status;
}

dd_status dd_study_fleet(const dd_case *scenario, const dd_fleet_member *rigs, int threads, dd_progress progress, void *context, dd_report **report,
                         dd_error *error)
{
    *report = NULL;
    if (scenario->cookie != sizeof *scenario)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_case: cookie", "the scenario was not filled by dd_case_defaults of this version");
    if (!scenario->on_ramp)
        return dd_fail(error, DD_ERROR_UNSET, "ramp", "fleet asks for action, ramp, water and procedure: this scenario is for the road alone");
    dd_fleet_work *w = calloc(1, sizeof *w);
    if (w == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_fleet", "no memory for the fleet");
    w->scenario = scenario;
    w->report = dd_reporter_create(scenario->title, "fleet", DD_REPORT_METRIC);
    if (w->report != NULL) dd_quote(w->report, scenario);
    dd_status status = w->report != NULL ? dd_fleet_prepare(w, rigs, error) : dd_fail(error, DD_ERROR_MEMORY, "dd_study_fleet", "no memory for the report");
    if (status == DD_OK) status = dd_fleet_run(w, threads, progress, context, error);
    if (status == DD_OK) status = some_computed(w, error);
    if (status == DD_OK) {
        dd_fleet_tell(w);
        status = dd_reporter_finish(w->report, report, error);
        w->report = NULL;
    }
    dd_reporter_free(w->report);
    dd_fleet_end(w);
    free(w);
    return status;
}
