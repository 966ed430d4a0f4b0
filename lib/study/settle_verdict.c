/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `settle`'s verdict, and what it left out. */
#include "lib/study/settle_study.h"
#include <drawdock/study.h>
#include <stdio.h>
#include <string.h>

void dd_settle_figure(dd_settle_study *s, const char *group, const char *name, double value, const char *unit, const char *words)
{
    dd_figure figure = {.value = value};
    snprintf(figure.group, sizeof figure.group, "%s", group);
    snprintf(figure.name, sizeof figure.name, "%s", name);
    snprintf(figure.unit, sizeof figure.unit, "%s", unit);
    snprintf(figure.words, sizeof figure.words, "%s", words);
    (void)dd_recorder_figure(s->recorder, &figure); /* the recorder keeps its first failure */
}

/* P232: when the trailer's own wheels unload. */
static void tell_wheels(dd_settle_study *s)
{
    char words[120];
    snprintf(words, sizeof words, "%.0f N at the first row; least with the hub %.2f m under water%s", s->first_axle_load, s->least_axle_depth,
             isnan(s->crossed_at[WHEELS_OFF]) ? "" : ": it floats off them");
    dd_settle_figure(s, "trailer's wheels", "least load", s->least_axle_load, "N", words);
}

/* What the scenario has that a boat at rest in still water does not feel. */
static void tell_left_out(dd_settle_study *s, const dd_water *w)
{
    const struct {
        bool there;
        const char *what;
    } left[] = {{w->current != 0, "current"}, {w->rise != 0 || w->level_count > 0 || w->tide.kind >= 0, "rise or fall of the level"},
                {w->surge.height > 0, "surge"}, {w->wave.height > 0, "waves"}, {w->wind.speed > 0, "wind"}};
    char all[120] = "";
    for (size_t i = 0; i < sizeof left / sizeof left[0]; i++)
        if (left[i].there) snprintf(all + strlen(all), sizeof all - strlen(all), "%s%s", all[0] != '\0' ? ", " : "", left[i].what);
    if (all[0] != '\0')
        (void)dd_recorder_assumed(s->recorder, "still water at the level of time 0: left out here are the scenario's %s", all);
}

static void conclude_tied(const dd_settle_study *s, dd_result *r)
{
    r->verdict = DD_VERDICT_FAILED;
    snprintf(r->word, sizeof r->word, "lifted");
    snprintf(r->sentence, sizeof r->sentence,
             "The transom ties are on: the boat lifts the trailer off its wheels with the hub %.2f m under water; take the ties off before "
             "the rig goes down.", s->crossed[WHEELS_OFF].v[DD_SEEN_HUB_DEPTH]);
}

static void conclude_afloat(const dd_settle_study *s, const dd_extremes *extremes, dd_result *r)
{
    bool broken = false;
    for (int i = 0; i < r->margin_count; i++) broken |= r->margins[i].broken != 0;
    r->verdict = broken ? DD_VERDICT_BROKEN : DD_VERDICT_WITHIN;
    char lifts[80] = "The rearmost support carries next to nothing from the start and";
    const bool stern = !isnan(s->crossed_at[STERN_LIFTS]);
    if (stern)
        snprintf(lifts, sizeof lifts, "The stern lifts with the hub %.2f m under water and", s->crossed[STERN_LIFTS].v[DD_SEEN_HUB_DEPTH]);
    snprintf(r->word, sizeof r->word, "floats off");
    snprintf(r->sentence, sizeof r->sentence,
             "%s the boat is afloat%s at %.2f m; the strap holds at most "
             "%.0f N, the coupling carries up to %.0f N.",
             lifts, stern ? "" : " with the hub", s->crossed[AFLOAT].v[DD_SEEN_HUB_DEPTH], extremes->most.v[DD_SEEN_STRAP_TENSION],
             extremes->most.v[DD_SEEN_COUPLING_LOAD]);
    const size_t said = strlen(r->sentence);
    if (s->ends != NULL) snprintf(r->sentence + said, sizeof r->sentence - said, " At %.2f m: %s.", s->end_depth, s->ends);
}

void dd_settle_conclude(dd_settle_study *s, const dd_extremes *extremes, const dd_water *water, const dd_error *failure)
{
    dd_result *r = dd_recorder_result(s->recorder);
    const bool answered = failure->status == DD_OK || failure->status == DD_ERROR_NO_EQUILIBRIUM;
    if (extremes->any) dd_margins_of_loads(s->m, extremes, s->recorder);
    if (extremes->any) tell_wheels(s);
    dd_assumptions(s->m, s->recorder);
    (void)dd_recorder_unchecked(
        s->recorder,
        "wading depth, exhaust, end of the slab: the rig goes down here until the boat floats; its depths are in the curve");
    if (s->tied)
        (void)dd_recorder_unchecked(s->recorder, "the boat unhooked and the winch home: the transom ties stay on");
    (void)dd_recorder_assumed(s->recorder, "nothing moves: loads are those of rest, with the band that friction leaves open");
    tell_left_out(s, water);
    if (answered && s->tied && !isnan(s->crossed_at[WHEELS_OFF])) {
        conclude_tied(s, r);
        return;
    }
    if (answered && !s->tied && !isnan(s->crossed_at[AFLOAT])) {
        conclude_afloat(s, extremes, r);
        return;
    }
    r->verdict = answered ? DD_VERDICT_FAILED : DD_VERDICT_INCOMPLETE;
    snprintf(r->word, sizeof r->word, "%s",
             failure->status == DD_ERROR_NO_EQUILIBRIUM ? "falls"
             : failure->status == DD_OK                 ? "not afloat"
                                                        : "could not be computed");
    snprintf(r->sentence, sizeof r->sentence, "%.390s.",
             failure->status != DD_OK ? failure->message : "The boat does not float off within this ramp");
    r->failure = *failure;
}
