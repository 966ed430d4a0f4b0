/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The smallest trailer that carries the scenario's boat within every rating, with a reserve; the first limit that each other breaks. */
#include "lib/base/error.h"
#include "lib/case/case.h"
#include "lib/base/numbers.h"
#include "lib/record/reporter.h"
#include <drawdock/study.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct candidate {
    const dd_trailer_parameters *trailer;
    dd_check worst; /* the limit that leaves the least reserve; name empty: none could be checked */
    int passes, not_checked;
    char reason[200]; /* why nothing could be computed; may be empty */
} candidate;

/* Smaller first: by aggregate rating (one that is not known last), then by own mass. */
static int smaller(const void *a, const void *b)
{
    const dd_trailer_parameters *x = ((const candidate *)a)->trailer, *y = ((const candidate *)b)->trailer;
    const double rx = isnan(x->aggregate_mass_rating) ? INFINITY : x->aggregate_mass_rating;
    const double ry = isnan(y->aggregate_mass_rating) ? INFINITY : y->aggregate_mass_rating;
    if (rx != ry) return rx < ry ? -1 : 1;
    return x->mass < y->mass ? -1 : x->mass > y->mass;
}

/* A reserve is asked of ratings; rules and what is asked of the coupling load are kept or broken. */
static int holds(const dd_check *check, double reserve)
{
    if (check->outcome == DD_CHECK_BROKEN) return 0;
    const int rating = strcmp(check->group, "ratings") == 0 && !check->least && strcmp(check->unit, "km/h") != 0;
    return check->outcome != DD_CHECK_GOOD || !rating || check->share <= (1 - reserve) * (1 + 1e-12);
}

static dd_status judge(dd_case *scenario, candidate *c, double reserve, dd_error *error)
{
    dd_report *report;
    scenario->trailer = *c->trailer;
    dd_status status = dd_study_weigh(scenario, &report, error);
    c->passes = status == DD_OK;
    if (status == DD_ERROR_MEMORY) return status;
    if (status != DD_OK) {
        dd_text(c->reason, sizeof c->reason, "%s: %s", error->place, error->message);
        return DD_OK;
    }
    for (int i = 0; i < report->check_count; i++) {
        const dd_check *check = &report->checks[i];
        c->not_checked += check->outcome == DD_CHECK_NOT_CHECKED;
        if (check->outcome == DD_CHECK_CAUTION || check->outcome == DD_CHECK_NOT_CHECKED) continue;
        /* Targets of the coupling load and of the size are met by moving the boat or by choice; limits stand. */
        const int rating = strcmp(check->group, "ratings") == 0 && strcmp(check->source, "trailer size") != 0;
        if (!rating && strcmp(check->group, "rules") != 0) continue;
        const int held = holds(check, reserve);
        /* the checks come with the broken and the tightest first */
        if (c->worst.name[0] == '\0' || (c->passes && !held)) c->worst = *check;
        c->passes = c->passes && held;
    }
    dd_report_free(report);
    return DD_OK;
}

static void add_rows(dd_reporter *r, const candidate *all, int count, double reserve)
{
    const candidate *first = NULL;
    int passing = 0;
    dd_reporter_table(r, "trailers", "Which trailer", DD_REPORT_WHOLE);
    dd_reporter_column(r, "trailer", "", 0, "smallest first, by aggregate mass rating, then by its own mass");
    dd_reporter_column(r, "rating", "kg", 0, "aggregate mass rating");
    dd_reporter_column(r, "mass", "kg", 0, "of the empty trailer");
    dd_reporter_column(r, "passes", "", 0, "every limit given, with the reserve asked of every rating");
    dd_reporter_column(r, "decides", "", 0, "the first limit that it breaks, or the tightest that it keeps");
    dd_reporter_column(r, "use", "%", 0, "of that limit");
    dd_reporter_column(r, "not checked", "", 0, "limits for which a figure is missing");
    for (int i = 0; i < count; i++) {
        const candidate *c = &all[i];
        dd_reporter_words(r, "%s", c->trailer->name[0] != '\0' ? c->trailer->name : "trailer without a name");
        dd_reporter_value(r, c->trailer->aggregate_mass_rating);
        dd_reporter_value(r, c->trailer->mass);
        dd_reporter_words(r, "%s", c->passes ? "yes" : "no");
        dd_reporter_words(r, "%s", c->reason[0] != '\0' ? c->reason : c->worst.name);
        dd_reporter_value(r, c->reason[0] != '\0' || c->worst.name[0] == '\0' ? NAN : c->worst.share);
        dd_reporter_value(r, c->reason[0] != '\0' ? (double)NAN : (double)c->not_checked);
        if (first == NULL && c->passes) first = c;
        passing += c->passes;
    }
    dd_check any = {.group = "trailers", .name = "trailers that pass", .value = passing, .limit = 1, .least = 1};
    dd_reporter_check(r, &any);
    if (first != NULL)
        dd_reporter_note(r, "the smallest of %d that passes with %.0f %% in reserve: %s%s", count, 100 * reserve, first->trailer->name,
                         first->not_checked > 0 ? "; see what was not checked of it" : "");
    else
        dd_reporter_note(r, "none of %d passes with %.0f %% in reserve", count, 100 * reserve);
}

dd_status dd_study_which_trailer(const dd_case *scenario, const dd_trailer_parameters *const *trailers, int count, double reserve,
                                 dd_report **report, dd_error *error)
{
    *report = NULL;
    if (count < 1 || !(reserve >= 0 && reserve < 1))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_study_which_trailer", "%d trailers with a reserve of %g, expected at least one and 0 to 1", count, reserve);
    candidate *all = calloc((size_t)count, sizeof *all);
    dd_case *own = malloc(sizeof *own);
    dd_reporter *r = dd_reporter_create(scenario->title, "weigh", scenario->rules.units == DD_REPORT_US ? DD_REPORT_US : DD_REPORT_METRIC);
    dd_status status = all != NULL && own != NULL && r != NULL ? DD_OK : dd_fail(error, DD_ERROR_MEMORY, "dd_study_which_trailer", "no memory for the trailers");
    if (status == DD_OK) {
        dd_case_copy(own, scenario);
        own->measured_count = 0; /* readings are of the scenario's own trailer, as is the place that was measured on it */
        own->placed.transom_behind_coupling = own->placed.keel_above_ground = own->placed.trim = NAN;
    }
    for (int i = 0; i < count && status == DD_OK; i++) {
        all[i].trailer = trailers[i];
        status = judge(own, &all[i], reserve, error);
    }
    if (status == DD_OK) {
        qsort(all, (size_t)count, sizeof *all, smaller);
        add_rows(r, all, count, reserve);
        status = dd_reporter_finish(r, report, error);
        r = NULL;
    }
    dd_reporter_free(r);
    free(own);
    free(all);
    return status;
}
