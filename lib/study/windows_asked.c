/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The question as a program asks it: scenarios, their tide, a clock. */
#include "lib/base/calendar.h"
#include "lib/base/error.h"
#include "lib/shore/tide_given.h"
#include "lib/study/windows.h"
#include <math.h>
#include <string.h>

enum { BESIDE = 3 }; /* days */

static dd_status check_scenarios(const dd_case *const *scenarios, int count, dd_error *error)
{
    if (count < 1 || count > DD_WINDOWS_RIGS) return dd_fail(error, DD_ERROR_ARGUMENT, "dd_study_windows", "%d scenarios, expected 1 to %d", count, DD_WINDOWS_RIGS);
    for (int i = 0; i < count; i++) {
        if (scenarios[i]->cookie != sizeof *scenarios[i])
            return dd_fail(error, DD_ERROR_ARGUMENT, "dd_case: cookie", "the scenario was not filled by dd_case_defaults of this version");
        if (!scenarios[i]->on_ramp)
            return dd_fail(error, DD_ERROR_UNSET, "ramp", "windows ask for action, ramp, water and procedure: this scenario is for the road alone");
        if (strcmp(scenarios[i]->ramp.datum, scenarios[0]->ramp.datum) != 0)
            return dd_fail(error, DD_ERROR_ARGUMENT, "ramp.datum", "the ramps' levels are above different datums, '%s' and '%s'; the tide is the first scenario's", scenarios[0]->ramp.datum,
                           scenarios[i]->ramp.datum);
    }
    if (scenarios[0]->water.tide.kind < 0)
        return dd_fail(error, DD_ERROR_UNSET, "water.tide", "the scenario states no tide: its level is that of one time, which says nothing of the hours of a day");
    return DD_OK;
}

/* Wider than the span by a day and by a clock's distance from UTC, where the tide reaches so far. */
static dd_status make_tide(const dd_case *scenario, const dd_windows_asked *asked, dd_tide **tide, dd_error *error)
{
    double from, to;
    dd_calendar_span_times(dd_calendar_span(&asked->date, asked->whole_year), BESIDE, &from, &to);
    return dd_water_tide(&scenario->water, scenario->ramp.datum, from, to, tide, error);
}

dd_status dd_study_windows(const dd_case *const *scenarios, int count, const dd_windows_asked *asked, dd_report **report, char **calendar, dd_error *error)
{
    dd_tide *tide = NULL;
    *report = NULL;
    if (calendar != NULL) *calendar = NULL;
    dd_status status = check_scenarios(scenarios, count, error);
    if (status == DD_OK) status = make_tide(scenarios[0], asked, &tide, error);
    if (status == DD_OK) status = dd_windows_answer(scenarios, count, asked, tide, 0, report, calendar, error);
    dd_tide_free(tide);
    return status;
}
