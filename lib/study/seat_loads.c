/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loads of the supports at home: as they are likely, on a ramp, and at the worst of their height tolerance; the hull's bending. */
#include "lib/study/seat.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double steep = 0.125; /* rise over run: a usual slab */

/* What each support bears: all of it, and its most loaded roller. */
typedef struct borne {
    double all[DD_SUPPORTS], most[DD_SUPPORTS];
    double stop, strap;
} borne;

static borne borne_of(const dd_seat *s, const dd_seat_solution *solution)
{
    borne b;
    dd_seat_by_support(s, solution, b.all, &b.stop, &b.strap);
    dd_seat_greatest(s, solution, b.most, NULL);
    return b;
}

static dd_status bear(const dd_seat *s, double slope, const double *raise, borne *b, dd_seat_solution *solution, dd_error *error)
{
    dd_status status = dd_seat_solve(&s->model, dd_seat_standing(s, slope), raise, NULL, solution, error);
    if (status == DD_OK) *b = borne_of(s, solution);
    return status;
}

/* A guide beside the hull bears nothing upright and has no contact here. */
static bool carries(const dd_seat *s, int support)
{
    for (int i = 0; i < s->model.contact_count; i++)
        if (s->model.contacts[i].support == support) return true;
    return false;
}

/* What the supports hold of the weight: of a vee they press from both sides, square to it, and their loads together are more. */
static double upright_of(const dd_seat *s)
{
    const dd_vec3 down = dd_seat_standing(s, 0);
    double upright = 0;
    for (int i = 0; i < s->model.contact_count; i++)
        if (s->model.contacts[i].support >= 0) upright -= s->level.load[i] * dd_dot(s->model.contacts[i].push, down) / s->gravity;
    return upright;
}

static void put_table(const dd_seat *s, const borne *level, const borne *ramp, const double *worst)
{
    const dd_trailer_parameters *trailer = &s->scenario->trailer;
    dd_reporter *r = s->report;
    dd_reporter_table(r, "supports", "What the supports carry, boat home, standing still", 1);
    dd_reporter_column(r, "support", "", 0, "name of the support");
    dd_reporter_column(r, "load", "kN", 2, "on level ground, all its rollers together, along their own directions");
    dd_reporter_column(r, "share", "%", 0, "of the loads of all supports, square to the hull");
    dd_reporter_column(r, "on a ramp", "kN", 2, "the same on a ramp of 12.5 %, bow up");
    dd_reporter_column(r, "one roller", "kN", 2, "on level ground");
    dd_reporter_column(r, "at worst", "kN", 2, "the same with every support, and each side of a pair, within its height tolerance as loads it most");
    dd_reporter_column(r, "rated each", "kN", 2, "rated load of a roller");
    double sum = 0;
    for (int k = 0; k < trailer->support_count; k++) sum += level->all[k];
    for (int k = 0; k < trailer->support_count; k++) {
        if (!carries(s, k)) continue;
        dd_reporter_words(r, "%s", trailer->supports[k].name);
        dd_reporter_value(r, level->all[k]);
        dd_reporter_value(r, level->all[k] / sum);
        dd_reporter_value(r, ramp->all[k]);
        dd_reporter_value(r, level->most[k]);
        dd_reporter_value(r, worst[k]);
        dd_reporter_value(r, trailer->supports[k].rated_load);
    }
    const double bow[][2] = {{level->stop, ramp->stop}, {level->strap, ramp->strap}};
    const char *const names[] = {"bow stop", "winch strap"};
    for (int i = 0; i < 2; i++) {
        dd_reporter_words(r, "%s", names[i]);
        dd_reporter_value(r, bow[i][0]);
        dd_reporter_value(r, NAN);
        dd_reporter_value(r, bow[i][1]);
        for (int c = 0; c < 2; c++) dd_reporter_value(r, NAN);
        dd_reporter_value(r, i == 1 ? trailer->winch.strap_rating : NAN);
    }
    char upright[DD_REPORTER_TEXT], weight[DD_REPORTER_TEXT];
    dd_reporter_note(r, "Loads of supports are square to the hull, more together than they carry: upright they hold %s, the boat weighs %s.",
                     dd_reporter_quantity(r, upright_of(s), "kN", 2, upright), dd_reporter_quantity(r, dd_hull_mass(s->m->hull)->mass * s->gravity, "kN", 2, weight));
}

/* A support that the hull does not reach is no support: first of all the fitter wants to know that. */
static void say_what_is_idle(const dd_seat *s, const borne *level)
{
    char names[400] = "";
    for (int k = 0; k < s->scenario->trailer.support_count; k++)
        if (carries(s, k) && !(level->all[k] > 0))
            dd_text(names + strlen(names), sizeof names - strlen(names), "%s%s", *names ? ", " : "", s->scenario->trailer.supports[k].name);
    if (*names) dd_reporter_headline(s->report, "Carries nothing at home: %s.", names);
}

static void say_how_it_leans(const dd_seat *s)
{
    static const double told = 0.2; /* degrees */
    double heel, trim, heading;
    dd_attitude(&s->m->workspace->kinematics, &heel, &trim, &heading);
    heel *= 180 / M_PI;
    if (fabs(heel) < told && !s->home.gripped) return;
    char words[160];
    dd_text(words, sizeof words, "The boat does not stand upright on these supports: it leans %.1f degrees to %s.", fabs(heel), heel > 0 ? "port" : "starboard");
    dd_reporter_headline(s->report, "%s", words); /* where none is said yet */
    dd_reporter_note(s->report, "%s", words);
    if (s->home.gripped) dd_reporter_assumed(s->report, "The boat leans, and the grip of what carries it alone keeps it from sliding sideways");
}

/* One row a node of the beam. */
static void put_bending(const dd_seat *s)
{
    const dd_seat_solution *level = &s->level;
    dd_reporter *r = s->report;
    char text[2][DD_REPORTER_TEXT];
    int most = 0, least = 0;
    dd_reporter_table(r, "bending", "The hull's bending on its supports, level ground", 0);
    dd_reporter_column(r, "from transom", "m", 3, "along the keel");
    dd_reporter_column(r, "moment", "kN m", 3, "bending moment, hogging positive");
    dd_reporter_column(r, "sag", "mm", 2, "of the keel from the line through its ends, up positive");
    for (int n = 0; n < s->model.node_count; n++) {
        dd_reporter_value(r, s->model.nodes[n]);
        dd_reporter_value(r, level->moment[n]);
        dd_reporter_value(r, level->bend[n]);
        if (level->moment[n] > level->moment[most]) most = n;
        if (level->moment[n] < level->moment[least]) least = n;
    }
    dd_reporter_table_note(r, "the hull taken as %s; its own mass spread along it, the engine at the transom, the rest where it lies",
                           isfinite(s->model.bending_stiffness) ? "a beam of the bending stiffness given" : "rigid (boat.bending stiffness is not given)");
    dd_reporter_note(r, "The hull bends most by %s hogging at %.2f m and %s sagging at %.2f m from the transom.",
                     dd_reporter_quantity(r, level->moment[most], "kN m", 2, text[0]), s->model.nodes[most],
                     dd_reporter_quantity(r, -level->moment[least], "kN m", 2, text[1]), s->model.nodes[least]);
}

static void check_supports(const dd_seat *s, const double *worst, double tolerance)
{
    const dd_trailer_parameters *trailer = &s->scenario->trailer;
    const dd_seating *asked = &s->scenario->seating;
    char text[DD_REPORTER_TEXT];
    for (int k = 0; k < trailer->support_count; k++) {
        if (!carries(s, k)) continue;
        dd_check check = {.group = "supports", .value = worst[k], .limit = trailer->supports[k].rated_load, .unit = "kN", .source = "maker's plate"};
        dd_text(check.name, sizeof check.name, "one roller of %s", trailer->supports[k].name);
        dd_text(check.words, sizeof check.words, "all heights within %s, at their worst for it%s",
                dd_reporter_quantity(s->report, tolerance, "mm", 0, text), isnan(check.limit) ? "; no rated load is given" : "");
        dd_reporter_check(s->report, &check);
        if (isnan(asked->greatest_roller_load)) continue;
        check.limit = asked->greatest_roller_load;
        dd_text(check.name, sizeof check.name, "hull over one roller of %s", trailer->supports[k].name);
        dd_text(check.source, sizeof check.source, "%s", dd_seat_asker(asked, asked->roller_source));
        dd_reporter_check(s->report, &check);
    }
}

static void check_keel(const dd_seat *s)
{
    const dd_seating *asked = &s->scenario->seating;
    const double share = dd_seat_keel_share(s, &s->level);
    dd_reporter_note(s->report, "The keel carries %.0f %% of the boat; makers of hulls ask from \"most of it\" to 95 %%, and some want it on the sides.",
                     100 * share);
    dd_reporter_source(s->report, "keel share");
    dd_check check = {.group = "supports", .name = "keel share", .value = share, .limit = asked->least_keel_share, .unit = "%", .least = 1};
    dd_text(check.source, sizeof check.source, "%s", dd_seat_asker(asked, asked->keel_source));
    if (isnan(check.limit)) dd_text(check.words, sizeof check.words, "what the hull's maker asks is not given (seating.least keel share)");
    dd_reporter_check(s->report, &check);
}

dd_status dd_seat_loads(dd_seat *s, dd_error *error)
{
    const double tolerance = s->scenario->seating.height_tolerance;
    double worst[DD_SUPPORTS] = {0};
    const borne level = borne_of(s, &s->level);
    borne ramp;
    dd_seat_solution *solution = malloc(sizeof *solution);
    if (solution == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_seat", "no memory for the supports' loads");
    dd_status status = bear(s, steep, NULL, &ramp, solution, error);
    if (status == DD_OK) status = dd_seat_worst(&s->model, dd_seat_standing(s, 0), tolerance, worst, error);
    if (status == DD_OK) {
        memcpy(s->worst, worst, sizeof worst);
        memcpy(s->on_ramp.roller, ramp.most, sizeof ramp.most);
        s->on_ramp.stop = ramp.stop;
        s->on_ramp.strap = ramp.strap;
        say_what_is_idle(s, &level);
        put_table(s, &level, &ramp, worst);
        put_bending(s);
        check_supports(s, worst, tolerance);
        check_keel(s);
        dd_reporter_assumed(s->report, "Friction left out: skids and rollers that grip carry some of it along themselves");
        say_how_it_leans(s);
    }
    free(solution);
    return status;
}
