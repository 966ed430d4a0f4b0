/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a hull's maker asks of where supports bear and how hard: zones without rollers, supports near the transom and bulkheads, the
   transom past the last support, pressure of a roller. Of supports that bear at home on level ground. */
#include "lib/base/numbers.h"
#include "lib/study/seat_meet.h"
#include "lib/study/seat_pressure.h"
#include "lib/study/seat_required.h"
#include <math.h>

static const double overhang_most = 0.1; /* m, where nothing is asked: a caution */

int dd_seat_bearing_bands(const dd_seat_laid *laid, const dd_seat_model *model, const double *load, dd_seat_band bands[DD_SEAT_BANDS],
                          double borne[DD_SEAT_BANDS])
{
    int kept = 0;
    const int count = dd_seat_bands_of(laid, -1, 0, bands);
    for (int i = 0; i < count; i++) {
        const bool skid = laid->rig->rollers[bands[i].roller].skid > 0;
        double sum = 0;
        for (int k = 0; k < model->contact_count; k++) {
            const dd_seat_contact *c = &model->contacts[k];
            const bool own = skid ? c->support == bands[i].support && c->side == bands[i].side : c->roller == bands[i].roller;
            if (own) sum += load[k];
        }
        if (!(sum > 0)) continue;
        borne[kept] = sum;
        bands[kept++] = bands[i];
    }
    return kept;
}

double dd_seat_apart_from_zone(const dd_seat_band *b, const dd_requirement *q)
{
    double inner, outer;
    dd_seat_reach(b, &inner, &outer);
    if (b->side == 0) inner = 0;
    const double along = fmax(q->from - b->front, b->rear - q->to), across = fmax(q->inner - outer, inner - q->outer);
    return along > 0 && across > 0 ? sqrt(along * along + across * across) : fmax(along, across);
}

static double apart_from_place(const dd_seat_band *b, double x) { return fmax(0, fmax(b->rear - x, x - b->front)); }

double dd_seat_least_apart(const dd_seat_band *bands, int count, const dd_requirement *q, int *which)
{
    double least = NAN;
    *which = -1;
    for (int i = 0; i < count; i++) {
        const double apart = q->kind == DD_REQUIRE_NO_ROLLERS ? dd_seat_apart_from_zone(&bands[i], q)
                             : q->kind == DD_REQUIRE_OVERHANG ? fmax(0, bands[i].rear)
                                                              : apart_from_place(&bands[i], q->kind == DD_REQUIRE_TRANSOM ? 0 : q->at);
        if (*which < 0 || apart < least - 1e-9) least = apart, *which = i; /* port and starboard alike: the first */
    }
    return least;
}

static void check_place(const dd_seat *s, const dd_requirement *q, const dd_seat_band *bands, int count)
{
    static const char *const names[] = {[DD_REQUIRE_NO_ROLLERS] = "no rollers on", [DD_REQUIRE_TRANSOM] = "transom to the nearest support",
                                        [DD_REQUIRE_BULKHEAD] = "nearest support to", [DD_REQUIRE_OVERHANG] = "transom past the last support"};
    const bool zone = q->kind == DD_REQUIRE_NO_ROLLERS, named = zone || q->kind == DD_REQUIRE_BULKHEAD;
    char at[DD_REPORTER_TEXT], name[80] = "";
    int which;
    const double apart = dd_seat_least_apart(bands, count, q, &which);
    if (named && q->name[0] != '\0') dd_text(name, sizeof name, " %s", q->name);
    if (named && q->name[0] == '\0')
        dd_text(name, sizeof name, " the %s at %s", zone ? "zone" : "bulkhead", dd_reporter_quantity(s->report, zone ? q->from : q->at, "m", 2, at));
    for (char *c = name; *c != '\0'; c++)
        if (*c == ',') *c = ';';
    dd_check check = dd_check_of("supports", NULL, apart, zone ? 0 : q->within, "mm", q->source, "%s%s", names[q->kind], name);
    check.least = zone;
    if (which >= 0)
        dd_text(check.words, sizeof check.words, "%s, %s from the transom%s", bands[which].name,
                dd_reporter_quantity(s->report, bands[which].rear, "m", 2, at), zone && apart < 0 ? ", bears on it" : "");
    if (zone && apart >= 0) check.value = fmax(apart, 1e-9); /* outside, however near, is met */
    dd_reporter_check(s->report, &check);
}

static void check_overhang(const dd_seat *s, const dd_seat_band *bands, int count)
{
    const dd_requirement q = {.kind = DD_REQUIRE_OVERHANG};
    int which;
    dd_check check = dd_check_of("supports", NULL, dd_seat_least_apart(bands, count, &q, &which), overhang_most, "mm", "practice", "transom past the last support");
    check.outcome = DD_CHECK_CAUTION;
    if (which < 0) return;
    dd_text(check.words, sizeof check.words, "%s is the last; a bottom that hangs over bends into a hook", bands[which].name);
    dd_reporter_check(s->report, &check);
}

/* What a roller of a support does at a load; both NaN where hardness or width are not given. */
static dd_patch patch_of(const dd_support *k, double load)
{
    if (isnan(k->durometer) || isnan(k->contact_width)) return (dd_patch){NAN, NAN};
    return dd_roller_patch_of(load, k->contact_width, 0.5 * k->roller_diameter, k->durometer);
}

double dd_seat_peak_pressure(const dd_support *k, double load) { return patch_of(k, load).peak; }

static void put_pressure(const dd_seat *s, const double *level)
{
    const dd_trailer_parameters *t = &s->scenario->trailer;
    dd_reporter *r = s->report;
    dd_reporter_table(r, "pressure", "Pressure of the rollers on the hull", DD_REPORT_LONG);
    dd_reporter_column(r, "support", "", 0, "name of the support");
    dd_reporter_column(r, "load", "kN", 2, "of its most loaded roller, level ground");
    dd_reporter_column(r, "contact", "mm", 1, "how long its contact is then, along the hull");
    dd_reporter_column(r, "peak", "kPa", 0, "pressure in the middle of the contact; the mean is 0.79 of it");
    dd_reporter_column(r, "load at worst", "kN", 2, "heights at the worst of their tolerance");
    dd_reporter_column(r, "contact at worst", "mm", 1, "the same at that load");
    dd_reporter_column(r, "peak at worst", "kPa", 0, "the same at that load");
    for (int k = 0; k < t->support_count; k++) {
        const double loads[] = {level[k], s->worst[k]};
        if (isnan(patch_of(&t->supports[k], 1).peak)) continue;
        dd_reporter_words(r, "%s", t->supports[k].name);
        for (int i = 0; i < 2; i++) {
            const dd_patch p = patch_of(&t->supports[k], loads[i]);
            dd_reporter_value(r, loads[i]);
            dd_reporter_value(r, p.length);
            dd_reporter_value(r, p.peak);
        }
        dd_reporter_source(r, "roller pressure");
    }
    dd_reporter_table_note(r, "a solid rubber roller on a flat, stiff panel; a thin tread on a hard hub, or a sharp keel, presses harder");
}

static void check_pressure(const dd_seat *s, const dd_requirement *q, const int *contact)
{
    const dd_trailer_parameters *t = &s->scenario->trailer;
    for (int k = 0; k < t->support_count; k++) {
        if (contact[k] < 0 || t->supports[k].kind == DD_SUPPORT_SKID) continue;
        dd_check check = dd_check_of("supports", NULL, patch_of(&t->supports[k], s->worst[k]).peak, q->most, "kPa", q->source, "pressure under %s", t->supports[k].name);
        dd_text(check.words, sizeof check.words, "%s",
                isnan(check.value) ? "durometer and contact width of its rollers are not given" : "in the middle of the contact, heights at their worst");
        dd_reporter_check(s->report, &check);
    }
}

dd_status dd_seat_required(dd_seat *s, dd_error *error)
{
    (void)error;
    const dd_seating *asked = &s->scenario->seating;
    dd_seat_band bands[DD_SEAT_BANDS];
    double level[DD_SUPPORTS], borne[DD_SEAT_BANDS];
    int contact[DD_SUPPORTS];
    const dd_seat_laid laid = {s->m->rig, dd_seat_arm_angles(s->m), s->placement};
    const int count = dd_seat_bearing_bands(&laid, &s->model, s->level.load, bands, borne);
    bool overhang = false;
    dd_seat_greatest(s, &s->level, level, contact);
    put_pressure(s, level);
    for (int i = 0; i < asked->requirement_count; i++) {
        const dd_requirement *q = &asked->requirements[i];
        overhang |= q->kind == DD_REQUIRE_OVERHANG;
        if (q->kind == DD_REQUIRE_PRESSURE)
            check_pressure(s, q, contact);
        else
            check_place(s, q, bands, count);
    }
    if (!overhang) check_overhang(s, bands, count);
    return DD_OK;
}
