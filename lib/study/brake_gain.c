/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting of the controller: distance and lock-up by gain, and the emergency lever alone. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/study/brake.h"
#include <math.h>
#include <stdlib.h>

static const double gains[] = {0.4, 0.8, 1.2, 2, 3.5, 7};
enum { GAINS = sizeof gains / sizeof gains[0], CONTROLLED = 4, HALVINGS = 5 };

/* One gain on one road; the rig's own setting is put back. */
static dd_status stop_with(dd_brake *b, const dd_brake_kind *kind, int wet, double gain, bool whole, dd_stop *stop, dd_error *error)
{
    dd_brake_controller *c = &b->rig->brakes.controller;
    const dd_brake_controller own = *c;
    dd_stop_asked asked = dd_brake_asked(b, kind, wet);
    asked.tolerance = 1e-4; /* many stops, of which the distance alone is told: a few mm */
    asked.way_alone = true;
    asked.until_trailer_stands = !whole;
    c->kind = DD_CONTROL_PROPORTIONAL;
    c->gain = gain;
    const dd_status status = dd_brake_stop(b->rig, &asked, stop, error);
    *c = own;
    return status;
}

/* Rows of the table of gains; free_wheels[]: the greatest that locks nothing, and its distance; standing[]: the least that does, of those tried (NaN: none). */
static dd_status add_gains(dd_brake *b, const dd_brake_kind *kind, double free_wheels[DD_ROADS], double standing[DD_ROADS], double distance[DD_ROADS], dd_stop *stop,
                           dd_error *error)
{
    dd_reporter *r = b->report;
    for (int wet = 0; wet < DD_ROADS; wet++) distance[wet] = free_wheels[wet] = standing[wet] = NAN;
    for (int g = 0; g < GAINS; g++) {
        dd_reporter_words(r, "%s, %.1f", kind->name, gains[g]);
        for (int wet = 0; wet < DD_ROADS; wet++) {
            dd_status status = stop_with(b, kind, wet, gains[g], true, stop, error);
            if (status != DD_OK) return status;
            const bool stands = dd_stop_trailer_stands(stop);
            dd_reporter_value(r, stop->distance);
            dd_reporter_words(r, "%s", stands ? "yes" : "no");
            if (stands && isnan(standing[wet])) standing[wet] = gains[g];
            if (!stands && isnan(standing[wet])) free_wheels[wet] = gains[g], distance[wet] = stop->distance;
        }
    }
    return DD_OK;
}

/* Between the two: the greatest gain that locks no wheel of the trailer, to a thirty-second of the way between settings tried. */
static dd_status add_best(dd_brake *b, const dd_brake_kind *kind, int wet, double low, double high, double distance, dd_stop *stop, dd_error *error)
{
    dd_reporter *r = b->report;
    dd_status status = DD_OK;
    const bool bounded = !isnan(high);
    for (int i = 0; i < HALVINGS && bounded && !isnan(low) && status == DD_OK; i++) {
        const double middle = 0.5 * (low + high);
        status = stop_with(b, kind, wet, middle, false, stop, error);
        if (dd_stop_trailer_stands(stop))
            high = middle;
        else
            low = middle, distance = stop->distance;
    }
    if (status != DD_OK) return status;
    dd_reporter_words(r, "%s, %s", kind->name, wet ? "wet" : "dry");
    dd_reporter_value(r, low);
    dd_reporter_value(r, distance);
    dd_reporter_words(r, "%s", isnan(low) ? "locks at the least that was tried" : bounded ? "more locks wheels" : "locks at none tried");
    return DD_OK;
}

static dd_status add_levers(dd_brake *b, dd_stop *stop, dd_error *error)
{
    dd_reporter *r = b->report;
    dd_reporter_table(r, "lever", "The controller's lever alone, pedal untouched", DD_REPORT_LONG);
    dd_reporter_column(r, "trailer brakes", "", 0, "system and road");
    dd_reporter_column(r, "distance", "m", 1, "to rest");
    dd_reporter_column(r, "slows", "m/s2", 2, "mean");
    dd_reporter_column(r, "pull most", "N", 0, "of the trailer on the ball: it draws the rig straight");
    dd_reporter_column(r, "wheels stand", "", 0, "of the trailer");
    for (int i = 0; dd_brake_kind_at(i) != NULL; i++)
        for (int wet = 0; wet < DD_ROADS && dd_brake_kind_at(i)->controlled; wet++) {
            dd_stop_asked asked = dd_brake_asked(b, dd_brake_kind_at(i), wet);
            asked.pedal = 0;
            asked.lever = 1;
            asked.tolerance = 1e-5;
            asked.way_alone = true;
            dd_status status = dd_brake_stop(b->rig, &asked, stop, error);
            if (status != DD_OK) return status;
            dd_reporter_words(r, "%s, %s", dd_brake_kind_at(i)->name, wet ? "wet" : "dry");
            dd_reporter_value(r, stop->distance);
            dd_reporter_value(r, stop->mean_deceleration);
            dd_reporter_value(r, stop->most_pull);
            dd_reporter_words(r, "%s", dd_stop_trailer_stands(stop) ? "yes" : "no");
        }
    dd_reporter_table_note(r, "Against a swing: the lever alone, foot off the throttle and off the pedal. None and overrun brakes have no lever.");
    return DD_OK;
}

dd_status dd_brake_gain(dd_brake *b, dd_error *error)
{
    dd_reporter *r = b->report;
    dd_stop *stop = malloc(sizeof *stop);
    if (stop == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_brake_gain", "no memory for a stop");
    dd_reporter_table(r, "gain", "Stopping by the gain of a proportional controller", DD_REPORT_LONG);
    dd_reporter_column(r, "setting", "", 0, "system and gain, command per g");
    dd_reporter_column(r, "dry", "m", 1, "from the brakes to rest");
    dd_reporter_column(r, "dry locks", "", 0, "whether wheels of the trailer stand");
    dd_reporter_column(r, "wet", "m", 1, "from the brakes to rest");
    dd_reporter_column(r, "wet locks", "", 0, "whether wheels of the trailer stand");
    dd_status status = DD_OK;
    double low[CONTROLLED][DD_ROADS], high[CONTROLLED][DD_ROADS], distance[CONTROLLED][DD_ROADS];
    for (int i = 0; dd_brake_kind_at(i) != NULL && i < CONTROLLED && status == DD_OK; i++)
        if (dd_brake_kind_at(i)->controlled) status = add_gains(b, dd_brake_kind_at(i), low[i], high[i], distance[i], stop, error);
    dd_reporter_table(r, "best_gain", "The best gain that locks no wheel of the trailer", DD_REPORT_LONG);
    dd_reporter_column(r, "stop", "", 0, "system and road");
    dd_reporter_column(r, "gain", "", 2, "command per g");
    dd_reporter_column(r, "distance", "m", 1, "from the brakes to rest");
    dd_reporter_column(r, "beyond it", "", 0, "what a greater one does");
    for (int i = 0; dd_brake_kind_at(i) != NULL && i < CONTROLLED; i++)
        for (int wet = 0; wet < DD_ROADS && dd_brake_kind_at(i)->controlled && status == DD_OK; wet++)
            status = add_best(b, dd_brake_kind_at(i), wet, low[i][wet], high[i][wet], distance[i][wet], stop, error);
    dd_reporter_table_note(r, "For this model's tyres and brakes: set it on the road, by the maker's instructions.");
    if (status == DD_OK) status = add_levers(b, stop, error);
    free(stop);
    dd_reporter_source(r, "controller figures");
    return status;
}
