/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/seat_adjust_tell.h"
#include "lib/base/numbers.h"
#include <math.h>
#include <string.h>

const char *const dd_asked_names[DD_ASK_KINDS] = {"the rated loads", "the greatest load of a roller on the hull", "the least keel share",
                                                   "sides that steady it", "the load on the coupling",
                                                   "the clearance from strakes and chine", "the zones without rollers",
                                                   "a support near the transom", "supports near the bulkheads",
                                                   "the overhang of the transom", "the pressure of rollers"};

static double by_of(const dd_adjusting *a, const dd_setting *s, int support, int direction)
{
    for (int i = 0; i < a->shift_count; i++)
        if (a->shifts[i].support == support && a->shifts[i].direction == direction) return s->by[i];
    return 0;
}

/* The height chosen, if it is another than the one given; 0: none. */
static int other_height(const dd_adjusting *a, const dd_setting *s, int support)
{
    const bool has = support >= 0 && s->height[support] > 0;
    return has && s->height[support] != a->trailer.supports[support].height_setting ? s->height[support] : 0;
}

static bool is_shifted(const dd_adjusting *a, const dd_setting *s, int support)
{
    for (int d = 0; d < DD_SHIFT_DIRECTIONS; d++)
        if (by_of(a, s, support, d) != 0) return true;
    return other_height(a, s, support) > 0;
}

static void append(char *text, size_t size, const char *words)
{
    const size_t used = strlen(text);
    dd_text(text + used, size - used, "%s%s", used > 0 ? ", " : "", words);
}

static const char *const ways[DD_SHIFT_DIRECTIONS][2] = {
    [DD_SHIFT_UP] = {"up", "down"}, [DD_SHIFT_OUT] = {"out", "in"}, [DD_SHIFT_AFT] = {"aft", "forward"}};

/* "35 mm out, 20 mm up" */
static void say_what(const dd_adjusting *a, const dd_setting *s, int support, dd_reporter *r, char *text, size_t size)
{
    static const int order[] = {DD_SHIFT_OUT, DD_SHIFT_UP, DD_SHIFT_AFT};
    char quantity[DD_REPORTER_TEXT], words[80];
    text[0] = '\0';
    if (other_height(a, s, support) > 0) {
        dd_text(words, sizeof words, "to its height %d", other_height(a, s, support));
        append(text, size, words);
    }
    for (int i = 0; i < DD_SHIFT_DIRECTIONS; i++) {
        const double by = by_of(a, s, support, order[i]);
        if (by == 0) continue;
        dd_text(words, sizeof words, "%s %s", dd_reporter_quantity(r, fabs(by), "mm", 0, quantity), ways[order[i]][by < 0]);
        append(text, size, words);
    }
}

/* Where it then stands, by a tape from the ground, the centre line and the coupling. */
static void say_where(const dd_adjusting *a, const dd_setting *s, const dd_trailer_parameters *t, int support, dd_reporter *r, char *text,
                      size_t size)
{
    char quantity[DD_REPORTER_TEXT], words[96];
    text[0] = '\0';
    if (support < 0) {
        const double at = support == DD_SHIFT_POST ? t->bow_stop.behind_coupling : t->axles[0].behind_coupling;
        dd_text(text, size, "%s %s behind the coupling", support == DD_SHIFT_POST ? "stop" : t->axle_count > 1 ? "the first" : "axle",
                dd_reporter_quantity(r, at, "mm", 0, quantity));
        return;
    }
    const dd_support *k = &t->supports[support];
    if (by_of(a, s, support, DD_SHIFT_OUT) != 0) {
        const double out = k->half_spacing_count > 0 ? k->half_spacings[k->half_spacing_count - 1] : k->half_spacing;
        dd_text(words, sizeof words, "%s%s from the middle", k->half_spacing_count > 1 ? "outer " : "", dd_reporter_quantity(r, out, "mm", 0, quantity));
        append(text, size, words);
    }
    if (by_of(a, s, support, DD_SHIFT_UP) != 0) {
        dd_text(words, sizeof words, "%s high", dd_reporter_quantity(r, k->above_ground, "mm", 0, quantity));
        append(text, size, words);
    }
    if (other_height(a, s, support) > 0) {
        dd_text(words, sizeof words, "its V %s over the pivot", dd_reporter_quantity(r, k->height_settings[k->height_setting - 1], "mm", 0, quantity));
        append(text, size, words);
    }
    if (by_of(a, s, support, DD_SHIFT_AFT) != 0) {
        dd_text(words, sizeof words, "%s behind the coupling", dd_reporter_quantity(r, k->behind_coupling, "mm", 0, quantity));
        append(text, size, words);
    }
}

static int put_list(const dd_adjusting *a, const dd_setting *s, const dd_trailer_parameters *t, dd_reporter *r)
{
    char part[96], what[160], where[200], height[DD_REPORTER_TEXT];
    int count = 0;
    dd_reporter_table(r, "adjust", "What to shift", DD_REPORT_WHOLE);
    dd_reporter_column(r, "part", "", 0, "of the trailer");
    dd_reporter_column(r, "shift", "", 0, "from where it stands now");
    dd_reporter_column(r, "until it stands", "", 0, "top of the rollers above flat ground (a V's line over the middle), middle of the rollers, trailer level");
    for (int k = DD_SHIFT_AXLES; k < t->support_count; k++) {
        if (!is_shifted(a, s, k)) continue;
        dd_adjust_part(a, k, part, sizeof part);
        say_what(a, s, k, r, what, sizeof what);
        say_where(a, s, t, k, r, where, sizeof where);
        dd_reporter_words(r, "%s", part);
        dd_reporter_words(r, "%s", what);
        dd_reporter_words(r, "%s", where);
        count++;
    }
    if (count > 0)
        dd_reporter_table_note(r, "Coupling at %s; high: top of the roller or face, of a V in its middle.",
                               dd_reporter_quantity(r, t->coupling_height, "mm", 0, height));
    return count;
}

static void put_travels(const dd_adjusting *a, const dd_setting *s, dd_reporter *r)
{
    dd_reporter_table(r, "travels", "How far parts can be shifted", DD_REPORT_LONG);
    dd_reporter_column(r, "part", "", 0, "of the trailer");
    dd_reporter_column(r, "way", "", 0, "which way is more than 0");
    dd_reporter_column(r, "least", "mm", 0, "travel from where it stands now");
    dd_reporter_column(r, "most", "mm", 0, "travel from where it stands now");
    dd_reporter_column(r, "step", "mm", 0, "from one place that it can be fixed at to the next");
    dd_reporter_column(r, "used", "mm", 0, "what the list above shifts it by");
    for (int i = 0; i < a->shift_count; i++) {
        const dd_shift *k = &a->shifts[i];
        const dd_travel *t = dd_adjust_travel(&a->trailer, k->support, k->direction);
        char part[96];
        dd_adjust_part(a, k->support, part, sizeof part);
        dd_reporter_words(r, "%s", part);
        dd_reporter_words(r, "%s", ways[k->direction][0]);
        dd_reporter_value(r, t->ends[0]);
        dd_reporter_value(r, t->ends[1]);
        dd_reporter_value(r, k->step);
        dd_reporter_value(r, s->by[i]);
    }
}

static void put_loads(const dd_adjusting *a, const dd_adjusted *f, dd_reporter *r)
{
    dd_reporter_table(r, "adjusted", "Loads before and after", DD_REPORT_BRIEF);
    dd_reporter_column(r, "support", "", 0, "name of the support");
    dd_reporter_column(r, "load before", "kN", 2, "all its rollers together, as it stands");
    dd_reporter_column(r, "after", "kN", 2, "the same as adjusted");
    dd_reporter_column(r, "one roller before", "kN", 2, "or one skid, at the worst of the height tolerance, as it stands");
    dd_reporter_column(r, "one roller after", "kN", 2, "the same as adjusted");
    dd_reporter_column(r, "use before", "%", 0, "of the rated load, or where none is given of the load at which it has its squash");
    dd_reporter_column(r, "use after", "%", 0, "the same as adjusted");
    for (int k = 0; k < a->trailer.support_count; k++) {
        if (f->before.worst[k] == 0 && f->now.worst[k] == 0) continue;
        const double row[] = {f->before.load[k], f->now.load[k], f->before.worst[k], f->now.worst[k], f->before.use[k], f->now.use[k]};
        dd_reporter_words(r, "%s", a->trailer.supports[k].name);
        for (int i = 0; i < 6; i++) dd_reporter_value(r, row[i]);
    }
}

typedef struct asked_row {
    const char *name, *unit;
    int decimals;
    double limit, before, now;
    bool least;
} asked_row;

/* "zone without rollers, tank": its name, or where it is. */
static void name_requirement(const dd_requirement *q, dd_reporter *r, char *text, size_t size)
{
    static const char *const names[] = {[DD_REQUIRE_NO_ROLLERS] = "zone without rollers", [DD_REQUIRE_TRANSOM] = "transom to the nearest support",
                                        [DD_REQUIRE_BULKHEAD] = "bulkhead to the nearest support", [DD_REQUIRE_OVERHANG] = "transom past the last support",
                                        [DD_REQUIRE_PRESSURE] = "pressure of a roller at worst"};
    const bool zone = q->kind == DD_REQUIRE_NO_ROLLERS, placed = zone || q->kind == DD_REQUIRE_BULKHEAD;
    char at[DD_REPORTER_TEXT];
    dd_text(text, size, "%s%s%s", names[q->kind], placed ? ", " : "",
            !placed ? "" : q->name[0] != '\0' ? q->name : dd_reporter_quantity(r, zone ? q->from : q->at, "m", 2, at));
}

static void put_requirement(const dd_requirement *q, double before, double now, dd_reporter *r)
{
    const bool least = q->kind == DD_REQUIRE_NO_ROLLERS, pressure = q->kind == DD_REQUIRE_PRESSURE;
    const double limit = least ? 0 : pressure ? q->most : q->within, values[] = {before, now};
    char text[DD_REPORTER_TEXT], name[96];
    name_requirement(q, r, name, sizeof name);
    dd_reporter_words(r, "%s", name);
    dd_reporter_words(r, "%s %s", least ? "least" : "most", dd_reporter_quantity(r, limit, pressure ? "kPa" : "mm", 0, text));
    for (int i = 0; i < 2; i++)
        dd_reporter_words(r, "%s", isnan(values[i]) ? "not known" : dd_reporter_quantity(r, values[i], pressure ? "kPa" : "mm", 0, text));
    dd_reporter_words(r, "%s", isnan(now) ? "not checked" : (least ? now >= limit : now <= limit) ? "yes" : "no");
}

static void put_asked(const dd_adjusting *a, const dd_adjusted *f, dd_reporter *r)
{
    const dd_seating *s = &a->scenario->seating;
    double most[2] = {0}, rated[2] = {0};
    for (int k = 0; k < a->trailer.support_count; k++)
        for (int i = 0; i < 2; i++) {
            const dd_seat_outcome *o = i == 0 ? &f->before : &f->now;
            most[i] = fmax(most[i], o->point[k]);
            if (!isnan(a->trailer.supports[k].rated_load)) rated[i] = fmax(rated[i], o->worst[k] / a->trailer.supports[k].rated_load);
        }
    const double ball = fmin(isnan(a->trailer.coupling_rating) ? INFINITY : a->trailer.coupling_rating,
                             isnan(a->scenario->vehicle.tow_ball_rating) ? INFINITY : a->scenario->vehicle.tow_ball_rating * a->base.gravity);
    const asked_row rows[] = {
        {"one roller at worst, of its rated load", "%", 0, a->asked[DD_ASK_RATED] ? 1 : NAN, rated[0], rated[1], false},
        {"one roller at worst, on the hull", "kN", 2, s->greatest_roller_load, most[0], most[1], false},
        {"keel's share at least, over the tolerance", "%", 0, s->least_keel_share, f->before.keel_least, f->now.keel_least, true},
        {"keel's share at most, over the tolerance", "%", 0, a->asked[DD_ASK_SIDES] ? 0.98 : NAN, f->before.keel_most, f->now.keel_most, false},
        {"coupling's share", "%", 1, s->least_coupling_share, f->before.coupling, f->now.coupling, true},
        {"coupling's share", "%", 1, s->greatest_coupling_share, f->before.coupling, f->now.coupling, false},
        {"load on the coupling", "N", 0, isfinite(ball) ? ball : NAN, f->before.coupling_load, f->now.coupling_load, false},
        {"clearance from strakes and chine", "mm", 0, a->asked[DD_ASK_CLEAR] ? s->clearance : NAN, f->before.clearance, f->now.clearance, true},
    };
    dd_reporter_table(r, "asked", "What is asked, before and after", DD_REPORT_BRIEF);
    dd_reporter_column(r, "asked", "", 0, "which requirement");
    dd_reporter_column(r, "limit", "", 0, "what is asked");
    dd_reporter_column(r, "before", "", 0, "as it stands");
    dd_reporter_column(r, "after", "", 0, "as adjusted");
    dd_reporter_column(r, "met", "", 0, "as adjusted");
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[DD_REPORTER_TEXT];
        const asked_row *row = &rows[i];
        if (isnan(row->limit)) continue;
        dd_reporter_words(r, "%s", row->name);
        dd_reporter_words(r, "%s %s", row->least ? "least" : "most", dd_reporter_quantity(r, row->limit, row->unit, row->decimals, text));
        dd_reporter_words(r, "%s", dd_reporter_quantity(r, row->before, row->unit, row->decimals, text));
        dd_reporter_words(r, "%s", dd_reporter_quantity(r, row->now, row->unit, row->decimals, text));
        dd_reporter_words(r, "%s", (row->least ? row->now >= row->limit : row->now <= row->limit) ? "yes" : "no");
    }
    for (int i = 0; i < s->requirement_count; i++) put_requirement(&s->requirements[i], f->before.reached[i], f->now.reached[i], r);
}

/* The requirement of a group that is missed by most; NULL: the group is none of requirements. */
static const dd_requirement *farthest_of(const dd_adjusting *a, int kind, const dd_seat_outcome *o)
{
    const dd_seating *asked = &a->scenario->seating;
    const dd_requirement *farthest = NULL;
    double most = -INFINITY;
    for (int i = 0; i < asked->requirement_count; i++) {
        const dd_requirement *q = &asked->requirements[i];
        if (dd_adjust_kind_of(q) != kind) continue;
        const double by = q->kind == DD_REQUIRE_NO_ROLLERS ? -o->reached[i] : q->kind == DD_REQUIRE_PRESSURE ? o->reached[i] / q->most : o->reached[i] - q->within;
        if (farthest == NULL || by > most) most = by, farthest = q;
    }
    return farthest;
}

/* "of the least keel share then 62 % are reached" */
static void say_reached(const dd_adjusting *a, int kind, const dd_seat_outcome *o, dd_reporter *r, char *text, size_t size)
{
    char quantity[DD_REPORTER_TEXT];
    const dd_requirement *q = farthest_of(a, kind, o);
    if (q != NULL) {
        char name[96];
        const double reached = o->reached[q - a->scenario->seating.requirements];
        name_requirement(q, r, name, sizeof name);
        dd_text(text, size, "%s then: %s", name, isnan(reached) ? "not known" : dd_reporter_quantity(r, reached, q->kind == DD_REQUIRE_PRESSURE ? "kPa" : "mm", 0, quantity));
        return;
    }
    double most = 0, rated = 0;
    for (int k = 0; k < a->trailer.support_count; k++) {
        most = fmax(most, o->point[k]);
        if (!isnan(a->trailer.supports[k].rated_load)) rated = fmax(rated, o->worst[k] / a->trailer.supports[k].rated_load);
    }
    if (kind == DD_ASK_RATED) dd_text(text, size, "a roller then bears up to %.0f %% of its rated load", 100 * rated);
    if (kind == DD_ASK_HULL) dd_text(text, size, "a roller then bears up to %s", dd_reporter_quantity(r, most, "kN", 2, quantity));
    if (kind == DD_ASK_KEEL) dd_text(text, size, "the keel then carries %.0f %% at least", 100 * o->keel_least);
    if (kind == DD_ASK_SIDES) dd_text(text, size, "the sides then carry %.1f %% at least", 100 * (1 - o->keel_most));
    if (kind == DD_ASK_CLEAR) dd_text(text, size, "the least clearance then is %s", dd_reporter_quantity(r, o->clearance, "mm", 0, quantity));
    if (kind == DD_ASK_COUPLING) dd_text(text, size, "the coupling then carries %.1f %%", 100 * o->coupling);
}

/* Which requirement to drop; nothing where all is met. */
static void put_why_not(const dd_adjusting *a, const dd_adjusted *f, dd_reporter *r)
{
    double sum = 0;
    int helping = 0;
    for (int i = 0; i < DD_ASK_KINDS; i++) sum += f->now.miss[i];
    if (sum == 0) return;
    dd_reporter_table(r, "unmet", "No setting within these travels meets all that is asked", DD_REPORT_WHOLE);
    dd_reporter_column(r, "missed", "", 0, "what is asked and not met by the list, which misses least");
    dd_reporter_column(r, "drop it", "", 0, "whether some setting then meets all else");
    dd_reporter_column(r, "what it comes to", "", 0, "of the best setting without it");
    for (int i = 0; i < DD_ASK_KINDS; i++) {
        char reached[160] = "";
        if (!f->dropped[i].asked) continue;
        say_reached(a, i, &f->dropped[i].outcome, r, reached, sizeof reached);
        dd_reporter_words(r, "%s", dd_asked_names[i]);
        dd_reporter_words(r, "%s", f->dropped[i].helps ? "all else is met" : "does not help");
        dd_reporter_words(r, "%s", f->dropped[i].helps ? reached : "");
        helping += f->dropped[i].helps;
    }
    if (helping == 0) dd_reporter_table_note(r, "No single requirement dropped lets the others be met: more travel, or other supports, are needed.");
}

void dd_adjust_tell(const dd_adjusting *a, const dd_adjusted *f, const dd_case *adjusted, dd_reporter *r)
{
    char tolerance[DD_REPORTER_TEXT];
    const int count = put_list(a, &f->setting, &adjusted->trailer, r);
    put_why_not(a, f, r);
    put_travels(a, &f->setting, r);
    put_asked(a, f, r);
    put_loads(a, f, r);
    dd_reporter_quantity(r, a->tolerance, "mm", 0, tolerance);
    if (count == 0)
        dd_reporter_headline(r, "Nothing to shift: no setting within its travels was found that is better than the one as it stands.");
    else
        dd_reporter_headline(r, "Adjusted by %d %s: the most used roller bears %.0f %% of its load at the worst of %s of height, %.0f %% before.", count,
                             count == 1 ? "shift" : "shifts", 100 * f->now.greatest, tolerance, 100 * f->before.greatest);
    if (count > 0)
        dd_reporter_note(r, "Loads, checks and pictures are of the rig as adjusted. Shift nothing under load: take the boat's weight off first, and measure again with it home.");
}
