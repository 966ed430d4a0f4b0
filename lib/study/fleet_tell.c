/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was found of a fleet, put into a report. */
#include "lib/base/numbers.h"
#include "lib/shore/tide_given.h"
#include "lib/study/fleet.h"
#include <math.h>
#include <string.h>

static const char *const actions[] = {"launch", "retrieve"};
enum { CURVE = 60, NAMED = 6 };

static double finite(double value) { return isfinite(value) ? value : NAN; }
static bool asked(const dd_fleet_work *w, int action)
{
    double failed;
    return dd_fleet_asked(w, 0, action, NULL, &failed) > 0;
}

/* The end that most of those rigs have in common that a level would still not do for, or of all. */
static const char *often(const dd_fleet_work *w, int ramp, int action, const dd_fleet_class *of, bool deep)
{
    double weight[DD_END_COUNT] = {0};
    int best = -1;
    for (int i = 0; i < w->count; i++) {
        const dd_fleet_answer *a = dd_fleet_known(w, ramp, i, action, of);
        if (a == NULL) continue;
        weight[deep ? a->deep : a->shallow] += w->rigs[i].count;
    }
    for (int e = 0; e < DD_END_COUNT; e++)
        if (weight[e] > 0 && (best < 0 || weight[e] > weight[best])) best = e;
    return best < 0 ? "" : dd_depth_end_words((dd_depth_end)best);
}

/* Shares and levels of one line. */
static void put_share(const dd_fleet_work *w, int action, const dd_fleet_class *of, double rigs, double wanted)
{
    dd_reporter_value(w->report, rigs);
    dd_reporter_value(w->report, dd_fleet_share(w, 0, action, of, w->level));
    dd_reporter_value(w->report, finite(dd_fleet_level(w, 0, action, of, 0.5)));
    dd_reporter_value(w->report, finite(wanted));
}

static void tell_hours(const dd_fleet_work *w, double level, double rise)
{
    if (w->levels != NULL) dd_reporter_value(w->report, finite(24 * dd_fleet_time(w, level, rise)));
}

static int changes(const dd_fleet_work *w) { return w->scenario->fleet.variant_count + w->scenario->fleet.later_count; }

void dd_fleet_table(dd_fleet_work *w, const char *key, const char *title, int brief)
{
    dd_reporter_table(w->report, key, title, brief);
    dd_reporter_datum(w->report, dd_datum_words(w->scenario->ramp.datum));
}

/* On the screen where no table of changes has its figures in its first row. */
static void tell_now(dd_fleet_work *w)
{
    dd_reporter *r = w->report;
    const double wanted = w->scenario->fleet.share_wanted;
    dd_fleet_table(w, "fleet", "The fleet on the ramp as it is", changes(w) > 0 ? DD_REPORT_LONG : DD_REPORT_WHOLE);
    dd_reporter_column(r, "action", "", 0, "launch or retrieve");
    dd_reporter_column(r, "rigs", "", 0, "by their counts");
    dd_reporter_column(r, "now", "%", 0, "share that can at the level now");
    dd_reporter_column(r, "half at", "m", 2, "least level that does for half of the fleet, on the ramp's datum; empty: none does");
    dd_reporter_column(r, "wanted at", "m", 2, "least level that does for the share wanted: below it close the ramp");
    dd_reporter_column(r, "over toe", "m", 2, "of that level over the toe");
    dd_reporter_column(r, "all at", "m", 2, "least level that does for every rig that was computed");
    if (w->levels != NULL) dd_reporter_column(r, "hours a day", "", 1, "that the tide stands at the level for the share wanted or above, mean of the year");
    dd_reporter_column(r, "dry", "%", 0, "of those that can now the share whose vehicle's rear tyres stay dry at the shallowest place");
    dd_reporter_column(r, "most often", "", 0, "what most rigs meet at their least level when the rig goes deeper");
    for (int a = 0; a < DD_FLEET_ACTIONS; a++) {
        double failed;
        const double rigs = dd_fleet_asked(w, 0, a, NULL, &failed), close = dd_fleet_level(w, 0, a, NULL, wanted);
        if (!(rigs > 0)) continue;
        dd_reporter_words(r, "%s", actions[a]);
        put_share(w, a, NULL, rigs, close);
        dd_reporter_value(r, finite(close - w->toe[0]));
        dd_reporter_value(r, finite(dd_fleet_level(w, 0, a, NULL, 1)));
        tell_hours(w, close, 0);
        dd_reporter_value(r, dd_fleet_dry(w, 0, a));
        dd_reporter_words(r, "%s", often(w, 0, a, NULL, true));
    }
    dd_reporter_table_note(r, "The water stands at %.2f m now. Share wanted: %.0f %%.", w->level, 100 * wanted);
}

static void add_variant(dd_fleet_work *w, const char *name, int ramp, double rise)
{
    dd_reporter *r = w->report;
    const double wanted = w->scenario->fleet.share_wanted;
    dd_reporter_words(r, "%s", name);
    for (int a = 0; a < DD_FLEET_ACTIONS; a++) {
        if (!asked(w, a)) continue;
        const double level = dd_fleet_level(w, ramp, a, NULL, wanted);
        dd_reporter_value(r, dd_fleet_share(w, ramp, a, NULL, w->level + rise));
        dd_reporter_value(r, finite(level));
        tell_hours(w, level, rise);
    }
}

/* P241: which slope keeps the vehicles dry. */
static void tell_toes(dd_fleet_work *w)
{
    dd_reporter *r = w->report;
    dd_fleet_table(w, "toes", "Toes and dry tyres", DD_REPORT_LONG);
    dd_reporter_column(r, "ramp", "", 0, "as it is, or as changed");
    dd_reporter_column(r, "toe", "m", 2, "its level; empty: the ramp has no end");
    dd_reporter_column(r, "launch dry", "%", 0, "of those that can at the level now the share whose vehicle's rear tyres stay dry at the shallowest place");
    dd_reporter_column(r, "retrieve dry", "%", 0, "likewise");
    for (int k = 0; k < w->ramp_count; k++) {
        dd_reporter_words(r, "%s", dd_fleet_ramp_name(w, k));
        dd_reporter_value(r, w->toe[k]);
        for (int a = 0; a < DD_FLEET_ACTIONS; a++) dd_reporter_value(r, dd_fleet_dry(w, k, a));
    }
}

static void tell_variants(dd_fleet_work *w)
{
    dd_reporter *r = w->report;
    const dd_fleet *f = &w->scenario->fleet;
    char text[80];
    if (changes(w) == 0) return;
    dd_fleet_table(w, "variants", "The ramp changed, and the sea risen", DD_REPORT_WHOLE);
    dd_reporter_column(r, "ramp", "", 0, "as it is, as changed, or in a later year");
    for (int a = 0; a < DD_FLEET_ACTIONS; a++) {
        if (!asked(w, a)) continue;
        dd_text(text, sizeof text, "%s now", actions[a]);
        dd_reporter_column(r, text, "%", 0, "share that can at the level now, the sea risen in a later year");
        dd_text(text, sizeof text, "%s at", actions[a]);
        dd_reporter_column(r, text, "m", 2, "least level that does for the share wanted");
        dd_text(text, sizeof text, "%s hours", actions[a]);
        if (w->levels != NULL) dd_reporter_column(r, text, "", 1, "a day that the tide stands there or above");
    }
    for (int k = 0; k < w->ramp_count; k++) add_variant(w, dd_fleet_ramp_name(w, k), k, 0);
    for (int i = 0; i < f->later_count; i++) {
        dd_text(text, sizeof text, "%d, the sea %.3g m %s", f->later[i].year, fabs(f->later[i].rise), f->later[i].rise < 0 ? "lower" : "higher");
        add_variant(w, text, 0, f->later[i].rise);
    }
}

/* By whole metres of length. */
static void tell_lengths(dd_fleet_work *w)
{
    dd_reporter *r = w->report;
    double failed;
    dd_fleet_table(w, "lengths", "By length of the boat", DD_REPORT_LONG);
    dd_reporter_column(r, "action", "", 0, "launch or retrieve");
    dd_reporter_column(r, "from", "m", 0, "length, up to a metre more");
    dd_reporter_column(r, "rigs", "", 0, "by their counts");
    dd_reporter_column(r, "now", "%", 0, "share that can at the level now");
    dd_reporter_column(r, "half at", "m", 2, "least level that does for half of them");
    dd_reporter_column(r, "wanted at", "m", 2, "least level that does for the share wanted");
    if (w->levels != NULL) dd_reporter_column(r, "hours a day", "", 1, "that the tide stands there or above");
    dd_reporter_column(r, "too shallow", "", 0, "what most of them meet at their least level where it is too shallow");
    dd_reporter_column(r, "too deep", "", 0, "what most of them meet where it is too deep");
    for (int a = 0; a < DD_FLEET_ACTIONS; a++)
        for (int m = 0; m < 30; m++) {
            const dd_fleet_class of = {m, m + 1};
            const double rigs = dd_fleet_asked(w, 0, a, &of, &failed), level = dd_fleet_level(w, 0, a, &of, w->scenario->fleet.share_wanted);
            if (!(rigs > 0)) continue;
            dd_reporter_words(r, "%s", actions[a]);
            dd_reporter_value(r, m);
            put_share(w, a, &of, rigs, level);
            tell_hours(w, level, 0);
            dd_reporter_words(r, "%s", often(w, 0, a, &of, false));
            dd_reporter_words(r, "%s", often(w, 0, a, &of, true));
        }
}

static void tell_curve(dd_fleet_work *w)
{
    dd_reporter *r = w->report;
    double low = w->level, high = w->level;
    for (int i = 0; i < w->ramp_count * w->count * DD_FLEET_ACTIONS; i++) {
        const dd_fleet_answer *a = &w->answers[i];
        if (a->asked && a->status == DD_OK && isfinite(a->level)) low = fmin(low, a->level), high = fmax(high, a->level);
    }
    const double step = (high - low + 0.1) / CURVE;
    dd_fleet_table(w, "shares", "Share of the fleet against the level", DD_REPORT_LONG);
    dd_reporter_column(r, "ramp", "", 0, "as it is, or as changed");
    dd_reporter_column(r, "level", "m", 3, "on the ramp's datum");
    dd_reporter_column(r, "launch", "%", 1, "share that can");
    dd_reporter_column(r, "retrieve", "%", 1, "share that can");
    dd_reporter_column(r, "time", "%", 1, "that the tide stands there or above; empty: no tide");
    for (int k = 0; k < w->ramp_count; k++)
        for (int i = 0; i <= CURVE; i++) {
            const double level = low - 0.05 + i * step;
            dd_reporter_words(r, "%s", dd_fleet_ramp_name(w, k));
            dd_reporter_value(r, level);
            dd_reporter_value(r, dd_fleet_share(w, k, DD_FLEET_LAUNCH, NULL, level));
            dd_reporter_value(r, dd_fleet_share(w, k, DD_FLEET_RETRIEVE, NULL, level));
            dd_reporter_value(r, dd_fleet_time(w, level, 0));
        }
}

static const char *state_of(const dd_fleet_answer *a)
{
    return a->status != DD_OK ? a->why.message : a->level == INFINITY ? "no level will do" : a->level == -INFINITY ? "any level will do" : "";
}

static void tell_rigs(dd_fleet_work *w)
{
    dd_reporter *r = w->report;
    dd_fleet_table(w, "rigs", "Every rig, on the ramp as it is", DD_REPORT_LONG);
    dd_reporter_column(r, "rig", "", 0, "its name");
    dd_reporter_column(r, "action", "", 0, "launch or retrieve");
    dd_reporter_column(r, "count", "", 2, "how many");
    dd_reporter_column(r, "length", "m", 2, "of the hull");
    dd_reporter_column(r, "scale", "", 3, "of lengths, against the rig it was drawn from");
    dd_reporter_column(r, "mass factor", "", 3, "of masses, beside the cube of that");
    dd_reporter_column(r, "least level", "m", 4, "at which it works; empty: see state");
    dd_reporter_column(r, "too shallow", "", 0, "what binds there when it is too shallow");
    dd_reporter_column(r, "too deep", "", 0, "what binds there when it is too deep");
    dd_reporter_column(r, "state", "", 0, "why there is no level");
    for (int i = 0; i < w->count; i++)
        for (int a = 0; a < DD_FLEET_ACTIONS; a++) {
            const dd_fleet_answer *answer = dd_fleet_answer_of(w, 0, i, a);
            if (!answer->asked) continue;
            const bool good = answer->status == DD_OK;
            dd_reporter_words(r, "%s", w->rigs[i].name);
            dd_reporter_words(r, "%s", actions[a]);
            dd_reporter_value(r, w->rigs[i].count);
            dd_reporter_value(r, w->rigs[i].length);
            dd_reporter_value(r, w->rigs[i].scale);
            dd_reporter_value(r, w->rigs[i].mass);
            dd_reporter_value(r, finite(answer->level));
            dd_reporter_words(r, "%s", good ? dd_depth_end_words(answer->shallow) : "");
            dd_reporter_words(r, "%s", good ? dd_depth_end_words(answer->deep) : "");
            dd_reporter_words(r, "%s", state_of(answer));
        }
}

/* What could not be computed, on whichever ramp, is counted and named. */
static void tell_failed(dd_fleet_work *w)
{
    double sum = 0;
    int named = 0;
    for (int k = 0; k < w->ramp_count; k++)
        for (int i = 0; i < w->count; i++)
            for (int a = 0; a < DD_FLEET_ACTIONS; a++) {
                const dd_fleet_answer *answer = dd_fleet_answer_of(w, k, i, a);
                if (!answer->asked || answer->status == DD_OK) continue;
                sum += w->rigs[i].count;
                if (named++ < NAMED)
                    dd_reporter_note(w->report, "Not computed: %s, %s%s%s: %.200s", w->rigs[i].name, actions[a], k > 0 ? ", " : "", k > 0 ? dd_fleet_ramp_name(w, k) : "",
                                     answer->why.message);
            }
    if (named > NAMED) dd_reporter_note(w->report, "And %d more that could not be computed.", named - NAMED);
    dd_check check = dd_check_of("fleet", NULL, sum, 0, "", "the program", "answers that could not be computed");
    check.outcome = DD_CHECK_CAUTION;
    dd_text(check.words, sizeof check.words, "shares are of those that were");
    dd_reporter_check(w->report, &check);
}

static void tell_lane(dd_fleet_work *w)
{
    const dd_fleet *f = &w->scenario->fleet;
    double widest = 0;
    const char *name = "";
    for (int i = 0; i < w->count; i++)
        if (w->rigs[i].track > widest) widest = w->rigs[i].track, name = w->rigs[i].name;
    dd_check check = dd_check_of("fleet", NULL, f->lane_width - widest, 0, "m", "practice", "lane less track");
    check.least = 1;
    dd_text(check.words, sizeof check.words, isnan(f->lane_width) ? "the lane's width is not given" : "%s is the widest of the fleet: half of it is left on either side", name);
    dd_reporter_check(w->report, &check);
    dd_reporter_note(w->report, "%.0f launches or retrieves an hour on %d lane%s at %.0f s each, none waiting for another.", floor(3600 / f->time_on_ramp * f->lanes), f->lanes, f->lanes > 1 ? "s" : "",
                     f->time_on_ramp);
}

void dd_fleet_tell(dd_fleet_work *w)
{
    const dd_fleet *f = &w->scenario->fleet;
    double close = -INFINITY;
    for (int a = 0; a < DD_FLEET_ACTIONS; a++) {
        if (!asked(w, a)) continue;
        dd_check check = dd_check_of("fleet", NULL, dd_fleet_share(w, 0, a, NULL, w->level), f->share_wanted, "%", "practice", "share that can %s now", actions[a]);
        check.least = 1;
        dd_text(check.words, sizeof check.words, "most meet %s", often(w, 0, a, NULL, true));
        dd_reporter_check(w->report, &check);
        close = fmax(close, dd_fleet_level(w, 0, a, NULL, f->share_wanted));
    }
    if (isinf(close))
        dd_reporter_headline(w->report, close > 0 ? "no level does for %.0f %% of the fleet" : "any level does for %.0f %% of the fleet", 100 * f->share_wanted);
    else
        dd_reporter_headline(w->report, "%s: %.0f %% of the fleet need a level of %.2f m above %s, %.2f m over the toe; the water stands %.2f m %s", w->level < close ? "close" : "open", 100 * f->share_wanted, close,
                             dd_datum_words(w->scenario->ramp.datum), close - w->toe[0], fabs(w->level - close), w->level < close ? "below it" : "above it");
    tell_now(w);
    tell_variants(w);
    tell_toes(w);
    tell_lengths(w);
    tell_curve(w);
    tell_rigs(w);
    dd_fleet_tell_reach(w);
    tell_failed(w);
    tell_lane(w);
    dd_reporter_assumed(w->report, "a rig works at every level above its least, as long as the ramp's crest is dry");
    dd_reporter_assumed(w->report, "each rig with its own vehicle, load, limits and procedure, in still water");
}
