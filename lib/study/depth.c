/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/depth.h"
#include "lib/base/error.h"
#include "lib/shore/tide_given.h"
#include "lib/study/depth_report.h"
#include <drawdock/study.h>
#include <math.h>
#include <stdlib.h>

/* The parts of the report, in its order. */
static dd_status (*const parts[])(dd_depth_answer *, dd_error *) = {dd_depth_tell_band, dd_depth_tell_tide, dd_depth_tell_limits, dd_depth_tell_ramp, dd_depth_tell_levels, dd_depth_picture};

const char *dd_depth_datum(const dd_depth_answer *a) { return dd_datum_words(a->scenario->ramp.datum); }

static dd_status answer(const dd_case *scenario, dd_depth_answer *a, dd_error *error)
{
    double level;
    dd_status status = dd_water_level_now(&scenario->water, scenario->ramp.datum, &level, error);
    if (status == DD_OK) status = dd_depth_open(scenario, level, NULL, &a->depth, error);
    if (status == DD_OK) status = dd_depth_find(&a->depth, &a->band, error);
    if (status == DD_OK) status = dd_depth_least_level(scenario, &a->depth, &a->band, &a->least, error);
    return status;
}

dd_status dd_study_ramp_depth(const dd_case *scenario, int levels, const dd_clock *clock, dd_report **report, dd_error *error)
{
    *report = NULL;
    if (scenario->cookie != sizeof *scenario)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_case: cookie", "the scenario was not filled by dd_case_defaults of this version");
    if (!scenario->on_ramp)
        return dd_fail(error, DD_ERROR_UNSET, "ramp", "depth asks for action, ramp, water and procedure: this scenario is for the road alone");
    dd_depth_answer *a = calloc(1, sizeof *a);
    if (a == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_ramp_depth", "no memory for the rows");
    a->scenario = scenario;
    a->levels = levels;
    a->clock = clock;
    a->report = dd_reporter_create(scenario->title, "depth", DD_REPORT_METRIC);
    dd_status status = a->report != NULL ? answer(scenario, a, error) : dd_fail(error, DD_ERROR_MEMORY, "dd_study_ramp_depth", "no memory for the report");
    for (size_t i = 0; i < sizeof parts / sizeof parts[0] && status == DD_OK; i++) status = parts[i](a, error);
    if (status == DD_OK) {
        status = dd_reporter_finish(a->report, report, error);
        a->report = NULL;
    }
    dd_reporter_free(a->report);
    dd_depth_close(&a->depth);
    free(a);
    return status;
}
