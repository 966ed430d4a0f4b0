/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The greatest load of a roller while every height stands somewhere within its tolerance. A roller's load rises or falls with each
   height, so the worst stands at ends of tolerances, which are 2^heights; from where each height's own effect points (exact while no
   roller lifts off or comes on), single heights are turned over as long as that loads the roller more. */
#include "lib/study/seat_model.h"
#include "lib/base/error.h"
#include <stdlib.h>
#include <string.h>

int dd_seat_heights(const dd_seat_model *seat, dd_seat_height heights[DD_SEAT_HEIGHTS])
{
    int count = 0;
    for (int i = 0; i < seat->contact_count; i++) {
        const dd_seat_contact *c = &seat->contacts[i];
        bool known = c->support < 0;
        for (int h = 0; h < count && !known; h++) known = heights[h].support == c->support && heights[h].side == c->side;
        if (!known && count < DD_SEAT_HEIGHTS) heights[count++] = (dd_seat_height){c->support, c->side};
    }
    return count;
}

typedef struct search {
    const dd_seat_model *seat;
    dd_vec3 specific;
    double tolerance;
    int count; /* of heights */
    dd_seat_height heights[DD_SEAT_HEIGHTS];
    dd_seat_solution solution;
    double level[DD_SEAT_CONTACTS];
    double effect[DD_SEAT_HEIGHTS][DD_SEAT_CONTACTS]; /* load with that height alone high, less that with it low */
} search;

static dd_status load_at(search *s, const int sign[DD_SEAT_HEIGHTS], dd_error *error)
{
    double raise[DD_SEAT_CONTACTS] = {0};
    for (int h = 0; h < s->count; h++)
        if (sign[h] != 0) dd_seat_raise(s->seat, s->heights[h].support, s->heights[h].side, sign[h] * s->tolerance, raise);
    return dd_seat_solve(s->seat, s->specific, raise, NULL, &s->solution, error);
}

static dd_status find_effects(search *s, dd_error *error)
{
    int sign[DD_SEAT_HEIGHTS] = {0};
    dd_status status = load_at(s, sign, error);
    memcpy(s->level, s->solution.load, sizeof s->level);
    for (int h = 0; h < s->count && status == DD_OK; h++) {
        sign[h] = 1;
        status = load_at(s, sign, error);
        memcpy(s->effect[h], s->solution.load, sizeof s->level);
        sign[h] = -1;
        if (status == DD_OK) status = load_at(s, sign, error);
        for (int i = 0; i < s->seat->contact_count; i++) s->effect[h][i] -= s->solution.load[i];
        sign[h] = 0;
    }
    return status;
}

static double most_of(const search *s, int support)
{
    double most = 0;
    for (int i = 0; i < s->seat->contact_count; i++)
        if (s->seat->contacts[i].support == support && s->solution.load[i] > most) most = s->solution.load[i];
    return most;
}

/* Turns single heights over while that loads the support's worst roller more. */
static dd_status ascend(search *s, int support, int sign[DD_SEAT_HEIGHTS], double *most, dd_error *error)
{
    dd_status status = DD_OK;
    for (int kept = 0, h = 0; kept < s->count && status == DD_OK; h = (h + 1) % s->count, kept++) {
        sign[h] = -sign[h];
        status = load_at(s, sign, error);
        const double there = most_of(s, support);
        if (status == DD_OK && there > *most * (1 + 1e-9))
            *most = there, kept = 0;
        else
            sign[h] = -sign[h];
    }
    return status;
}

static dd_status worst_of(search *s, int support, double *worst, dd_error *error)
{
    dd_status status = DD_OK;
    int best[DD_SEAT_HEIGHTS] = {0};
    *worst = 0;
    for (int i = 0; i < s->seat->contact_count && status == DD_OK; i++) {
        if (s->seat->contacts[i].support != support) continue;
        int sign[DD_SEAT_HEIGHTS];
        for (int h = 0; h < s->count; h++) sign[h] = s->effect[h][i] >= 0 ? 1 : -1;
        status = load_at(s, sign, error);
        const double most = most_of(s, support);
        if (most < *worst) continue;
        *worst = most;
        memcpy(best, sign, sizeof best);
    }
    return status == DD_OK && *worst > 0 ? ascend(s, support, best, worst, error) : status;
}

dd_status dd_seat_worst(const dd_seat_model *seat, dd_vec3 specific, double tolerance, double worst[DD_SUPPORTS], dd_error *error)
{
    search *s = calloc(1, sizeof *s);
    for (int k = 0; k < DD_SUPPORTS; k++) worst[k] = 0;
    if (s == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_seat_worst", "no memory for the supports' loads");
    s->seat = seat;
    s->specific = specific;
    s->tolerance = tolerance;
    s->count = dd_seat_heights(seat, s->heights);
    dd_status status = find_effects(s, error);
    bool done[DD_SUPPORTS] = {false};
    for (int i = 0; i < seat->contact_count && status == DD_OK; i++) {
        const int k = seat->contacts[i].support;
        if (k < 0 || done[k]) continue;
        done[k] = true;
        status = worst_of(s, k, &worst[k], error);
        for (int j = i; j < seat->contact_count; j++) /* no tolerance, or one that never loads it more */
            if (seat->contacts[j].support == k && s->level[j] > worst[k]) worst[k] = s->level[j];
    }
    free(s);
    return status;
}
