/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The least level at which there is a place where it works: where the deepest place that toe, vehicle and grip leave is just deep enough. */
#include "lib/base/error.h"
#include "lib/ode/ode.h"
#include "lib/shore/shore.h"
#include "lib/study/depth.h"
#include <math.h>
#include <stdlib.h>

static const double near = 0.002;      /* of a level, m */
static const double beside = 0.01;     /* first step on either side of where it is expected, m */
static const double grows = 3.0;       /* the step, each time */
static const double least_depth = 0.1; /* over the toe: lower than that no wheel gets wet, m */
static const double higher = 4.0;      /* above the toe, m: no rig asks for more */
enum { SAMPLES = 6, STEPS = 7 };

static dd_status look_at(dd_depth_search *s, double level, dd_depth_candidate *found)
{
    if (s->at == NULL) s->at = malloc(sizeof *s->at);
    dd_depth *d = s->at;
    if (d == NULL) return dd_fail(&s->why, DD_ERROR_MEMORY, "dd_study_depth", "no memory for the rows");
    dd_status status = dd_depth_open(s->scenario, level, s->here, d, &s->why);
    if (status == DD_OK) status = dd_depth_try(d, found, &s->why);
    if (status == DD_OK && found->good && !(level > s->reach.level)) s->reach = dd_depth_reach_of(d, &found->place);
    dd_depth_close(d);
    return status;
}

void dd_depth_search_end(dd_depth_search *s)
{
    free(s->at);
    s->at = NULL;
}

double dd_depth_kept_at(double level, void *search)
{
    dd_depth_search *s = search;
    dd_depth_candidate found = {.kept = NAN};
    s->status = look_at(s, level, &found);
    if (s->status == DD_ERROR_ARGUMENT || s->status == DD_ERROR_NO_EQUILIBRIUM) { /* the whole ramp drowned, or dry */
        s->status = DD_OK;
        return -1;
    }
    if (s->status != DD_OK) return NAN;
    s->shallow = found.place.binds;
    s->deep = found.deepest.binds;
    s->short_by = s->hub_needed - found.deepest.look.seen.v[DD_SEEN_HUB_DEPTH];
    if (found.kept < 0) s->failed_shallow = s->shallow, s->failed_deep = s->deep;
    /* Where a slippery stretch ends the way down at this level and not at the next, the place jumps, and what is kept there: what is kept on the
       stretch does not. */
    return found.kept < 0 ? fmax(found.kept, found.hump) : fmin(found.kept, found.on_the_way);
}

/* Two levels next to each other about where it is expected, it working at the higher. level: at which it works, with what is kept there. */
static bool bracket(dd_depth_search *s, double level, double kept, double expected, double *low, double *at_low, double *high, double *at_high)
{
    double from = expected, at_from = dd_depth_kept_at(from, s), step = beside;
    const bool down = at_from >= 0;
    if (s->status != DD_OK) return false;
    /* The hub where it can get to stands less deep than it has to here: so much more water. */
    if (!down && s->short_by > 0) step += s->short_by;
    for (int i = 0; i < STEPS; i++, step *= grows) {
        const double to = from + (down ? -step : step);
        const bool known = !down && kept >= 0 && to >= level;
        const double now = known ? kept : dd_depth_kept_at(to, s);
        if (s->status != DD_OK) return false;
        if ((now >= 0) != down) {
            *low = down ? to : from, *at_low = down ? now : at_from;
            *high = down ? from : known ? level : to, *at_high = down ? at_from : now;
            return true;
        }
        from = to, at_from = now;
    }
    return false;
}

/* What the level does not change stands against it everywhere, on a ramp of one slope; where slopes differ some level may do. */
static bool sample(dd_depth_search *s, double toe, double *level, double *kept)
{
    for (int i = 1; i <= SAMPLES; i++) {
        *level = toe + higher * i / SAMPLES;
        *kept = dd_depth_kept_at(*level, s);
        if (s->status != DD_OK) return false;
        if (*kept >= 0) return true;
    }
    return false;
}

/* *least: as it is known before. */
static dd_status search_levels(dd_depth_search *s, const dd_depth_band *band, double toe_x, double toe, dd_depth_level *least, dd_error *error)
{
    const dd_depth *here = s->here;
    double level = here->level, kept = band->works ? 1 : -1, low, high, at_low, at_high, expected = level;
    /* The hub at the toe stands so far under water as the least place asks for. */
    const double hub_above = here->level - band->least.look.seen.v[DD_SEEN_HUB_DEPTH];
    if (band->works || band->most.binds == DD_END_TOE) {
        const double run = band->least.look.seen.v[DD_SEEN_TOE_DISTANCE];
        s->hub_needed = band->least.look.seen.v[DD_SEEN_HUB_DEPTH];
        const double toe_hub = toe + (hub_above - dd_ramp_at(here->m->ramp, toe_x - run).z);
        expected = toe_hub + band->least.look.seen.v[DD_SEEN_HUB_DEPTH];
        if (isnan(band->width) && !band->works) expected = level + beside;
    } else if (!sample(s, toe, &level, &kept)) {
        if (s->status != DD_OK && error != NULL) *error = s->why;
        return s->status;
    } else {
        expected = level - beside;
    }
    if (!bracket(s, level, kept, fmax(toe + least_depth, expected), &low, &at_low, &high, &at_high)) {
        if (s->status != DD_OK && error != NULL) *error = s->why;
        return s->status;
    }
    const dd_status status = dd_ode_enclose(dd_depth_kept_at, NULL, s, &low, &high, &at_low, &at_high, near, error);
    if (s->status != DD_OK && error != NULL) *error = s->why;
    if (s->status != DD_OK || status != DD_OK) return s->status != DD_OK ? s->status : status;
    *least = (dd_depth_level){.found = true, .level = low - (high - low) * at_low / (at_high - at_low), .shallow = s->failed_shallow, .deep = s->failed_deep, .reach = s->reach};
    return DD_OK;
}

dd_status dd_depth_least_level(const dd_case *scenario, dd_depth *here, const dd_depth_band *band, dd_depth_level *least, dd_error *error)
{
    dd_depth_search s = {.scenario = scenario, .here = here, .failed_shallow = band->least.binds, .failed_deep = band->most.binds, .hub_needed = NAN};
    const double toe_x = dd_ramp_toe(here->m->ramp), toe = isfinite(toe_x) ? dd_ramp_at(here->m->ramp, toe_x).z : NAN;
    *least = (dd_depth_level){.level = NAN, .shallow = band->least.binds, .deep = band->most.binds};
    s.reach.level = NAN;
    if (band->works) s.reach = dd_depth_reach_of(here, &band->most);
    least->reach = s.reach;
    least->everywhere = isnan(toe) && band->works;
    if (isnan(toe)) return DD_OK;
    const dd_status status = search_levels(&s, band, toe_x, toe, least, error);
    dd_depth_search_end(&s);
    return status;
}
