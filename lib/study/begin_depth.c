/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a first scenario lets the rig stand: where `depth` finds it best. */
#include "lib/base/error.h"
#include "lib/shore/tide_given.h"
#include "lib/study/begin.h"
#include "lib/study/depth.h"
#include <drawdock/study.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

dd_status dd_begin_coupling_share(const dd_case *scenario, double *share, dd_error *error)
{
    dd_report *report;
    dd_status status = dd_study_weigh(scenario, &report, error);
    *share = 0;
    if (status != DD_OK) return status;
    for (int i = 0; i < report->check_count; i++)
        if (strcmp(report->checks[i].name, "coupling share") == 0) *share = 0.01 * report->checks[i].value;
    dd_report_free(report);
    return DD_OK;
}

dd_status dd_begin_best_depth(const dd_case *scenario, double *depth, bool *works, dd_error *error)
{
    double level;
    dd_depth_band band;
    dd_depth *d = calloc(1, sizeof *d);
    if (d == NULL) return dd_fail(error, DD_ERROR_MEMORY, "begin", "no memory for the positions");
    dd_status status = dd_water_level_now(&scenario->water, scenario->ramp.datum, &level, error);
    if (status == DD_OK) status = dd_depth_open(scenario, level, NULL, d, error);
    if (status == DD_OK) status = dd_depth_find(d, &band, error);
    if (status == DD_OK) {
        *depth = band.best.look.seen.v[DD_SEEN_HUB_DEPTH];
        *works = band.works;
    }
    dd_depth_close(d);
    free(d);
    return status;
}
