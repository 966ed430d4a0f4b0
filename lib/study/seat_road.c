/* SPDX-License-Identifier: GPL-3.0-or-later */
/* On the road: what braking, bends and bumps do to strap, chain, ties, bow stop and supports, and whether they hold. */
#include "lib/study/restraint.h"
#include "lib/study/seat.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double hold_down = 0.2;  /* of the weight */
static const double half = 0.5;       /* of a line from vehicle to load counts; of the weight is asked */
static const char *const line_names[DD_LINE_KINDS] = {"winch strap", "safety chain", "port tie", "starboard tie"};

static bool tied(const dd_seat *s) { return isfinite(s->scenario->trailer.ties.behind_coupling); }
static bool chained(const dd_seat *s) { return isfinite(s->scenario->trailer.chain.slack_at_home); }

/* "rear cradle, keel 2" */
static void name_lifted(const dd_seat *s, const dd_held_loads *l, char *text, size_t size)
{
    text[0] = '\0';
    for (int k = 0; k < s->scenario->trailer.support_count; k++)
        if (l->lifted[k]) dd_text(text + strlen(text), size - strlen(text), "%s%s", *text ? ", " : "", s->scenario->trailer.supports[k].name);
}

static void say_hold(const dd_seat *s, const dd_held_loads *l)
{
    char lifted[200];
    name_lifted(s, l, lifted, sizeof lifted);
    switch (l->hold) {
    case DD_HOLD_RUNS: dd_reporter_words(s->report, "runs off"); return;
    case DD_HOLD_TIPS: dd_reporter_words(s->report, "tips"); return;
    case DD_HOLD_FRICTION: dd_reporter_words(s->report, "friction %.2f%s", l->friction, l->all_off ? "; off all" : l->lifts_off > 0 ? "; lifts" : ""); return;
    default: break;
    }
    if (l->all_off)
        dd_reporter_words(s->report, "lifts off all");
    else if (l->lifts_off == 1)
        dd_reporter_words(s->report, "lifts off %.24s", lifted);
    else if (l->lifts_off > 1)
        dd_reporter_words(s->report, "lifts off %d", l->lifts_off);
    else
        dd_reporter_words(s->report, "holds");
}

/* Both sides of a boat that is alike on both differ by rounding alone: the first is named. */
static bool is_more(double a, double b) { return a > b + 1e-6 * fabs(b); }

static void put_table(const dd_seat *s, const dd_held_loads *loads)
{
    dd_reporter *r = s->report;
    dd_reporter_table(r, "restraint", "On the road, in each direction and by each measure", DD_REPORT_LONG);
    dd_reporter_column(r, "pushed", "", 0, "of the boat against its trailer, beside its weight");
    dd_reporter_column(r, "strap", "kN", 1, "tension of the winch strap");
    dd_reporter_column(r, "chain", "kN", 1, "tension of the safety chain; empty: there is none");
    dd_reporter_column(r, "tie", "kN", 1, "of the tauter transom tie; empty: there are none");
    dd_reporter_column(r, "stop", "kN", 1, "load of the bow stop");
    dd_reporter_column(r, "roller", "kN", 1, "of the most loaded roller of all");
    dd_reporter_column(r, "moves", "mm", 0, "how far the hull moves on its supports at most");
    dd_reporter_column(r, "boat", "", 0, "holds; lifts off a support; by how much friction alone it is held sideways; runs off; tips");
    for (int i = 0; i < DD_ROAD_CASES; i++) {
        const dd_held_loads *l = &loads[i];
        const bool lost = l->hold == DD_HOLD_RUNS || l->hold == DD_HOLD_TIPS;
        double most = 0;
        for (int k = 0; k < s->scenario->trailer.support_count; k++) most = fmax(most, l->roller[k]);
        const double values[] = {l->tension[DD_LINE_STRAP], chained(s) ? l->tension[DD_LINE_CHAIN] : NAN,
                                 tied(s) ? fmax(l->tension[DD_LINE_TIE_PORT], l->tension[DD_LINE_TIE_STARBOARD]) : NAN, l->stop, most, l->moved};
        dd_reporter_words(r, "%s", dd_road_case_at(i)->name);
        for (int c = 0; c < 6; c++) dd_reporter_value(r, lost ? NAN : values[c]);
        say_hold(s, l);
    }
    dd_reporter_table_note(r, "Without friction, but where it says how much of it the hull needs: then the foremost and the rearmost support hold it sideways.");
}

/* What of the above goes on a screen: braking, pushed aft, the worse side, a bump. */
static void put_brief(const dd_seat *s, const dd_held_loads *loads)
{
    dd_reporter *r = s->report;
    const dd_held_loads *port = &loads[DD_ROAD_PORT], *starboard = &loads[DD_ROAD_STARBOARD];
    const int side = starboard->hold > port->hold || (starboard->hold == port->hold && is_more(starboard->friction, port->friction)) ? DD_ROAD_STARBOARD : DD_ROAD_PORT;
    const int shown[] = {DD_ROAD_FORWARD, DD_ROAD_REARWARD, side, DD_ROAD_UP};
    dd_reporter_table(r, "on_the_road", "On the road, lines hooked", DD_REPORT_BRIEF);
    dd_reporter_column(r, "pushed", "", 0, "of the boat against its trailer, beside its weight");
    dd_reporter_column(r, "strap", "kN", 1, "tension of the winch strap");
    if (chained(s)) dd_reporter_column(r, "chain", "kN", 1, "tension of the safety chain");
    if (tied(s)) dd_reporter_column(r, "tie", "kN", 1, "of the tauter transom tie");
    dd_reporter_column(r, "stop", "kN", 1, "load of the bow stop");
    dd_reporter_column(r, "boat", "", 0, "holds; lifts off a support; by how much friction alone it is held sideways; runs off; tips");
    for (int i = 0; i < 4; i++) {
        const dd_held_loads *l = &loads[shown[i]];
        const bool lost = l->hold == DD_HOLD_RUNS || l->hold == DD_HOLD_TIPS;
        dd_reporter_words(r, "%s", dd_road_case_at(shown[i])->name);
        dd_reporter_value(r, lost ? NAN : l->tension[DD_LINE_STRAP]);
        if (chained(s)) dd_reporter_value(r, lost ? NAN : l->tension[DD_LINE_CHAIN]);
        if (tied(s)) dd_reporter_value(r, lost ? NAN : fmax(l->tension[DD_LINE_TIE_PORT], l->tension[DD_LINE_TIE_STARBOARD]));
        dd_reporter_value(r, lost ? NAN : l->stop);
        say_hold(s, l);
    }
}

static void put_supports(const dd_seat *s, const dd_held_loads *loads)
{
    dd_reporter *r = s->report;
    dd_reporter_table(r, "restraint_supports", "Supports on the road", DD_REPORT_LONG);
    dd_reporter_column(r, "support", "", 0, "name of the support");
    dd_reporter_column(r, "pushed", "", 0, "of the boat against its trailer, beside its weight");
    dd_reporter_column(r, "load", "kN", 2, "of all its rollers together");
    dd_reporter_column(r, "standing", "kN", 2, "the same with the rig standing, lines hooked");
    dd_reporter_column(r, "one roller", "kN", 2, "of its most loaded roller");
    dd_reporter_column(r, "rated each", "kN", 2, "rated load of a roller, standing");
    dd_reporter_column(r, "lifts off", "", 0, "whether the hull leaves it");
    for (int k = 0; k < s->scenario->trailer.support_count; k++)
        for (int i = 1; i < DD_ROAD_CASES; i++) {
            const dd_held_loads *l = &loads[i];
            if (l->hold == DD_HOLD_RUNS || l->hold == DD_HOLD_TIPS) continue;
            dd_reporter_words(r, "%s", s->scenario->trailer.supports[k].name);
            dd_reporter_words(r, "%s", dd_road_case_at(i)->name);
            dd_reporter_value(r, l->support[k]);
            dd_reporter_value(r, loads[DD_ROAD_STANDING].support[k]);
            dd_reporter_value(r, l->roller[k]);
            dd_reporter_value(r, s->scenario->trailer.supports[k].rated_load);
            dd_reporter_words(r, "%s", l->lifted[k] ? "yes" : "no");
        }
}

/* A line's greatest tension in the cases of one measure, against its limit by that measure. */
static void check_line(const dd_seat *s, const dd_held_loads *loads, int kind, bool working, double limit)
{
    int most = -1;
    bool lost = false;
    for (int i = 1; i < DD_ROAD_CASES; i++) {
        const dd_road_case *road = dd_road_case_at(i);
        if (!(working ? road->working : road->breaking)) continue;
        lost = lost || loads[i].hold == DD_HOLD_RUNS || loads[i].hold == DD_HOLD_TIPS;
        if (most < 0 || is_more(loads[i].tension[kind], loads[most].tension[kind])) most = i;
    }
    const char *source = working ? "restraint by working load" : "restraint by breaking strength";
    dd_check check = dd_check_of("road", dd_road_case_at(most)->name, lost ? NAN : loads[most].tension[kind], limit, "kN", source, "%s on the road, %s",
                                 line_names[kind], working ? "working load limit" : "breaking strength");
    for (char *c = check.name; *c; c++)
        if (*c == ',') *c = ':';
    if (isnan(limit)) dd_text(check.words, sizeof check.words, "its %s is not given", working ? "working load limit" : "breaking strength");
    if (lost) dd_text(check.words, sizeof check.words, "in some direction nothing holds the boat: see the table");
    dd_reporter_check(s->report, &check);
    dd_reporter_source(s->report, source);
}

static void check_lines(const dd_seat *s, const dd_held_loads *loads)
{
    const dd_trailer_parameters *t = &s->scenario->trailer;
    check_line(s, loads, DD_LINE_STRAP, false, t->winch.break_strength);
    check_line(s, loads, DD_LINE_STRAP, true, t->winch.strap_rating);
    if (chained(s)) {
        check_line(s, loads, DD_LINE_CHAIN, false, t->chain.break_strength);
        check_line(s, loads, DD_LINE_CHAIN, true, t->chain.rating);
    }
    for (int kind = DD_LINE_TIE_PORT; kind <= DD_LINE_TIE_STARBOARD && tied(s); kind++) {
        check_line(s, loads, kind, false, t->ties.break_strength);
        check_line(s, loads, kind, true, t->ties.rating);
    }
}

/* A measure by rule for trucks: what falls short of it is a caution. */
static void caution(const dd_seat *s, double value, double limit, const char *unit, const char *source, const char *name, const char *words)
{
    dd_check check = dd_check_of("road", NULL, value, limit, unit, source, "%s", name);
    check.least = 1;
    check.outcome = DD_CHECK_CAUTION;
    dd_text(check.words, sizeof check.words, "%s", words);
    dd_reporter_check(s->report, &check);
    dd_reporter_source(s->report, source);
}

/* What its lines can hold the hull down with, each at its working load limit. */
static double down_force(const dd_seat *s, const dd_restraint *r, double strap_rating)
{
    double sum = 0;
    const dd_trailer_parameters *t = &s->scenario->trailer;
    for (int kind = 0; kind < DD_LINE_KINDS; kind++) {
        if (r->line[kind] < 0 || kind == DD_LINE_CHAIN) continue;
        const double down = -dd_apply(&r->to_trailer, r->model.lines[r->line[kind]].pull).z;
        if (down > 0) sum += down * (kind == DD_LINE_STRAP ? strap_rating : t->ties.rating);
    }
    return sum;
}

static void check_rules(const dd_seat *s, const dd_restraint *r)
{
    const dd_trailer_parameters *t = &s->scenario->trailer;
    double first, last;
    dd_hull_extent(s->m->hull, &first, &last);
    const int lines = 1 + (tied(s) ? 2 : 0), asked = dd_least_tie_downs(last - first, r->weight / s->gravity);
    const double sum = half * (t->winch.strap_rating + (tied(s) ? 2 * t->ties.rating : 0));
    const char *fit = tied(s) ? "winch strap and transom ties; the safety chain, which hangs slack, is not counted"
                              : "no transom ties are given: tie the stern down before the road";
    caution(s, sum, half * r->weight, "kN", "tie-downs in sum", "working load limits of the tie-downs in sum", fit);
    caution(s, lines, asked, "", "number of tie-downs", "number of tie-downs", fit);
    const double down = tied(s) ? down_force(s, r, t->winch.strap_rating) : 0;
    caution(s, down, hold_down * r->weight, "kN", "restraint upward", "hold of the tie-downs downward", fit);
}

/* Friction of the supports sideways as the scenario has it, the loads' mean; of skids the lesser of dry and wet. */
static double side_friction(const dd_seat *s, const dd_held_loads *l)
{
    double held = 0;
    for (int k = 0; k < s->scenario->trailer.support_count; k++) {
        const dd_support *support = &s->scenario->trailer.supports[k];
        const double wet = isnan(support->wet_friction) ? support->dry_friction : fmin(support->wet_friction, support->dry_friction);
        held += l->support[k] * (support->kind == DD_SUPPORT_SKID ? wet : support->kind == DD_SUPPORT_SIDE_GUIDE ? support->dry_friction : support->side_friction);
    }
    return l->normal > 0 ? held / l->normal : NAN;
}

/* Why a hull runs off forward: a stop that meets a raked stem lifts the bow, more the harder it pushes. */
static dd_status say_why_it_runs(const dd_seat *s, const dd_restraint *r, const dd_held_loads *standing, const dd_road_case *road, char *words,
                                 size_t size, dd_error *error)
{
    enum { PLAIN = 5 };
    double held = 0;
    const double lift = dd_restraint_stop_lift(r), lean = asin(fmin(1, fmax(-1, lift))) * 180 / M_PI;
    dd_status status = dd_restraint_held_to(r, s->m->rig, s->scenario->trailer.support_count, road->forward, s->gravity, standing, &held, error);
    if (status != DD_OK) return status;
    if (lean > PLAIN)
        snprintf(words, size, "without friction held to %.2f g: the stop meets the stem where it leans by %.0f degrees, and lifts the bow with %.2f of its push until "
                 "the bow rides up it; a stop where the stem stands steeper, or a line that holds the bow down",
                 held, lean, lift);
    else
        snprintf(words, size, "without friction held to %.2f g: beyond, the bow passes its stop or the lines give too much: it shifts by more than 0.3 m", held);
    return DD_OK;
}

static dd_status check_hold(const dd_seat *s, const dd_restraint *r, const dd_held_loads *loads, dd_error *error)
{
    int most = -1;
    for (int i = 1; i < DD_ROAD_CASES; i++) {
        const dd_held_loads *l = &loads[i];
        const dd_road_case *road = dd_road_case_at(i);
        if (l->hold == DD_HOLD_FRICTION && (most < 0 || is_more(l->friction, loads[most].friction))) most = i;
        if (l->hold != DD_HOLD_RUNS && l->hold != DD_HOLD_TIPS) continue;
        dd_check check = dd_check_of("road", road->name, 0, 1, "", "restraint by breaking strength", "held when %s", road->words);
        check.least = 1;
        dd_text(check.words, sizeof check.words, "%s", l->hold == DD_HOLD_TIPS ? "nothing keeps it upright: fit ties that pull down on both sides" : "without friction nothing holds it, or the lines give too much: it shifts by more than 0.3 m");
        if (road->forward > 0) {
            check.outcome = DD_CHECK_CAUTION; /* what friction on a raked stem does is left out */
            dd_status status = l->hold == DD_HOLD_TIPS ? DD_OK : say_why_it_runs(s, r, &loads[DD_ROAD_STANDING], road, check.words, sizeof check.words, error);
            if (status != DD_OK) return status;
        }
        dd_reporter_check(s->report, &check);
    }
    if (most < 0) return DD_OK;
    const dd_held_loads *l = &loads[most];
    dd_check check = dd_check_of("road", dd_road_case_at(most)->name, l->friction, side_friction(s, l), "", "friction for restraint", "friction that holds it sideways");
    check.outcome = DD_CHECK_CAUTION;
    dd_text(check.words, sizeof check.words, "nothing holds it sideways but friction: it needs a coefficient of %.2f and slides first on %s; the supports are taken to have %.2f, metal on metal has 0.2",
            l->friction, l->slides_first >= 0 ? s->scenario->trailer.supports[l->slides_first].name : "its supports", check.limit);
    dd_reporter_check(s->report, &check);
    dd_reporter_source(s->report, "friction for restraint");
    dd_reporter_note(s->report, "On the road nothing holds the boat sideways but friction: %s needs a coefficient of %.2f; guides, flanged keel rollers or crossed ties would hold it.",
                     dd_road_case_at(most)->words, l->friction);
    return DD_OK;
}

static void say_assumed(const dd_seat *s)
{
    dd_reporter_assumed(s->report, "On the road: steady pushes, hull and trailer stiff, lines in their directions at home; each line hooked as the file has it");
    if (chained(s) || tied(s)) dd_reporter_assumed(s->report, "A chain without a rating counts as one of 10 kN, a tie as one of 5 kN: their labels govern");
}

dd_status dd_seat_road(dd_seat *s, dd_error *error)
{
    const int supports = s->scenario->trailer.support_count;
    dd_restraint *r = malloc(sizeof *r);
    dd_status status = r != NULL ? DD_OK : dd_fail(error, DD_ERROR_MEMORY, "dd_study_seat", "no memory for the boat's restraint");
    if (status == DD_OK) status = dd_restraint_create(s->m, &s->home, &s->model, r, error);
    for (int i = 0; i < DD_ROAD_CASES && status == DD_OK; i++)
        status = dd_restraint_loads(r, s->m->rig, supports, dd_road_case_at(i), s->gravity, i > 0 ? &s->road[DD_ROAD_STANDING] : NULL, &s->road[i], error);
    if (status == DD_OK) {
        put_brief(s, s->road);
        put_table(s, s->road);
        put_supports(s, s->road);
        check_lines(s, s->road);
        check_rules(s, r);
        status = check_hold(s, r, s->road, error);
        say_assumed(s);
    }
    free(r);
    return status;
}
