/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The greatest load of a roller while every height stands somewhere within its tolerance. A roller's load rises or falls with each
   height, so the worst stands at ends of tolerances, which are 2^heights; from where each height's own effect points (exact while no
   roller lifts off or comes on), single heights are turned over as long as that loads the roller more. */
#include "lib/study/seat_model.h"
#include "lib/base/error.h"
#include <math.h>
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
    double effect[DD_SEAT_HEIGHTS][DD_SEAT_CONTACTS]; /* squash with that height alone high, less that with it low */
} search;

typedef struct climb {
    int sign[DD_SEAT_HEIGHTS];
    double most, load; /* squash and load of the contact there */
    bool better;
} climb;

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
        memcpy(s->effect[h], s->solution.squash, sizeof s->level);
        sign[h] = -1;
        if (status == DD_OK) status = load_at(s, sign, error);
        for (int i = 0; i < s->seat->contact_count; i++) s->effect[h][i] -= s->solution.squash[i];
        sign[h] = 0;
    }
    return status;
}

/* Turns two heights over (one, where they are the same) and takes what squashes the contact more. */
static dd_status turn(search *s, int contact, int first, int second, climb *c, dd_error *error)
{
    c->sign[first] = -c->sign[first];
    if (second != first) c->sign[second] = -c->sign[second];
    dd_status status = load_at(s, c->sign, error);
    c->better = status == DD_OK && s->solution.squash[contact] > c->most + 1e-9 * s->tolerance;
    if (c->better) {
        c->most = s->solution.squash[contact];
        c->load = s->solution.load[contact];
        return status;
    }
    c->sign[first] = -c->sign[first];
    if (second != first) c->sign[second] = -c->sign[second];
    return status;
}

/* From where each height's own effect on a contact points, turns one height over, then two at once, until that squashes it no more. */
static dd_status ascend(search *s, int contact, double *load, dd_error *error)
{
    climb c = {.better = true};
    for (int h = 0; h < s->count; h++) c.sign[h] = s->effect[h][contact] >= 0 ? 1 : -1;
    dd_status status = load_at(s, c.sign, error);
    c.most = s->solution.squash[contact];
    c.load = s->solution.load[contact];
    while (c.better && status == DD_OK) {
        for (int kept = 0, h = 0; kept < s->count && status == DD_OK; h = (h + 1) % s->count, kept++) {
            status = turn(s, contact, h, h, &c, error);
            if (c.better) kept = -1;
        }
        c.better = false;
        for (int h = 0; h < s->count && !c.better && status == DD_OK; h++)
            for (int j = h + 1; j < s->count && !c.better && status == DD_OK; j++) status = turn(s, contact, h, j, &c, error);
    }
    *load = c.load;
    return status;
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
    for (int i = 0; i < seat->contact_count && status == DD_OK; i++) {
        const int k = seat->contacts[i].support;
        double load = 0;
        if (k < 0) continue;
        status = ascend(s, i, &load, error);
        worst[k] = fmax(worst[k], fmax(load, s->level[i]));
    }
    free(s);
    return status;
}
