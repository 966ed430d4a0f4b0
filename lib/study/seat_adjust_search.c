/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The search for the best setting. Of every choice of heights, from several starts, two of NLopt's algorithms without derivatives go down
   by turns until neither gains; then whole steps, each shift and each pair of shifts by itself, of one support in several
   ratios, until none is better; then every shift that hardly helps is taken back. The cost has corners (the most loaded of several rollers, rollers that lift
   off), which the algorithms are chosen for, and the whole steps make the end independent of where they stopped. */
#include "lib/base/error.h"
#include "lib/study/seat_adjust.h"
#include <math.h>
#include <nlopt.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_CHOICES = 64, FEW = 24, VERY_FEW = 6, STARTS = 6 };
static const double gains = 1e-6;        /* of cost */
static const double near = 0.0005;       /* m: steps are greater */
static const double hardly = 0.03;       /* of strain: a shift that helps by less is not worth a spanner */

typedef struct search {
    dd_adjusting *a;
    nlopt_opt now;
    dd_setting best, tried;
    double least;
    int evaluations, room;
} search;

static double cost_of(search *s, const dd_setting *setting, bool thorough, dd_seat_outcome *outcome)
{
    dd_seat_outcome own;
    if (outcome == NULL) outcome = &own;
    if (!dd_adjust_judge(s->a, setting, thorough, outcome)) return NAN;
    return dd_adjust_cost(s->a, setting, outcome);
}

/* false: everything ends. */
static bool goes_on(search *s)
{
    dd_adjusting *a = s->a;
    const double share = (a->done + fmin(0.99, (double)++s->evaluations / s->room)) / (a->planned > 0 ? a->planned : 1);
    if (a->status == DD_OK && a->progress != NULL && a->progress(share, 0, a->context) != 0) a->status = DD_ERROR_CANCELLED;
    return a->status == DD_OK;
}

static double objective(unsigned count, const double *x, double *gradient, void *context)
{
    search *s = context;
    (void)gradient; /* none of the algorithms asks for it */
    for (unsigned i = 0; i < count; i++) s->tried.by[i] = x[i];
    const double cost = cost_of(s, &s->tried, false, NULL);
    if (!goes_on(s) || isnan(cost)) {
        nlopt_force_stop(s->now);
        return HUGE_VAL;
    }
    if (cost < s->least) {
        s->least = cost;
        s->best = s->tried;
    }
    return cost;
}

/* From s->best on; *least: what it came to. */
static bool descend(search *s, nlopt_algorithm algorithm, int evaluations)
{
    const dd_adjusting *a = s->a;
    double low[DD_SHIFTS], high[DD_SHIFTS], first[DD_SHIFTS], x[DD_SHIFTS], value;
    s->now = nlopt_create(algorithm, (unsigned)a->shift_count);
    if (s->now == NULL) {
        s->a->status = DD_ERROR_MEMORY;
        return false;
    }
    for (int i = 0; i < a->shift_count; i++) {
        const dd_shift *h = &a->shifts[i];
        low[i] = h->least * h->step;
        high[i] = h->most * h->step;
        first[i] = 0.25 * (high[i] - low[i]);
        x[i] = fmin(fmax(s->best.by[i], low[i]), high[i]);
    }
    s->tried = s->best;
    nlopt_set_lower_bounds(s->now, low);
    nlopt_set_upper_bounds(s->now, high);
    nlopt_set_initial_step(s->now, first);
    nlopt_set_min_objective(s->now, objective, s);
    nlopt_set_xtol_abs1(s->now, near);
    nlopt_set_maxeval(s->now, evaluations);
    const nlopt_result result = nlopt_optimize(s->now, x, &value);
    nlopt_destroy(s->now);
    if (result == NLOPT_OUT_OF_MEMORY) s->a->status = DD_ERROR_MEMORY;
    return s->a->status == DD_OK;
}

static double on_step(const dd_shift *h, double by) { return h->step * fmin(fmax(rint(by / h->step), h->least), h->most); }

/* Tries by[i] + di steps and by[j] + dj steps; true: it is better, and kept. */
static bool try_steps(search *s, bool thorough, int i, int di, int j, int dj)
{
    const dd_adjusting *a = s->a;
    dd_setting there = s->best;
    there.by[i] = on_step(&a->shifts[i], there.by[i] + di * a->shifts[i].step);
    if (dj != 0) there.by[j] = on_step(&a->shifts[j], there.by[j] + dj * a->shifts[j].step);
    if (memcmp(&there, &s->best, sizeof there) == 0) return false;
    const double cost = cost_of(s, &there, thorough, NULL);
    if (!goes_on(s) || isnan(cost) || cost >= s->least - 1e-9) return false;
    s->least = cost;
    s->best = there;
    return true;
}

/* Two shifts by as many steps, any: and of one support also one of them by two to four times as many, since up with out goes along the
   hull's slope, and of its settings those beside are all worse. */
static bool try_pair(search *s, bool thorough, int i, int j, int stride, bool any)
{
    enum { RATIOS = 4 };
    const bool same = s->a->shifts[i].support == s->a->shifts[j].support;
    bool better = false;
    for (int m = 1; m <= (same ? RATIOS : any); m++)
        for (int n = 1; n <= (same ? RATIOS : any); n++)
            for (int way = 0; way < 4; way++)
                if ((m == 1 || n == 1) && try_steps(s, thorough, i, way & 1 ? m * stride : -m * stride, j, way & 2 ? n * stride : -n * stride)) better = true;
    return better;
}

/* Whole steps until no single one, and no two together, is better. */
static bool polish(search *s, bool thorough, bool pairs)
{
    static const int strides[] = {8, 4, 2, 1};
    const int count = s->a->shift_count;
    for (int i = 0; i < count; i++) s->best.by[i] = on_step(&s->a->shifts[i], s->best.by[i]);
    s->least = cost_of(s, &s->best, thorough, NULL);
    for (int k = thorough && !pairs ? 3 : 0; k < 4 && s->a->status == DD_OK;) {
        bool better = false;
        for (int i = 0; i < count && s->a->status == DD_OK; i++)
            for (int way = -1; way <= 1; way += 2)
                while (try_steps(s, thorough, i, way * strides[k], 0, 0)) better = true;
        for (int i = 0; i < count && s->a->status == DD_OK; i++)
            for (int j = i + 1; j < count; j++)
                if (try_pair(s, thorough, i, j, strides[k], pairs)) better = true;
        if (!better) k++;
    }
    return s->a->status == DD_OK;
}

/* Takes shifts back, each that helps least first, while what is asked stays met and the loads hardly change. */
static bool shorten(search *s)
{
    const dd_adjusting *a = s->a;
    dd_seat_outcome full, outcome;
    (void)cost_of(s, &s->best, true, &full);
    for (bool shorter = true; shorter && a->status == DD_OK;) {
        int least = -1;
        double at = INFINITY;
        for (int i = 0; i < a->shift_count && a->status == DD_OK; i++) {
            if (s->best.by[i] == 0) continue;
            dd_setting without = s->best;
            without.by[i] = 0;
            const double cost = cost_of(s, &without, true, &outcome);
            if (!goes_on(s) || isnan(cost)) return false;
            const bool as_good = outcome.stands && dd_adjust_missed(a, &outcome) <= dd_adjust_missed(a, &full) + 1e-9 &&
                                 dd_adjust_strain(&outcome) <= dd_adjust_strain(&full) + hardly;
            if (as_good && cost < at) at = cost, least = i;
        }
        shorter = least >= 0;
        if (shorter) s->best.by[least] = 0;
    }
    return a->status == DD_OK;
}

/* A start that lets every support touch the hull where it lies now, squashed as if all bore alike. */
static void touch(const dd_adjusting *a, dd_setting *setting)
{
    const dd_seat_model *model = &a->base.model;
    double all = 0;
    for (int i = 0; i < model->contact_count; i++)
        if (model->contacts[i].roller >= 0) all += model->contacts[i].stiffness * pow(1e-3, model->contacts[i].exponent);
    const double squash = 1e-3 * pow(dd_hull_mass(a->base.m->hull)->mass * a->base.gravity / all, 1 / (a->scenario->seating.law == DD_LAW_LINEAR ? 1 : 1.5));
    for (int k = 0; k < a->shift_count; k++) {
        const dd_shift *h = &a->shifts[k];
        double gap = 0;
        int count = 0;
        for (int i = 0; i < model->contact_count; i++) {
            const dd_seat_contact *c = &model->contacts[i];
            if (c->support != h->support || c->roller < 0 || h->direction != DD_SHIFT_UP) continue;
            gap += c->gap / dd_dot(c->push, model->up);
            count++;
        }
        if (count > 0) setting->by[k] = on_step(h, gap / count + squash);
    }
}

/* From s->best on by both algorithms in turn until neither gains. */
static bool go_down(search *s)
{
    const int count = s->a->shift_count;
    for (double before = INFINITY; s->least < before - gains;) {
        before = s->least;
        if (!descend(s, NLOPT_LN_SBPLX, 100 + 60 * count) || !descend(s, NLOPT_LN_COBYLA, 60 + 30 * count)) return false;
    }
    return true;
}

/* Places spread over all travels: the radical inverse of the start's number by the unknown's prime (Halton 1960). */
static double spread(int start, int unknown)
{
    static const int primes[] = {2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37};
    const int base = primes[unknown % (int)(sizeof primes / sizeof primes[0])];
    double share = 0, digit = 1.0 / base;
    for (int n = start; n > 0; n /= base, digit /= base) share += n % base * digit;
    return share;
}

/* Start 0: as it stands; 1: where all touch; then places spread over all travels. All but the first go to where the likely loads are
   even before the cost itself is looked at. */
static bool begin(search *s, const dd_setting *heights, int start)
{
    dd_adjusting *a = s->a;
    s->best = *heights;
    if (start == 1) touch(a, &s->best);
    for (int i = 0; start > 1 && i < a->shift_count; i++) {
        const dd_shift *h = &a->shifts[i];
        s->best.by[i] = h->step * (h->least + spread(start - 1, i) * (h->most - h->least));
    }
    if (start > 0) {
        a->likely = true;
        s->least = cost_of(s, &s->best, false, NULL);
        const bool even = descend(s, NLOPT_LN_SBPLX, 100 + 60 * a->shift_count) && descend(s, NLOPT_LN_COBYLA, 60 + 30 * a->shift_count);
        a->likely = false;
        if (!even) return false;
    }
    s->least = cost_of(s, &s->best, false, NULL);
    return a->status == DD_OK;
}

/* The least cost with one choice of heights. */
static bool search_one(dd_adjusting *a, const dd_setting *heights, dd_setting *best, double *least)
{
    const int count = a->shift_count;
    search s = {.a = a, .best = *heights, .room = STARTS * (400 + 200 * count)};
    dd_setting kept = *heights;
    double cost = cost_of(&s, heights, false, NULL);
    for (int start = 0; start < STARTS && count > 0 && a->status == DD_OK; start++) {
        if (!begin(&s, heights, start) || !go_down(&s) || !polish(&s, false, count <= FEW)) return false;
        if (s.least < cost - gains) cost = s.least, kept = s.best;
    }
    *best = kept;
    *least = cost;
    return a->status == DD_OK;
}

bool dd_adjust_search(dd_adjusting *a, dd_setting *best, dd_seat_outcome *outcome)
{
    int combinations = 1;
    double least = INFINITY;
    const dd_setting as_it_stands = {0};
    for (int i = 0; i < a->choice_count; i++) {
        const int many = a->trailer.supports[a->choices[i]].height_setting_count;
        combinations = combinations * many <= MOST_CHOICES ? combinations * many : combinations;
    }
    *best = as_it_stands;
    for (int c = 0; c < combinations; c++) {
        dd_setting heights = {0}, found;
        double cost;
        for (int i = 0, rest = c; i < a->choice_count; i++) {
            const dd_support *k = &a->trailer.supports[a->choices[i]];
            heights.height[a->choices[i]] = 1 + rest % k->height_setting_count;
            rest /= k->height_setting_count;
        }
        if (!search_one(a, &heights, &found, &cost)) return false;
        if (cost < least - 1e-9) {
            least = cost;
            *best = found;
        }
        a->done++;
    }
    search s = {.a = a, .best = *best, .room = 1000};
    if (!polish(&s, true, a->shift_count <= VERY_FEW) || !shorten(&s)) return false;
    *best = s.best;
    return dd_adjust_judge(a, best, true, outcome);
}
