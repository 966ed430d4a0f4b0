/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An equilibrium from a pose that is all but it: what follows a branch. */
#include "lib/base/error.h"
#include "lib/motion/search.h"
#include <string.h>

enum { MOST_STEPS = 30, MOST_KINKS = 8, MOST_HALVINGS = 12 };
#define ENOUGH 1e-7 /* of the weight: a pose alone */
#define SLOW 0.1    /* of the imbalance: what a step by an old K may leave */
#define FAR 0.03    /* of the weight: from further off a guessed K leads badly, and K is evaluated after its first step anyway */

/* The next step by an old K and what the steps since have shown of it (Broyden's method): b, the loads, becomes the step. */
static bool step_by(dd_factor *f, double steps[][DD_COORDINATES], int made, double *b)
{
    if (!dd_search_solve(f, b)) return false;
    for (int j = 0; j < made; j++) {
        double product = 0, square = 0;
        for (int c = 0; c < f->count; c++) product += steps[j][c] * b[c], square += steps[j][c] * steps[j][c];
        const double share = square > 0 ? product / square : 0;
        if (j + 1 < made)
            for (int c = 0; c < f->count; c++) b[c] += steps[j + 1][c] * share;
        else if (share < 0.9)
            for (int c = 0; c < f->count; c++) b[c] /= 1 - share;
        else
            return false;
    }
    return true;
}

/* Work that the loads would do along the step. */
static double work_of(const dd_search *s, const double load[DD_COORDINATES], const double *step)
{
    double sum = 0;
    for (int c = 0; c < s->count; c++) sum += load[s->free[c]] * step[c];
    return sum;
}

/* Where along a step the loads would drive the boat on no more, from *pose, where they do by `work`: whole steps jump over where something sets in
   or lets go. Leaves *pose and load there, evaluated. false: they drive it off more the further it goes, or the wrong way. */
static bool go_part(dd_search *s, const double *step, const dd_pose *whole, double work, dd_pose *pose, double load[DD_COORDINATES])
{
    static const double enough = 0.3, least = 0.1, sudden = 4; /* of the work; of what the interval narrows by; of the work before */
    const dd_pose from = *pose;
    double part[DD_COORDINATES], low = 0, high = 1, at_low = work, at_high = work_of(s, load, step);
    *pose = *whole;
    if (!(work > 0) || !(at_high < work)) return false;
    if (at_high > -0.5 * work) return true;
    for (int i = 0; i < MOST_HALVINGS; i++) {
        const double root = at_high < -sudden * at_low ? 0.5 : at_low / (at_low - at_high), by = low + (high - low) * fmax(least, fmin(1 - least, root));
        for (int c = 0; c < s->count; c++) part[c] = by * step[c];
        *pose = from;
        if (!dd_search_displace(s, part, pose) || dd_search_evaluate(s, pose, DD_WANT_CHANNELS) != 0) return false;
        (void)dd_search_left(s, load);
        const double now = work_of(s, load, step);
        if (fabs(now) <= enough * work) return true;
        if (now > 0)
            low = by, at_low = now;
        else
            high = by, at_high = now;
    }
    return false;
}

/* The search under way. */
typedef struct glide {
    double K[DD_COORDINATES][DD_COORDINATES];
    dd_factor f;
    double load[DD_COORDINATES], steps[MOST_STEPS][DD_COORDINATES];
    int made;     /* steps since K */
    double left, at_K; /* imbalance, and where K was taken; infinite: K is a guess */
} glide;

static bool renew(dd_search *s, const dd_pose *pose, glide *g)
{
    g->left = g->at_K = dd_search_look(s, pose, g->load, g->K);
    g->made = 0;
    return isfinite(g->left) && dd_search_factorise(s, g->K, &g->f);
}

static bool start(dd_search *s, const dd_pose *pose, const double (*near)[DD_COORDINATES], glide *g)
{
    g->made = 0;
    if (near == NULL) return renew(s, pose, g);
    memcpy(g->K, near, sizeof g->K);
    g->at_K = INFINITY;
    g->left = dd_search_evaluate(s, pose, DD_WANT_CHANNELS) == 0 ? dd_search_left(s, g->load) : INFINITY;
    return isfinite(g->left) && dd_search_factorise(s, g->K, &g->f);
}

/* What Newton's method leaves each time where the balance is to just touch something, which sets in from nothing by the square: each step goes half of
   the way. Nearly twice the step goes nearly all of it, and stays on the side where it touches. */
#define QUARTER 0.25
#define NEARLY_TWICE 1.9

/* From a pose that is all but it: K there, or what it is guessed to be, then plain evaluations while they lead on quickly, until the imbalance
   is below enough; where `whole`, with K at the end. Where something sets in or lets go, the imbalance may rise on the way to it: there the step
   goes to where the loads drive it no more. Leaves the pose, the evaluation with channels there, and in g K of a pose close by. false: it gave up. */
static bool seek(dd_search *s, dd_pose *pose, double enough, bool whole, const double (*near)[DD_COORDINATES], glide *g)
{
    double rate = near != NULL ? SLOW : SLOW * SLOW; /* what a step leaves of the imbalance */
    int patience = MOST_KINKS;
    bool slow = false;    /* K has to be new at each step */
    bool touches = false; /* a step by a new K leaves a quarter */
    if (!start(s, pose, near, g)) return false;
    dd_search_rounding(s, g->K);
    for (int i = 0; i < MOST_STEPS && g->left >= enough; i++) {
        double *step = g->steps[g->made];
        const dd_pose from = *pose;
        const double before = g->left;
        for (int c = 0; c < s->count; c++) step[c] = g->load[s->free[c]];
        bool leads = step_by(&g->f, g->steps, g->made, step);
        for (int c = 0; c < s->count && touches; c++) step[c] *= NEARLY_TWICE;
        leads = leads && dd_search_displace(s, step, pose);
        const double work = work_of(s, g->load, step);
        const bool far = i == 0 && whole && near != NULL && g->left > FAR;
        if (!leads) {
            g->left = INFINITY;
        } else if (slow || far || (whole && before * rate < enough)) { /* or likely the last one */
            if (!renew(s, pose, g)) return false;
            touches = slow && (touches ? g->left < SLOW * before : fabs(g->left / before - QUARTER) < 0.1 * QUARTER);
            slow = touches || g->left > SLOW * before;
        } else {
            g->made++;
            g->left = dd_search_evaluate(s, pose, DD_WANT_CHANNELS) == 0 ? dd_search_left(s, g->load) : INFINITY;
        }
        if (!(g->left < 0.5 * before)) {
            const dd_pose there = *pose;
            *pose = from;
            if (patience-- == 0) return false;
            if (!isinf(g->at_K) && (!isfinite(g->left) || !go_part(s, step, &there, work, pose, g->load))) return false;
            if (!renew(s, pose, g)) return false; /* in place of a guess, too */
            rate = SLOW * SLOW;
            slow = touches = false;
        } else if (g->left > SLOW * before && g->left >= enough && g->made > 0) { /* a newer K is worth its while */
            slow = g->made == 1 && isfinite(g->at_K);
            if (!renew(s, pose, g)) return false;
            rate = SLOW * SLOW;
        } else {
            rate = g->left / before;
        }
    }
    if (whole && !(g->at_K < fmax(ENOUGH, s->balanced)) && !renew(s, pose, g)) return false;
    return g->left < fmax(enough, s->balanced);
}

double dd_pose_distance(const dd_pose *a, const dd_pose *b, double arm)
{
    const dd_quaternion p = a->attitude, q = b->attitude;
    const double dot = p.w * q.w + p.x * q.x + p.y * q.y + p.z * q.z,
                 sizes = sqrt((p.w * p.w + p.x * p.x + p.y * p.y + p.z * p.z) * (q.w * q.w + q.x * q.x + q.y * q.y + q.z * q.z));
    return dd_norm(dd_sub(a->position, b->position)) + 2 * arm * acos(fmin(1.0, fabs(dot) / sizes));
}

void dd_stiffness_as(dd_stiffness_near *near, const dd_stiffness_near *from, const dd_stiffness_near *to)
{
    near->free &= from->free & to->free;
    for (int r = 0; r < DD_COORDINATES && near->free != 0; r++)
        for (int c = 0; c < DD_COORDINATES; c++) near->K[r][c] += to->K[r][c] - from->K[r][c];
}

dd_status dd_equilibrium_follow_by(dd_workspace *w, double time, const dd_pose *start, double *memory, int free_mask, bool pose_alone,
                                   const dd_stiffness_near *near, dd_equilibrium *result, dd_error *error)
{
    dd_search s;
    glide g;
    const dd_pose from = *start; /* it may be the result's, as near may */
    const bool guessed = near != NULL && near->free != 0 && (free_mask & ~near->free) == 0;
    const dd_stiffness_near guess = guessed ? *near : (dd_stiffness_near){.free = 0};
    memset(result, 0, sizeof *result);
    dd_status status = dd_search_begin(&s, w, time, &from, memory, free_mask, error);
    if (status != DD_OK) return status;
    result->pose = from;
    if (pose_alone) dd_search_narrow(&s);
    const bool found = seek(&s, &result->pose, pose_alone ? ENOUGH : DD_BALANCED, !pose_alone, guessed ? guess.K : NULL, &g);
    if (!found) {
        status = dd_search_refuse(&s, g.left, result, error);
    } else if (pose_alone) {
        result->imbalance = g.left;
        result->stable = 1;
        result->smallest_stiffness = result->roll_stiffness = NAN;
        dd_search_tangent(&s, g.K, &g.f, result);
    } else {
        dd_search_measure(&s, g.left, g.K, result);
    }
    memcpy(result->near.K, g.K, sizeof g.K);
    result->near.free = found ? free_mask : 0;
    result->near.guessed = isinf(g.at_K);
    if (s.no_memory) status = dd_fail(error, DD_ERROR_MEMORY, "dd_equilibrium_follow", "no memory for the search");
    if (s.parts && memory != NULL && status == DD_OK) memcpy(memory, s.memory, (size_t)w->system->memory_count * sizeof(double));
    dd_search_end(&s);
    return status;
}

dd_status dd_equilibrium_follow(dd_workspace *w, double time, const dd_pose *start, double *memory, int free_mask, bool pose_alone,
                                dd_equilibrium *result, dd_error *error)
{
    return dd_equilibrium_follow_by(w, time, start, memory, free_mask, pose_alone, NULL, result, error);
}
