/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strength of the winch's post, and of posts, clamps, arms and cross-members under the supports, where their sections are given. What
   they bear standing still, at the worst of the heights or on a ramp, counts times the road factor; the cases of the road hold their own
   accelerations and count as they are. Each support's loads keep the proportions that they have at home, level, and grow with its most
   loaded roller. */
#include "lib/base/numbers.h"
#include "lib/rig/section.h"
#include "lib/study/seat.h"
#include <math.h>
#include <string.h>

/* What decides, over the load at home. */
typedef struct governs {
    double factor;
    char words[64];
} governs;

static void weigh_in(governs *d, double factor, const char *words)
{
    if (!(factor > d->factor)) return;
    d->factor = factor;
    dd_text(d->words, sizeof d->words, "%s", words);
}

static bool lost(const dd_held_loads *l) { return l->hold == DD_HOLD_RUNS || l->hold == DD_HOLD_TIPS; }

static bool stress_given(const dd_member *m) { return m->section >= 0 || !isnan(m->modulus); }
static bool clamped(const dd_clamp *c) { return c->bolts > 0; }

/* A member that has a section but lacks a figure that its loads need. */
static const char *lacks(const dd_member *m, const dd_member_stress *stress)
{
    if (isnan(m->length)) return "its length is not given";
    if (isnan(m->yield)) return "its yield strength is not given";
    return isnan(stress->combined) ? "a size of its section is not given" : "";
}

typedef struct line {
    char part[80], member[24];
    double force, moment, bending, shear, value, limit; /* N, N m, Pa; value and limit also N */
    bool slips;
    const char *lacks;
    char decides[64];
} line;

static void put(const dd_seat *s, const line *l)
{
    dd_reporter *r = s->report;
    const bool bad = *l->lacks != '\0';
    dd_reporter_words(r, "%s", l->part);
    dd_reporter_words(r, "%s", l->member);
    dd_reporter_value(r, l->force);
    dd_reporter_value(r, l->moment);
    dd_reporter_value(r, l->slips ? NAN : l->bending);
    dd_reporter_value(r, l->slips ? NAN : l->shear);
    dd_reporter_value(r, l->slips ? NAN : l->value);
    dd_reporter_value(r, l->slips ? NAN : l->limit);
    dd_reporter_value(r, l->value / l->limit);
    dd_reporter_words(r, "%s", bad ? l->lacks : l->decides);
}

static void check(const dd_seat *s, const line *l)
{
    const char *source = l->slips ? "elementary mechanics" : "elastic verification";
    dd_check c = dd_check_of("strength", NULL, l->value, l->limit, l->slips ? "kN" : "MPa", source, "%s%s%s", l->part, *l->part ? ": " : "", l->member);
    for (char *at = c.name; *at; at++)
        if (*at == ',') *at = ':';
    if (*l->lacks != '\0') {
        c.value = NAN;
        dd_text(c.words, sizeof c.words, "%s", l->lacks);
    } else {
        dd_text(c.words, sizeof c.words, "%s", l->decides);
    }
    dd_reporter_check(s->report, &c);
    dd_reporter_source(s->report, source);
}

static line line_of(const dd_member *m, const dd_member_load *load, const char *part, const char *member, double force, const char *decides)
{
    const dd_section section = dd_section_of(m);
    const dd_member_stress stress = dd_member_stress_of(&section, load);
    line l = {.force = force, .moment = fabs(load->moment), .bending = stress.bending, .shear = stress.shear, .value = stress.combined, .limit = m->yield,
              .lacks = lacks(m, &stress)};
    dd_text(l.decides, sizeof l.decides, "%s", decides);
    dd_text(l.part, sizeof l.part, "%s", part);
    dd_text(l.member, sizeof l.member, "%s", member);
    return l;
}

/* -- the winch's post -- */

/* Horizontal pull of strap and chain on the post, aft > 0, with what the stop pushes it forward, about its foot. */
static dd_member_load post_load(const dd_seat *s, double strap, double chain, double stop, double factor)
{
    const dd_trailer_parameters *t = &s->scenario->trailer;
    const double foot = t->winch.above_ground - t->winch.post.length;
    dd_vec3 pull = dd_vec(1, 0, 0), push = dd_vec(-1, 0, 0); /* on the post, trailer axes */
    if (s->model.first_grip > 0) pull = dd_scale(-1, dd_apply(&s->placement.to_trailer, s->model.lines[0].pull));
    for (int i = 0; i < s->model.contact_count; i++)
        if (s->model.contacts[i].support < 0) push = dd_scale(-1, dd_apply(&s->placement.to_trailer, s->model.contacts[i].push));
    const double along = strap * pull.x + chain + stop * push.x;
    dd_member_load l = {.axial = factor * (strap * pull.z + stop * push.z), .shear = factor * along};
    l.moment = factor * (strap * pull.x * t->winch.post.length + chain * (t->chain.above_ground - foot) + stop * push.x * (t->bow_stop.above_ground - foot) +
                         (strap * pull.z + stop * push.z) * t->winch.post.offset);
    l.torque = factor * fabs(along) * t->winch.post.offset;
    return l;
}

static line winch_post(const dd_seat *s)
{
    const dd_member *m = &s->scenario->trailer.winch.post;
    const double factor = s->scenario->seating.road_factor;
    double strap, stop;
    dd_seat_by_support(s, &s->level, NULL, &stop, &strap);
    dd_member_load load = post_load(s, strap, 0, stop, factor);
    line worst = line_of(m, &load, "winch post", "post", load.shear, "standing x road factor");
    for (int i = 0; i < DD_ROAD_CASES; i++) { /* the first: on a ramp */
        const dd_held_loads *h = &s->road[i];
        if (i > 0 && lost(h)) continue;
        load = i == 0 ? post_load(s, s->on_ramp.strap, 0, s->on_ramp.stop, factor) : post_load(s, h->tension[DD_LINE_STRAP], h->tension[DD_LINE_CHAIN], h->stop, 1);
        const line l = line_of(m, &load, "winch post", "post", load.shear, i == 0 ? "on a ramp x road factor" : dd_road_case_at(i)->name);
        if (l.value > worst.value || (isnan(worst.value) && l.moment > worst.moment)) worst = l;
    }
    worst.force = fabs(worst.force);
    return worst;
}

/* -- under a support -- */

/* Force of one contact on the trailer, trailer axes, and where, with the support's loads grown by a factor. */
typedef struct borne {
    dd_vec3 force;
    double y;
    int side;
} borne;

typedef struct under {
    int count;
    borne at[DD_SEAT_CONTACTS];
    governs decides;
    double up, across; /* of the side that bears more, on one of its posts */
} under;

static double most_of(const dd_seat *s, int support)
{
    double most = 0;
    for (int i = 0; i < s->model.contact_count; i++)
        if (s->model.contacts[i].support == support) most = fmax(most, s->level.load[i]);
    return most;
}

static void find_factor(const dd_seat *s, int support, double most, governs *d)
{
    const double factor = s->scenario->seating.road_factor;
    *d = (governs){.factor = 0};
    weigh_in(d, factor * s->worst[support] / most, "heights at worst x road factor");
    weigh_in(d, factor * s->on_ramp.roller[support] / most, "on a ramp x road factor");
    for (int i = 1; i < DD_ROAD_CASES; i++)
        if (!lost(&s->road[i])) weigh_in(d, s->road[i].roller[support] / most, dd_road_case_at(i)->name);
}

/* One that bears nothing at home takes its loads as even. A guide bears sideways alone, and only on the road. */
static under under_support(const dd_seat *s, int support)
{
    const dd_support *g = &s->scenario->trailer.supports[support];
    const double most = most_of(s, support);
    double up[3] = {0}, across[3] = {0};
    under u = {.count = 0};
    find_factor(s, support, most > 0 ? most : 1, &u.decides);
    for (int i = 0; i < s->model.contact_count; i++) {
        const dd_seat_contact *c = &s->model.contacts[i];
        if (c->support != support) continue;
        borne *b = &u.at[u.count++];
        b->force = dd_scale(-u.decides.factor * (most > 0 ? s->level.load[i] : 1) / g->strength.posts, dd_apply(&s->placement.to_trailer, c->push));
        b->y = s->m->rig->rollers[c->roller].centre.y;
        b->side = c->side;
        up[1 + c->side] -= b->force.z;
        across[1 + c->side] += b->force.y;
    }
    if (g->kind == DD_SUPPORT_SIDE_GUIDE) across[1] = u.decides.factor / g->strength.posts;
    for (int k = 0; k < 3; k++) {
        u.up = fmax(u.up, up[k]);
        u.across = fmax(u.across, fabs(across[k]));
    }
    return u;
}

static line cross_member(const under *u, const dd_member *m, const char *part)
{
    double y[DD_SEAT_CONTACTS], load[DD_SEAT_CONTACTS], sum = 0;
    dd_member_load l = {.axial = 0};
    for (int i = 0; i < u->count; i++) {
        y[i] = u->at[i].y;
        load[i] = -u->at[i].force.z;
        sum += load[i];
    }
    if (isnan(m->length))
        l.moment = NAN;
    else
        dd_beam_across(m->length, u->count, y, load, &l.moment, &l.shear);
    l.torque = 0.5 * sum * m->offset; /* each end takes half of it */
    return line_of(m, &l, part, "cross-member", sum, u->decides.words);
}

static line clamp(const dd_clamp *c, const char *part, double force, double moment, const char *decides)
{
    line l = {.force = force, .moment = fabs(moment), .slips = true, .lacks = ""};
    dd_text(l.decides, sizeof l.decides, "%s", decides);
    const double each = c->faces * c->friction * dd_clamp_preload(c);
    l.limit = c->bolts * each;
    l.value = dd_clamp_slip(c, force, moment);
    dd_text(l.part, sizeof l.part, "%s", part);
    dd_text(l.member, sizeof l.member, "clamp slips");
    if (isnan(each))
        l.lacks = "neither preload nor torque and bolt diameter are given";
    else if (isnan(l.value))
        l.lacks = c->bolts > 1 ? "its bolt spacing is not given" : "its face diameter is not given";
    return l;
}

static int support_lines(const dd_seat *s, int support, line lines[4])
{
    const dd_support *g = &s->scenario->trailer.supports[support];
    const dd_strength *t = &g->strength;
    const under u = under_support(s, support);
    int count = 0;
    double turns = 0; /* moment in the clamp's plane */
    if (stress_given(&t->post)) {
        const dd_member_load l = {.axial = u.up, .shear = u.across, .moment = u.across * t->post.length + u.up * t->post.offset, .torque = u.across * t->post.offset};
        lines[count++] = line_of(&t->post, &l, g->name, "post", hypot(u.up, u.across), u.decides.words);
        turns = l.moment;
    }
    if (clamped(&t->clamp)) lines[count++] = clamp(&t->clamp, g->name, hypot(u.up, u.across), turns, u.decides.words);
    if (stress_given(&t->arm)) {
        const dd_member_load l = {.axial = u.across, .shear = u.up, .moment = u.up * t->arm.length, .torque = u.up * t->arm.offset};
        lines[count++] = line_of(&t->arm, &l, g->name, "arm", hypot(u.up, u.across), u.decides.words);
    }
    if (stress_given(&t->cross_member)) lines[count++] = cross_member(&u, &t->cross_member, g->name);
    return count;
}

static void begin_table(dd_reporter *r)
{
    dd_reporter_table(r, "strength", "Strength of what carries the boat", DD_REPORT_LONG);
    dd_reporter_column(r, "of", "", 0, "winch post, or the support that it carries");
    dd_reporter_column(r, "member", "", 0, "post, arm, cross-member or clamp");
    dd_reporter_column(r, "load", "kN", 2, "that it bears where it is used most");
    dd_reporter_column(r, "moment", "N m", 0, "at its root; of a cross-member the greatest; of a clamp about its middle");
    dd_reporter_column(r, "bending", "MPa", 0, "stress from the moment");
    dd_reporter_column(r, "shear", "MPa", 0, "stress from shear and twist");
    dd_reporter_column(r, "combined", "MPa", 0, "of both, with the force along it");
    dd_reporter_column(r, "yield", "MPa", 0, "yield strength given");
    dd_reporter_column(r, "use", "%", 0, "of yield, or of what a clamp holds by friction");
    dd_reporter_column(r, "decides", "", 0, "what loads it most; or what is not given");
}

static void check_given(const dd_seat *s, int missing, const char *names)
{
    if (missing == 0) return;
    dd_check c = dd_check_of("strength", NULL, NAN, NAN, "", "elastic verification", "strength of %s", missing == 1 ? names : "posts and arms and cross-members");
    for (char *at = c.name; *at; at++)
        if (*at == ',') *at = ':';
    dd_text(c.words, sizeof c.words, "section sizes are not given: %s", names);
    dd_reporter_check(s->report, &c);
}

dd_status dd_seat_strength(dd_seat *s, dd_error *error)
{
    const dd_trailer_parameters *t = &s->scenario->trailer;
    char names[200] = "";
    int missing = 0, shown = 0;
    line lines[4];
    (void)error;
    begin_table(s->report);
    for (int k = -1; k < t->support_count; k++) {
        int count = 0;
        if (k >= 0)
            count = support_lines(s, k, lines);
        else if (stress_given(&t->winch.post))
            lines[count++] = winch_post(s);
        for (int i = 0; i < count; i++) {
            put(s, &lines[i]);
            check(s, &lines[i]);
        }
        shown += count;
        if (count > 0) continue;
        missing++;
        dd_text(names + strlen(names), sizeof names - strlen(names), "%s%s", *names ? ", " : "", k >= 0 ? t->supports[k].name : "winch post");
    }
    check_given(s, missing, names);
    if (shown == 0) return DD_OK;
    dd_reporter_table_note(s->report, "Standing still %.3g times what they bear (seating.road factor); on the road what its accelerations make of it. Elastic, sharp corners, no welds, holes or fatigue.",
                           s->scenario->seating.road_factor);
    dd_reporter_source(s->report, "road factor");
    dd_reporter_note(s->report, "Strength is by elementary beam theory on the sizes given: welds, holes, rust and fatigue are not in it; a licensed engineer signs for changes of a trailer");
    return DD_OK;
}
