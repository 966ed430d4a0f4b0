/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stop with every brake system side by side, dry and wet: one line each, the details, where the energy went, the course over time. */
#include "lib/base/numbers.h"
#include "lib/study/brake.h"
#include <math.h>
#include <string.h>

enum { MOMENTS = 160 };
static const char *const roads[DD_ROADS] = {"dry", "wet"};
static const char *const axle_names[DD_BRAKE_AXLES] = {"front", "rear", "trailer 1", "trailer 2", "trailer 3", "trailer 4"};

static dd_status stop_all(dd_brake *b, dd_error *error)
{
    for (int wet = 0; wet < DD_ROADS; wet++)
        for (int i = 0; dd_brake_kind_at(i) != NULL; i++) {
            const dd_stop_asked asked = dd_brake_asked(b, dd_brake_kind_at(i), wet);
            dd_status status = dd_brake_stop(b->rig, &asked, &b->stops[wet][i], error);
            if (status != DD_OK) return status;
        }
    return DD_OK;
}

static double reaction(const dd_brake *b) { return b->scenario->braking.reaction_time * b->scenario->braking.speed; }

static const dd_brake_kind *fitted_kind(const dd_brake *b) { return dd_brake_kind_fitted(b->scenario->trailer.brakes.fitted); }

static const char *name_of(const dd_brake *b, const dd_brake_kind *kind, char text[64])
{
    dd_text(text, 64, "%s%s", kind->name, dd_brake_is_fitted(b, kind) ? " *" : "");
    return text;
}

/* "trailer 1, rear" in the order in which they stood; "none". */
static void lock_order(const dd_stop *s, char *text, size_t size)
{
    bool told[DD_BRAKE_AXLES] = {false};
    text[0] = '\0';
    for (int n = 0; n < s->axle_count; n++) {
        int first = -1;
        for (int i = 0; i < s->axle_count; i++)
            if (!told[i] && !isnan(s->locked[i]) && (first < 0 || s->locked[i] < s->locked[first])) first = i;
        if (first < 0) break;
        told[first] = true;
        const size_t used = strlen(text);
        dd_text(text + used, size - used, "%s%s", used > 0 ? ", " : "", axle_names[first]);
    }
    if (text[0] == '\0') dd_text(text, size, "none");
}

/* Whose wheels stand, in a word. */
static const char *what_stands(const dd_stop *s)
{
    bool own = !isnan(s->locked[0]) || !isnan(s->locked[1]), trailer = false;
    for (int a = 2; a < s->axle_count; a++) trailer = trailer || !isnan(s->locked[a]);
    return own && trailer ? "both" : own ? "vehicle" : trailer ? "trailer" : "none";
}

/* What the trailer's brakes took of what all brakes and tyres took. */
static double trailer_share(const dd_stop *s)
{
    const double brakes = s->heat[DD_HEAT_FRONT] + s->heat[DD_HEAT_REAR] + s->heat[DD_HEAT_TRAILER];
    return brakes > 0 ? s->heat[DD_HEAT_TRAILER] / brakes : NAN;
}

static void add_brief(const dd_brake *b)
{
    dd_reporter *r = b->report;
    char text[96];
    dd_reporter_table(r, "stops", "Stopping, from the sight of the danger to rest", DD_REPORT_WHOLE);
    dd_reporter_column(r, "trailer brakes", "", 0, "system; of each the figures given or usual");
    dd_reporter_column(r, "dry", "m", 1, "distance on the dry road, reaction included");
    dd_reporter_column(r, "wet", "m", 1, "distance on the wet road, reaction included");
    dd_reporter_column(r, "slows dry", "m/s2", 2, "mean deceleration on the dry road, brakes on to rest");
    dd_reporter_column(r, "push dry", "N", 0, "greatest force of the trailer on the ball, forward");
    dd_reporter_column(r, "ball most", "N", 0, "greatest load on the ball, dry");
    dd_reporter_column(r, "own share", "%", 0, "of the heat of all brakes, dry");
    dd_reporter_column(r, "wet locks", "", 0, "whose wheels stood on the wet road");
    for (int i = 0; dd_brake_kind_at(i) != NULL; i++) {
        const dd_stop *dry = &b->stops[0][i], *wet = &b->stops[1][i];
        dd_reporter_words(r, "%s", name_of(b, dd_brake_kind_at(i), text));
        dd_reporter_value(r, dry->distance + reaction(b));
        dd_reporter_value(r, wet->distance + reaction(b));
        dd_reporter_value(r, dry->mean_deceleration);
        dd_reporter_value(r, dry->most_push);
        dd_reporter_value(r, dry->most_coupling);
        dd_reporter_value(r, trailer_share(dry));
        dd_reporter_words(r, "%s", what_stands(wet));
    }
    char speed[DD_REPORTER_TEXT], way[DD_REPORTER_TEXT];
    dd_reporter_table_note(r, "From %s after %.1f s of reaction (%s); grade %.1f %%; %s. Ball most: in passing, as it brakes; a coupling's plate is for the load that stands.",
                           dd_reporter_quantity(r, b->scenario->braking.speed, "km/h", 0, speed), b->scenario->braking.reaction_time,
                           dd_reporter_quantity(r, reaction(b), "m", 1, way), 100 * tan(b->scenario->braking.grade),
                           fitted_kind(b) != NULL ? "* fitted" : "which one is fitted is not stated");
}

static void add_details(const dd_brake *b)
{
    dd_reporter *r = b->report;
    char text[96];
    dd_reporter_table(r, "stop_details", "Stopping, in detail", DD_REPORT_LONG);
    dd_reporter_column(r, "stop", "", 0, "brake system and road");
    dd_reporter_column(r, "distance", "m", 1, "from the brakes to rest");
    dd_reporter_column(r, "time", "s", 2, "from the brakes to rest");
    dd_reporter_column(r, "mean", "m/s2", 2, "speed squared over twice the distance");
    dd_reporter_column(r, "most", "m/s2", 2, "greatest deceleration");
    dd_reporter_column(r, "engages", "s", 2, "when the trailer's brakes first give 2 % of its weight");
    dd_reporter_column(r, "pull most", "N", 0, "greatest pull of the trailer on the ball");
    dd_reporter_column(r, "coupling least", "N", 0, "least load on the ball");
    dd_reporter_column(r, "coupling travel", "mm", 0, "how far the coupling is pushed in");
    dd_reporter_column(r, "nose down", "deg", 2, "most that the vehicle's body nods; springs estimated, no anti-dive");
    dd_reporter_column(r, "grip front", "%", 0, "greatest use of the tyres' grip");
    dd_reporter_column(r, "grip rear", "%", 0, "greatest use of the tyres' grip");
    dd_reporter_column(r, "grip trailer", "%", 0, "greatest use of the tyres' grip, worst axle");
    dd_reporter_column(r, "locks", "", 0, "axles whose wheels stood, in order");
    for (int wet = 0; wet < DD_ROADS; wet++)
        for (int i = 0; dd_brake_kind_at(i) != NULL; i++) {
            const dd_stop *s = &b->stops[wet][i];
            double trailer = 0;
            for (int a = 2; a < s->axle_count; a++) trailer = fmax(trailer, s->used[a]);
            dd_reporter_words(r, "%s, %s", dd_brake_kind_at(i)->name, roads[wet]);
            const double values[] = {s->distance, s->time, s->mean_deceleration, s->most_deceleration, s->engaged, s->most_pull, s->least_coupling,
                                     s->most_squeeze, s->most_nose_down, s->used[0], s->used[1], trailer};
            for (size_t v = 0; v < sizeof values / sizeof values[0]; v++) dd_reporter_value(r, values[v]);
            lock_order(s, text, sizeof text);
            dd_reporter_words(r, "%s", text);
        }
    dd_reporter_table_note(r, "Lateral margin: an axle that uses all its grip along the road has none left across it.");
}

static void add_energy(const dd_brake *b)
{
    static const char *const names[DD_HEATS] = {"front brakes", "rear brakes", "trailer brakes", "tyre slip", "rolling", "air", "dampers"};
    dd_reporter *r = b->report;
    dd_reporter_table(r, "energy", "Where the energy went", DD_REPORT_LONG);
    dd_reporter_column(r, "stop", "", 0, "brake system and road");
    dd_reporter_column(r, "lost", "kJ", 1, "kinetic and potential energy lost, less what springs hold at the end");
    for (int h = 0; h < DD_HEATS; h++) dd_reporter_column(r, names[h], "kJ", 1, "heat");
    dd_reporter_column(r, "unaccounted", "", 9, "share of the kinetic energy at the start that the sums miss");
    for (int wet = 0; wet < DD_ROADS; wet++)
        for (int i = 0; dd_brake_kind_at(i) != NULL; i++) {
            const dd_stop *s = &b->stops[wet][i];
            dd_reporter_words(r, "%s, %s", dd_brake_kind_at(i)->name, roads[wet]);
            dd_reporter_value(r, s->lost / 1000);
            for (int h = 0; h < DD_HEATS; h++) dd_reporter_value(r, s->heat[h] / 1000);
            dd_reporter_value(r, s->residual);
        }
}

/* The course at a time, between the samples. */
static dd_stop_sample at_time(const dd_stop *s, double time)
{
    for (int i = 1; i < s->sample_count; i++) {
        const dd_stop_sample *a = &s->samples[i - 1], *c = &s->samples[i];
        if (time > c->time) continue;
        const double x = (time - a->time) / (c->time - a->time);
        dd_stop_sample m = *a;
        m.distance += x * (c->distance - a->distance);
        m.speed += x * (c->speed - a->speed);
        m.push += x * (c->push - a->push);
        for (int k = 0; k < DD_BRAKE_AXLES; k++) m.slip[k] += x * (c->slip[k] - a->slip[k]);
        return m;
    }
    dd_stop_sample last = s->samples[s->sample_count - 1];
    last.distance = s->stopped ? s->distance : last.distance;
    last.speed = s->stopped ? 0 : last.speed;
    last.push = 0;
    for (int k = 0; k < DD_BRAKE_AXLES && s->stopped; k++) last.slip[k] = 0; /* wheels of a rig that stands */
    return last;
}

static void add_course(const dd_brake *b, int wet)
{
    dd_reporter *r = b->report;
    char key[32], title[64], name[48];
    double longest = 0, worst;
    for (int i = 0; dd_brake_kind_at(i) != NULL; i++)
        longest = fmax(longest, b->stops[wet][i].samples[b->stops[wet][i].sample_count - 1].time);
    dd_text(key, sizeof key, "course_%s", roads[wet]);
    dd_text(title, sizeof title, "The stop over time, %s road", roads[wet]);
    dd_reporter_table(r, key, title, DD_REPORT_DRAWN);
    dd_reporter_column(r, "time", "s", 3, "since the brakes came on");
    for (int i = 0; dd_brake_kind_at(i) != NULL; i++) {
        static const struct {
            const char *what, *unit, *help;
        } of[] = {{"speed", "km/h", "of the rig"}, {"distance", "m", "since the brakes came on"}, {"push", "N", "of the trailer on the ball"},
                  {"front slip", "", "of the vehicle's front wheels"}, {"rear slip", "", "of its rear wheels"}, {"trailer slip", "", "of the trailer's wheels, worst axle"}};
        for (size_t k = 0; k < sizeof of / sizeof of[0]; k++) {
            dd_text(name, sizeof name, "%s %s", of[k].what, dd_brake_kind_at(i)->name);
            dd_reporter_column(r, name, of[k].unit, 3, of[k].help);
        }
    }
    for (int m = 0; m <= MOMENTS; m++) {
        const double time = longest * m / MOMENTS;
        dd_reporter_value(r, time);
        for (int i = 0; dd_brake_kind_at(i) != NULL; i++) {
            const dd_stop *s = &b->stops[wet][i];
            const dd_stop_sample at = at_time(s, time);
            worst = 0;
            for (int a = 2; a < s->axle_count; a++) worst = fmax(worst, at.slip[a]);
            dd_reporter_value(r, at.speed);
            dd_reporter_value(r, at.distance);
            dd_reporter_value(r, at.push);
            dd_reporter_value(r, at.slip[0]);
            dd_reporter_value(r, at.slip[1]);
            dd_reporter_value(r, worst);
        }
    }
}

/* "without brakes", "with overrun brakes". */
static const char *with_brakes(const dd_brake_kind *kind, char text[64])
{
    dd_text(text, 64, kind->fitted == DD_FITTED_NONE ? "without brakes" : "with %s brakes", kind->name);
    return text;
}

#define STRONG_PUSH 0.3 /* of the trailer's weight */
static const char folds[] = "in a bend that folds the rig (jack-knife)";

/* Of the brakes that are fitted: whether they bring the rig to rest, and how hard the trailer pushes. */
static void check_stop(const dd_brake *b, const dd_stop *s, const char *road)
{
    dd_reporter *r = b->report;
    dd_check check = dd_check_of(DD_BRAKE_STOPPING, NULL, s->most_push, STRONG_PUSH * b->loaded.mass * b->scenario->gravity, "N", "push of a trailer",
                                 "push of the trailer in a stop on the %s road", road);
    check.outcome = DD_CHECK_CAUTION;
    dd_text(check.words, sizeof check.words, "%s", folds);
    dd_reporter_check(r, &check);
    if (s->stopped) return;
    check = dd_check_of(DD_BRAKE_STOPPING, NULL, 0, 1, "", "elementary mechanics", "comes to rest on the %s road", road);
    check.least = 1;
    dd_text(check.words, sizeof check.words, "the rig does not come to rest on this grade");
    dd_reporter_check(r, &check);
}

static void check_stops(const dd_brake *b)
{
    for (int wet = 0; wet < DD_ROADS; wet++)
        for (int i = 0; dd_brake_kind_at(i) != NULL; i++)
            if (dd_brake_is_fitted(b, dd_brake_kind_at(i))) check_stop(b, &b->stops[wet][i], roads[wet]);
    if (fitted_kind(b) != NULL) return;
    dd_check check = dd_check_of(DD_BRAKE_STOPPING, NULL, NAN, NAN, "m", "", "how it stops with brakes of its own");
    dd_text(check.words, sizeof check.words, b->scenario->trailer.brakes.fitted < 0 ? "give trailer.brakes.fitted" : "brakes fed by the vehicle are left out");
    dd_reporter_check(b->report, &check);
}

/* The plate is for a load that stands, the ball is loaded in passing: no check, but what exceeds it is told. */
static void say_what_the_ball_bears(const dd_brake *b)
{
    const double plate = b->scenario->trailer.coupling_rating;
    double most = 0;
    for (int wet = 0; wet < DD_ROADS; wet++)
        for (int i = 0; dd_brake_kind_at(i) != NULL; i++)
            if (fitted_kind(b) == NULL || dd_brake_is_fitted(b, dd_brake_kind_at(i))) most = fmax(most, b->stops[wet][i].most_coupling);
    char load[DD_REPORTER_TEXT], rated[DD_REPORTER_TEXT];
    if (most > plate)
        dd_reporter_note(b->report, "As it brakes the ball bears up to %s, more than the coupling's plate (%s). The plate is for the load that stands, so the two are not compared: what the coupling "
                                    "bears in passing its maker knows.", dd_reporter_quantity(b->report, most, "N", 0, load), dd_reporter_quantity(b->report, plate, "N", 0, rated));
}

static void say_cautions(const dd_brake *b)
{
    dd_reporter *r = b->report;
    const double weight = b->loaded.mass * b->scenario->gravity;
    char name[64], push[DD_REPORTER_TEXT];
    for (int wet = 0; wet < DD_ROADS; wet++)
        for (int i = 0; dd_brake_kind_at(i) != NULL; i++) {
            const dd_stop *s = &b->stops[wet][i];
            if (!dd_brake_is_fitted(b, dd_brake_kind_at(i)) && i != 0) continue;
            with_brakes(dd_brake_kind_at(i), name);
            for (int a = 2; a < s->axle_count; a++)
                if (!isnan(s->locked[a])) {
                    dd_reporter_note(r, "%s road, %s: wheels of the trailer stand; a trailer whose wheels stand swings out.", roads[wet], name);
                    break;
                }
            if (s->most_push > STRONG_PUSH * weight)
                dd_reporter_note(r, "%s road, %s: the trailer pushes with %s, %.0f %% of its weight; %s.", roads[wet], name, dd_reporter_quantity(r, s->most_push, "N", 0, push),
                                 100 * s->most_push / weight, folds);
            if (s->bottomed) dd_reporter_note(r, "%s road: the overrun coupling is at the end of its travel: more push does not brake more.", roads[wet]);
            if (s->lifted) dd_reporter_note(r, "%s road, %s: an axle of the vehicle comes off the ground: beyond this model.", roads[wet], name);
            if (!s->stopped) dd_reporter_note(r, "%s road, %s: the rig does not come to rest on this grade.", roads[wet], name);
        }
    say_what_the_ball_bears(b);
}

static void say_headline(const dd_brake *b)
{
    dd_reporter *r = b->report;
    const dd_brake_kind *fitted = fitted_kind(b);
    const dd_stop *bare = &b->stops[0][0];
    const double weight = b->loaded.mass * b->scenario->gravity;
    char push[DD_REPORTER_TEXT], speed[DD_REPORTER_TEXT];
    for (int i = 1; dd_brake_kind_at(i) != NULL; i++)
        if (dd_brake_kind_at(i) == fitted && b->stops[0][i].stopped && bare->stopped)
            dd_reporter_headline(r, "Its %s brakes stop it %.0f m shorter on the dry and %.0f m on the wet road than a trailer without brakes.", fitted->name,
                                 bare->distance - b->stops[0][i].distance, b->stops[1][0].distance - b->stops[1][i].distance);
    if (fitted != NULL && fitted->fitted != DD_FITTED_NONE) return;
    dd_reporter_headline(r, "%s the trailer pushes with %s from %s, %.0f %% of its weight%s%s.",
                         fitted != NULL ? "Without brakes" : b->scenario->trailer.brakes.fitted < 0 ? "Brakes are not stated. Without any" : "Its brakes are left out. Without any",
                         dd_reporter_quantity(r, bare->most_push, "N", 0, push), dd_reporter_quantity(r, b->scenario->braking.speed, "km/h", 0, speed), 100 * bare->most_push / weight,
                         bare->most_push > STRONG_PUSH * weight ? "; " : "", bare->most_push > STRONG_PUSH * weight ? folds : "");
}

dd_status dd_brake_stops(dd_brake *b, dd_error *error)
{
    dd_status status = stop_all(b, error);
    if (status != DD_OK) return status;
    add_brief(b);
    add_details(b);
    add_energy(b);
    for (int wet = 0; wet < DD_ROADS; wet++) add_course(b, wet);
    check_stops(b);
    say_cautions(b);
    say_headline(b);
    return DD_OK;
}
