/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statics by descent on the energy: Newton's step with K made positive, no longer than lets the energy fall. Where supports only just
   touch, K jumps and the imbalance of a whole step grows before it falls; the energy does not. For poses that friction does not hold. */
#include "lib/base/error.h"
#include "lib/motion/search.h"
#include <gsl/gsl_linalg.h>
#include <string.h>

enum { MOST_STEPS = 80, MOST_HALVINGS = 14, MOST_SHIFTS = 12 };
static const double longest = 0.1;     /* of one step, m and rad */
static const double much = 30;         /* of the imbalance: a step that leaves that has run onto a support that only just touched, whose energy goes by the power of 2.5 */
static const double shortest = 0.1;    /* of the step before it, there */
static const double unlike = 1e-3;     /* of K's largest pivot */
static const double sufficient = 1e-4; /* of the fall that the slope promises */

static double energy_of(const dd_workspace *w)
{
    double sum = 0;
    for (int f = 0; f < w->system->force_count; f++) sum += w->loads[f].energy;
    return sum;
}

/* K is not its mirror image, by more than what Newton's method does not mind: something rubs, and the energy does not tell what that takes. */
static bool lopsided(const dd_search *s, double K[DD_COORDINATES][DD_COORDINATES])
{
    double most = 0;
    for (int i = 0; i < s->count; i++) most = fmax(most, fabs(K[s->free[i]][s->free[i]]));
    for (int r = 0; r < s->count; r++)
        for (int c = 0; c < r; c++)
            if (fabs(K[s->free[r]][s->free[c]] - K[s->free[c]][s->free[r]]) > unlike * most) return true;
    return false;
}

/* K x = load as K is, which friction and a push make unlike its mirror image. */
static bool solve_whole(const dd_search *s, double K[DD_COORDINATES][DD_COORDINATES], const double *load, double *step)
{
    dd_factor f;
    memcpy(step, load, (size_t)s->count * sizeof *step);
    return dd_search_factorise(s, K, &f) && dd_search_solve(&f, step);
}

/* The same with K's mean with its mirror image made positive by a growing share of its diagonal; where it is positive, as K is. false: it cannot be made so. */
static bool solve(const dd_search *s, double K[DD_COORDINATES][DD_COORDINATES], bool rubs, const double *load, double *step)
{
    const size_t n = (size_t)s->count;
    double a[DD_COORDINATES * DD_COORDINATES], most = 0;
    for (size_t i = 0; i < n; i++) most = fmax(most, fabs(K[s->free[i]][s->free[i]]));
    double more = 0;
    for (int t = 0; t < MOST_SHIFTS; t++, more = more > 0 ? 10 * more : 1e-9 * most) {
        for (size_t r = 0; r < n; r++)
            for (size_t c = 0; c < n; c++)
                a[r * n + c] = 0.5 * (K[s->free[r]][s->free[c]] + K[s->free[c]][s->free[r]]) + (r == c ? more : 0);
        gsl_matrix_view m = gsl_matrix_view_array(a, n, n);
        gsl_vector_const_view b = gsl_vector_const_view_array(load, n);
        gsl_vector_view x = gsl_vector_view_array(step, n);
        if (gsl_linalg_cholesky_decomp1(&m.matrix) != GSL_SUCCESS) continue;
        if (t == 0 && rubs) return solve_whole(s, K, load, step);
        return gsl_linalg_cholesky_solve(&m.matrix, &b.vector, &x.vector) == GSL_SUCCESS;
    }
    return false;
}

typedef struct place {
    dd_pose pose;
    double energy, left, load[DD_COORDINATES];
    bool as_wanted; /* what pulls was evaluated as it is wanted there */
} place;

static bool read_place(const dd_search *s, place *p)
{
    double load[DD_COORDINATES];
    p->left = dd_search_left(s, load);
    for (int i = 0; i < s->count; i++) p->load[i] = load[s->free[i]];
    p->energy = energy_of(s->workspace);
    return isfinite(p->energy);
}

static bool look(dd_search *s, place *p)
{
    return dd_search_evaluate(s, &p->pose, DD_WANT_STIFFNESS | DD_WANT_CHANNELS) == 0 && read_place(s, p);
}

/* At a place that the search goes on from: what pulls there as it is wanted, the loads with it. */
static bool ask(dd_search *s, const dd_wanted *wanted, place *at)
{
    const dd_wanted_change change = wanted != NULL ? wanted->set(at->left, wanted->context) : DD_WANTED_LITTLE;
    at->as_wanted = change != DD_WANTED_SCALED;
    return wanted == NULL || (change == DD_WANTED_ANEW ? look(s, at) : read_place(s, at));
}

static void displace(const dd_search *s, const double *step, double share, dd_pose *pose)
{
    double q[DD_COORDINATES] = {0};
    for (int i = 0; i < s->count; i++) q[s->free[i]] = share * step[i];
    dd_pose_displace(pose, q + DD_HULL_COORDINATE, q);
}

/* Where a step that ran onto a support drives it no more: from where it touches the support's load grows by the power of 1.5, its energy by that of 2.5, all other
   loads fall as K has them. slope, still: work by all loads for a whole step, where it began and where it ended after `share` of it; rise: of the energy. Share
   of that share; NaN: it is not so. */
static double touch_down(double share, double slope, double still, double rise)
{
    const double pressed = slope * (1 - share) - still, stored = rise + share * slope * (1 - 0.5 * share), touches = 1 - 2.5 * stored / (share * pressed);
    double low = touches, high = 1;
    if (!(pressed > 0 && stored > 0 && touches > 0)) return NAN;
    for (int i = 0; i < 40; i++) {
        const double on = 0.5 * (low + high);
        *(slope * (1 - share * on) > pressed * pow((on - touches) / (1 - touches), 1.5) ? &low : &high) = on;
    }
    return high;
}

/* One step downhill from *at. false: none leads further down. */
static bool step_down(dd_search *s, bool hauled, place *at)
{
    double K[DD_COORDINATES][DD_COORDINATES], step[DD_COORDINATES], slope = 0, size = 0;
    dd_stiffness(s->workspace, K);
    const bool rubs = hauled || lopsided(s, K);
    if (!solve(s, K, rubs, at->load, step)) return false;
    for (int i = 0; i < s->count; i++) slope += at->load[i] * step[i], size = fmax(size, fabs(step[i]));
    double share = size > longest ? longest / size : 1;
    for (int j = 0; j < MOST_HALVINGS; j++) {
        place next = {.pose = at->pose};
        displace(s, step, share, &next.pose);
        const bool seen = look(s, &next);
        double still = 0; /* slope at the end of the step */
        for (int i = 0; i < s->count && rubs && seen; i++) still += next.load[i] * step[i];
        const double rise = rubs ? -0.5 * share * (slope + still) : next.energy - at->energy;
        if (seen && (rise <= -sufficient * share * slope || next.left < 0.5 * at->left)) {
            *at = next;
            return true;
        }
        const bool onto = seen && next.left > much * at->left;
        const double down = onto && hauled ? touch_down(share, slope, still, next.energy - at->energy) : NAN;
        share *= down > 0 ? down : onto ? fmax(shortest, fmin(0.5, pow(0.4 * share * slope / (rise + share * slope), 2.0 / 3))) : 0.5;
    }
    return false;
}

dd_status dd_equilibrium_descend_as(dd_workspace *w, double time, dd_pose *pose, double *memory, int free_mask, double enough, const dd_wanted *wanted, dd_error *error)
{
    dd_search s;
    dd_status status = dd_search_begin(&s, w, time, pose, memory, free_mask, error);
    if (status != DD_OK) return status;
    dd_search_narrow(&s);
    place at = {.pose = *pose, .left = INFINITY};
    bool goes_on = look(&s, &at) && ask(&s, wanted, &at);
    for (int i = 0; i < MOST_STEPS && goes_on && !(at.left < enough && at.as_wanted); i++) goes_on = step_down(&s, wanted != NULL, &at) && ask(&s, wanted, &at);
    const bool found = at.left < enough && at.as_wanted;
    if (found) {
        *pose = at.pose;
        memcpy(memory, s.memory, (size_t)w->system->memory_count * sizeof(double));
    }
    dd_search_end(&s);
    return found ? DD_OK : dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "dd_equilibrium_descend", "%.3g of the weight is left unbalanced (rig x %.3f m)", at.left, pose->rig[DD_RIG_X]);
}

dd_status dd_equilibrium_descend(dd_workspace *w, double time, dd_pose *pose, double *memory, int free_mask, double enough, dd_error *error)
{
    return dd_equilibrium_descend_as(w, time, pose, memory, free_mask, enough, NULL, error);
}
