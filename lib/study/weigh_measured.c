/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scale readings against what was estimated, and the figures that came out of them. */
#include "lib/base/numbers.h"
#include "lib/study/weigh.h"
#include <math.h>

static const double most_disagreement = 3; /* deviations: one right reading in 370 is further off */

static void add_columns(dd_reporter *r, int lengths)
{
    const char *unit = lengths ? "mm" : "kg";
    dd_reporter_column(r, "reading", "", 0, "what was read, and in which state of loading");
    dd_reporter_column(r, "read", unit, 0, lengths ? "by the tape" : "on the scale");
    dd_reporter_column(r, "give or take", unit, 0, "standard deviation by the step and the kind of reading");
    dd_reporter_column(r, "calculated before", unit, 0, "with the estimates as they were");
    dd_reporter_column(r, "calculated after", unit, 0, "with the figures that fit all readings best");
    dd_reporter_column(r, "difference", "", 1, "reading less calculated after, in standard deviations of that difference; beyond 3 something is wrong");
}

static void add_readings(const dd_weigh *w, int lengths)
{
    const dd_measured_solution *s = &w->solved;
    int any = 0;
    for (int i = 0; i < s->reading_count; i++) any = any || s->readings[i].is_length == lengths;
    if (!any) return;
    dd_reporter_table(w->report, lengths ? "freeboards" : "measured", lengths ? "Freeboards against the calculation" : "Scale readings against the calculation", 0);
    add_columns(w->report, lengths);
    for (int i = 0; i < s->reading_count; i++) {
        const dd_solved_reading *r = &s->readings[i];
        if (r->is_length != lengths) continue;
        dd_reporter_words(w->report, "%s", r->name);
        dd_reporter_value(w->report, r->reading);
        dd_reporter_value(w->report, r->deviation);
        dd_reporter_value(w->report, r->before);
        dd_reporter_value(w->report, r->after);
        dd_reporter_value(w->report, r->disagreement);
    }
}

static void add_figures(const dd_weigh *w)
{
    dd_reporter *r = w->report;
    const dd_measured_solution *s = &w->solved;
    dd_reporter_table(r, "solved", "What the readings say", 1);
    dd_reporter_column(r, "figure", "", 0, "what was not known");
    dd_reporter_column(r, "mass before", "kg", 0, "as given or estimated");
    dd_reporter_column(r, "mass", "kg", 0, "as the readings have it");
    dd_reporter_column(r, "mass within", "kg", 0, "19 times in 20, either way");
    dd_reporter_column(r, "place before", "mm", 0, "as given or estimated");
    dd_reporter_column(r, "place", "mm", 0, "as the readings have it");
    dd_reporter_column(r, "place within", "mm", 0, "19 times in 20, either way");
    for (int f = 0; f < s->figure_count; f++) {
        const dd_solved_figure *figure = &s->figures[f];
        const double shown[3] = {figure->before, figure->after, DD_NORMAL_95 * figure->after_deviation};
        dd_reporter_words(r, "%s", figure->name);
        for (int place = 0; place < 2; place++)
            for (int i = 0; i < 3; i++) dd_reporter_value(r, place == figure->is_length ? shown[i] : NAN);
    }
}

/* Which keys to write so that the next run needs no readings. */
static void say_keys(const dd_weigh *w)
{
    const dd_solved_figure *f = w->solved.figures;
    char mass[DD_REPORTER_TEXT], x[DD_REPORTER_TEXT], y[DD_REPORTER_TEXT], z[DD_REPORTER_TEXT];
    dd_reporter_note(w->report,
                     "Every state of loading above uses the figures that the readings gave. To keep them, write under boat: mass: %s, mass of: ready to go, "
                     "centre from transom: %s, centre to port: %s, centre height: %s.",
                     dd_reporter_quantity(w->report, f[0].after, "kg", 0, mass), dd_reporter_quantity(w->report, f[1].after, "mm", 0, x),
                     dd_reporter_quantity(w->report, f[2].after, "mm", 0, y), dd_reporter_quantity(w->report, f[3].after, "mm", 0, z));
    int unseen = 0;
    for (int i = 0; i < w->solved.figure_count; i++)
        unseen = unseen || w->solved.figures[i].after_deviation > 0.8 * w->solved.figures[i].before_deviation;
    if (unseen)
        dd_reporter_note(w->report, "Figures whose band the readings hardly narrowed stand as estimated: the height needs the coupling weighed low and as high "
                                    "as it can be raised, the side single wheels, the length the coupling or the axles beside the whole.");
}

static void add_check(const dd_weigh *w, const char *name, double deviations, const char *words)
{
    dd_check check = {.value = fabs(deviations), .limit = most_disagreement, .share = NAN, .outcome = DD_CHECK_CAUTION};
    dd_text(check.group, sizeof check.group, "measured");
    dd_text(check.name, sizeof check.name, "%s", name);
    dd_text(check.source, sizeof check.source, "scale readings");
    if (fabs(deviations) > most_disagreement) dd_text(check.words, sizeof check.words, "%s", words);
    dd_reporter_check(w->report, &check);
}

/* The reading that agrees least, and every figure that the readings push far out of its band. */
static void add_checks(const dd_weigh *w)
{
    const dd_measured_solution *s = &w->solved;
    const dd_solved_reading *worst = NULL;
    char name[96];
    for (int i = 0; i < s->reading_count; i++)
        if (isfinite(s->readings[i].disagreement) && (worst == NULL || fabs(s->readings[i].disagreement) > fabs(worst->disagreement)))
            worst = &s->readings[i];
    if (worst != NULL) {
        dd_text(name, sizeof name, "reading that agrees least: %.64s", worst->name);
        add_check(w, name, worst->disagreement,
                  "this reading does not fit the others: read the scale again, look for what was aboard then, or leave it out; until then the "
                  "figures that came out are not to be trusted");
    }
    for (int f = 0; f < s->figure_count; f++) {
        const dd_solved_figure *figure = &s->figures[f];
        const double out = (figure->after - figure->before) / figure->before_deviation;
        if (!(fabs(out) > most_disagreement)) continue;
        dd_text(name, sizeof name, "estimate against readings: %.60s", figure->name);
        add_check(w, name, out, "the readings put this figure far outside its band: look whether the brochure counts the same, or what is aboard that is not in the list");
    }
}

dd_status dd_weigh_measured(dd_weigh *w, dd_error *error)
{
    (void)error;
    if (w->solved.reading_count == 0) return DD_OK;
    add_readings(w, 0);
    add_readings(w, 1);
    add_figures(w);
    add_checks(w);
    say_keys(w);
    dd_reporter_source(w->report, "scale readings");
    dd_reporter_assumed(w->report, "for the readings, the vehicle's mass and centre as given, and figures not measured within at least: mass 5 %%, centre 2 %% of the "
                                   "length, 2.5 %% of the chine beam aside, 6 %% of the sheer's height");
    return DD_OK;
}
