/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The levels at which a scenario works. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/ode/ode.h"
#include "lib/shore/tide_given.h"
#include "lib/study/windows.h"
#include <math.h>
#include <stdlib.h>

static const double apart = 0.25;  /* of levels looked at, m */
static const double near = 0.002;  /* m */
enum { FEWEST = 4, MOST = 48 };

static double kept_at(double level, void *search)
{
    const double kept = dd_depth_kept_at(level, search);
    return isnan(kept) ? -1 : kept;
}

/* Between two levels, of which it works at one: what binds is what does at the last looked at of those where it does not. */
static dd_status find_end(dd_depth_search *s, double low, double high, double at_low, double at_high, dd_usable_end *end, dd_error *error)
{
    const bool rises = at_low < 0; /* it works at the higher */
    const dd_status status = dd_ode_enclose(kept_at, NULL, s, &low, &high, &at_low, &at_high, near, error);
    if (s->status != DD_OK && error != NULL) *error = s->why;
    if (s->status != DD_OK || status != DD_OK) return s->status != DD_OK ? s->status : status;
    end->level = low - (high - low) * at_low / (at_high - at_low);
    end->drowned = (rises ? at_low : at_high) <= -1;
    end->shallow = s->failed_shallow;
    end->deep = s->failed_deep;
    return DD_OK;
}

static dd_status scan(dd_depth_search *s, double low, double high, dd_usable *u, dd_error *error)
{
    const int steps = (int)fmin(MOST, fmax(FEWEST, ceil((high - low) / apart)));
    const dd_usable_end open_low = {.level = -INFINITY}, open_high = {.level = INFINITY};
    double before = 0, last = low;
    for (int i = 0; i <= steps; i++) {
        const double level = low + (high - low) * i / steps, kept = kept_at(level, s);
        if (s->status != DD_OK) {
            if (error != NULL) *error = s->why;
            return s->status;
        }
        dd_status status = DD_OK;
        if (i == 0 ? kept >= 0 : kept >= 0 && before < 0) {
            if (u->band_count == DD_USABLE_BANDS)
                return dd_fail(error, DD_ERROR_ARGUMENT, "ramp", "it works in more than %d bands of level: no ramp is so", DD_USABLE_BANDS);
            u->band[u->band_count++] = (dd_usable_band){open_low, open_high};
            if (i > 0) status = find_end(s, last, level, before, kept, &u->band[u->band_count - 1].low, error);
        } else if (i > 0 && kept < 0 && before >= 0) {
            status = find_end(s, last, level, before, kept, &u->band[u->band_count - 1].high, error);
        }
        if (status != DD_OK) return status;
        before = kept, last = level;
    }
    return DD_OK;
}

dd_status dd_usable_levels(const dd_case *scenario, double low, double high, dd_usable *u, dd_error *error)
{
    dd_depth_search s = {.scenario = scenario};
    dd_depth *here = calloc(1, sizeof *here);
    if (here == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_windows", "no memory for the rows");
    u->band_count = 0;
    u->looked_low = low;
    u->looked_high = high;
    /* The boat is wound home once; where the scenario's own level leaves the ramp dry or drowned, at each level. */
    dd_error why;
    double now;
    if (dd_water_level_now(&scenario->water, scenario->ramp.datum, &now, NULL) != DD_OK) now = high;
    dd_status status = dd_depth_open(scenario, now, NULL, here, &why);
    if (status == DD_OK) s.here = here;
    if (status == DD_ERROR_ARGUMENT || status == DD_ERROR_NO_EQUILIBRIUM) status = DD_OK;
    if (status != DD_OK && error != NULL) *error = why;
    if (status == DD_OK) status = scan(&s, low, high, u, error);
    dd_depth_search_end(&s);
    dd_depth_close(here);
    free(here);
    return status;
}

void dd_usable_end_words(const dd_usable_end *end, char *text, size_t size)
{
    if (isinf(end->level))
        dd_text(text, size, "beyond the tide");
    else if (end->drowned)
        dd_text(text, size, "the ramp is dry or drowned");
    else
        dd_text(text, size, "%s, %s", dd_depth_end_words(end->shallow), dd_depth_end_words(end->deep));
}
