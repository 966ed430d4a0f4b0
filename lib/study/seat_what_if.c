/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One support gone, 10 mm high or 10 mm low, each in turn: what it and its worst neighbour then bear. */
#include "lib/study/seat.h"
#include "lib/base/error.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double off = 0.010; /* m */

/* The support, other than k, whose most loaded roller gains most; -1: none gains. */
static int worst_neighbour(int count, int k, const double *before, const double *after)
{
    int worst = -1;
    for (int j = 0; j < count; j++)
        if (j != k && after[j] > before[j] && (worst < 0 || after[j] - before[j] > after[worst] - before[worst])) worst = j;
    return worst;
}

static void put_row(const dd_seat *s, int k, const char *what, const dd_seat_solution *solution, const double *before)
{
    const dd_trailer_parameters *trailer = &s->scenario->trailer;
    double after[DD_SUPPORTS];
    dd_seat_greatest(s, solution, after, NULL);
    const int j = worst_neighbour(trailer->support_count, k, before, after);
    dd_reporter_words(s->report, "%s %s", trailer->supports[k].name, what);
    dd_reporter_value(s->report, before[k]);
    dd_reporter_value(s->report, after[k]);
    dd_reporter_words(s->report, "%s", j < 0 ? "none" : trailer->supports[j].name);
    dd_reporter_value(s->report, j < 0 ? NAN : before[j]);
    dd_reporter_value(s->report, j < 0 ? NAN : after[j]);
    dd_reporter_value(s->report, j < 0 ? NAN : after[j] / trailer->supports[j].rated_load);
}

/* The supports' model with the strap wound to what it bears now, however the hull lies: somebody who finds a trailer so winds the boat home
   on it, or winds on. */
static dd_seat_model *wound_again(const dd_seat *s)
{
    dd_seat_model *model = malloc(sizeof *model);
    if (model == NULL) return NULL;
    *model = s->model;
    for (int i = 0; i < model->first_grip; i++) {
        model->lines[i].stiffness = 1e-6 * s->model.lines[i].stiffness;
        model->lines[i].tension = s->level.tension[i];
    }
    return model;
}

dd_status dd_seat_what_if(dd_seat *s, dd_error *error)
{
    static const char *const words[] = {"gone", "10 mm high", "10 mm low"};
    const int count = s->scenario->trailer.support_count;
    double before[DD_SUPPORTS];
    int contact[DD_SUPPORTS];
    dd_seat_solution *solution = malloc(sizeof *solution);
    dd_seat_model *model = wound_again(s);
    if (solution == NULL || model == NULL) {
        free(model);
        free(solution);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_study_seat", "no memory for the supports' loads");
    }
    dd_seat_greatest(s, &s->level, before, contact);
    dd_reporter_table(s->report, "what_if", "What if one support is gone, high or low", 0);
    dd_reporter_column(s->report, "support", "", 0, "which, and what is wrong with it");
    dd_reporter_column(s->report, "its roller before", "kN", 2, "its most loaded roller as it should be");
    dd_reporter_column(s->report, "its roller then", "kN", 2, "and then");
    dd_reporter_column(s->report, "worst neighbour", "", 0, "the support whose roller gains most");
    dd_reporter_column(s->report, "before", "kN", 2, "the neighbour's most loaded roller as it should be");
    dd_reporter_column(s->report, "then", "kN", 2, "and then");
    dd_reporter_column(s->report, "use of its rating", "%", 0, "of the neighbour's roller then");
    for (int k = 0; k < count; k++) {
        if (contact[k] < 0 && before[k] == 0) continue; /* a guide, or a support that carries nothing */
        for (int w = 0; w < 3; w++) {
            double raise[DD_SEAT_CONTACTS] = {0};
            int without[DD_SEAT_CONTACTS] = {0};
            if (w == 0) dd_seat_take_away(&s->model, k, 0, without);
            if (w > 0) dd_seat_raise(&s->model, k, 0, w == 1 ? off : -off, raise);
            dd_error why = {.status = DD_OK};
            const dd_status status = dd_seat_solve(model, dd_seat_standing(s, 0), raise, without, solution, &why);
            if (status == DD_OK) {
                put_row(s, k, words[w], solution, before);
            } else if (status == DD_ERROR_NO_EQUILIBRIUM) {
                dd_reporter_words(s->report, "%s %s", s->scenario->trailer.supports[k].name, words[w]);
                dd_reporter_value(s->report, before[k]);
                dd_reporter_value(s->report, NAN);
                dd_reporter_words(s->report, "the hull falls");
            } else {
                if (error != NULL) *error = why;
                free(model);
                free(solution);
                return status;
            }
        }
    }
    free(model);
    free(solution);
    return DD_OK;
}
