/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The band against the water's level, and on plane ramps of other slopes. */
#include "lib/base/error.h"
#include "lib/case/case.h"
#include "lib/study/depth_report.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double slopes[] = {0.08, 0.10, 0.12, 0.125, 0.14, 0.15};
static const double to_crest = 0.2; /* highest level of the table, below the crest, m */

/* Opens, finds, puts a row: first is what its first column says. */
static dd_status put_band(dd_depth_answer *a, const dd_case *scenario, double level, const dd_depth *other, double first, bool tyres, dd_error *error)
{
    dd_depth *d = calloc(1, sizeof *d);
    dd_depth_band band;
    if (d == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_ramp_depth", "no memory for the rows");
    dd_status status = dd_depth_open(scenario, level, other, d, error);
    if (status == DD_OK) status = dd_depth_find(d, &band, error);
    if (status == DD_ERROR_ARGUMENT || status == DD_ERROR_NO_EQUILIBRIUM) { /* the whole ramp drowned or dry: no row */
        status = DD_OK;
    } else if (status == DD_OK) {
        const dd_depth_place *places[] = {&band.least, &band.best, &band.most};
        dd_reporter_value(a->report, first);
        for (int i = 0; i < 3; i++) dd_reporter_value(a->report, band.works ? places[i]->look.seen.v[DD_SEEN_HUB_DEPTH] : NAN);
        if (tyres) dd_reporter_value(a->report, band.works ? band.best.look.seen.v[DD_SEEN_VEHICLE_WHEEL_DEPTH] : NAN);
        dd_reporter_words(a->report, "%s", dd_depth_end_words(band.least.binds));
        dd_reporter_words(a->report, "%s", dd_depth_end_words(band.most.binds));
    }
    dd_depth_close(d);
    free(d);
    return status;
}

static void add_columns(dd_reporter *r, bool tyres)
{
    dd_reporter_column(r, "least", "mm", 0, "shallowest place, water over the hub; empty: no place works");
    dd_reporter_column(r, "best", "mm", 0, "best place");
    dd_reporter_column(r, "most", "mm", 0, "deepest place");
    if (tyres) dd_reporter_column(r, "rear tyre", "mm", 0, "water at the vehicle's rear wheels at the best place; negative: dry");
    dd_reporter_column(r, "shallow end", "", 0, "what binds at the shallow end");
    dd_reporter_column(r, "deep end", "", 0, "what binds at the deep end");
}

static dd_status put_levels(dd_depth_answer *a, dd_error *error)
{
    const dd_depth *d = &a->depth;
    const double crest = dd_ramp_at(d->m->ramp, 0).z, toe = dd_ramp_toe(d->m->ramp);
    const double low = a->least.found ? a->least.level + 0.01 : isfinite(toe) ? dd_ramp_at(d->m->ramp, toe).z + 0.3 : d->level - 0.5;
    const double high = fmax(d->level, crest - to_crest);
    dd_status status = DD_OK;
    dd_reporter_table(a->report, "levels", "The band against the water's level", DD_REPORT_LONG);
    dd_reporter_datum(a->report, dd_depth_datum(a));
    dd_reporter_column(a->report, "level", "m", 2, "of the water, on the ramp's datum");
    add_columns(a->report, false);
    for (int i = 0; i < a->levels && status == DD_OK; i++) {
        const double level = low + (high - low) * i / fmax(1, a->levels - 1);
        status = put_band(a, a->scenario, level, d, level, false, error);
    }
    return status;
}

/* The scenario on a plane ramp long enough to have no toe. */
static dd_status put_slopes(dd_depth_answer *a, dd_error *error)
{
    dd_status status = DD_OK;
    dd_case *plane = malloc(sizeof *plane);
    if (plane == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_ramp_depth", "no memory for the scenario");
    dd_reporter_table(a->report, "slopes", "On a plane ramp without end, of other slopes", DD_REPORT_LONG);
    dd_reporter_column(a->report, "slope", "%", 1, "of the ramp");
    add_columns(a->report, true);
    for (size_t i = 0; i < sizeof slopes / sizeof slopes[0] && status == DD_OK; i++) {
        dd_case_copy(plane, a->scenario);
        dd_ramp_defaults(&plane->ramp);
        plane->ramp.slope = atan(slopes[i]);
        plane->ramp.crest_level = a->depth.level + 2;
        plane->ramp.surface_count = 0;
        status = put_band(a, plane, a->depth.level, NULL, slopes[i], true, error);
    }
    free(plane);
    return status;
}

dd_status dd_depth_tell_levels(dd_depth_answer *a, dd_error *error)
{
    if (a->levels <= 0) return DD_OK;
    dd_status status = put_levels(a, error);
    return status == DD_OK ? put_slopes(a, error) : status;
}
