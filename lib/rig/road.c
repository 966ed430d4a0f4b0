/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Least energy of a trailer on ball, tyres and springs.

   Coordinates q: the coupling's sinkage s, the trailer's pitch t (tail down > 0) and its roll r (starboard down > 0, small). A bearer
   is one side of one axle, or of all axles under a rocking beam. The beam fixes the shares w_i of its axles; by virtual work it then
   yields as one spring: its squash is d = sum w_i d_i, its softness c = sum w_i^2 / k_i. What hangs below the springs, m_i, is on the
   ground beside them: under a beam an axle carries w_i (B - g sum m) + g m_i of a bearer's load B, whose weights then count as
   standing at the beam's middle, and d shifts by c g sum m - g sum w_i m_i / k_i. With squash d_i of a wheel at the hub
   (x_i, z_h): d_i = d_0 + s + x_i sin t - z_h cos t +- r track/2, the energy is

     k s^2/2 + sum d^2/(2 c) [d > 0] - g sum m (s + x sin t - z cos t + y r),

   and its minimum by q is the balance of forces, of moments about the coupling and of moments about the centre line. */
#include "lib/rig/road.h"
#include "lib/base/error.h"
#include "lib/ode/gsl.h"
#include "lib/rig/rig.h"
#include <gsl/gsl_linalg.h>
#include <string.h>

enum { SINK, PITCH, ROLL, COORDINATES, SIDES = 2, BEARERS = 2 * DD_AXLES, ITERATIONS = 100 };
#define MOST_ROLL 0.35 /* rad: beyond it the trailer is going over */

typedef struct bearer {
    double share[DD_AXLES], softness; /* of its load on each axle; m/N */
    double own[DD_AXLES], own_sum;    /* of that load, what hangs below the springs of one side, N */
    double shift;                     /* of the squash, by what hangs below the springs, m */
    int side;                         /* 0 port, 1 starboard */
} bearer;

typedef struct standing {
    const dd_trailer_parameters *t;
    int bearer_count;
    bearer bearers[BEARERS];
    double ball_stiffness, squash_level; /* N/m; squash of a wheel when s, t and r are 0 and the hub is z_h below the coupling, less z_h */
    double hub_z;
    double weight, moment_x, moment_z, moment_y; /* N and N m: g sum m, g sum m x ... */
    double q[COORDINATES];
    double energy, slope[COORDINATES], curvature[COORDINATES][COORDINATES]; /* at q */
    double load[BEARERS];
} standing;

static double own_mass(const dd_trailer_parameters *t, int axle) { return isnan(t->axles[axle].mass) ? 0 : t->axles[axle].mass; }

static void set_bearers(standing *s, double gravity)
{
    const dd_trailer_parameters *t = s->t;
    const double squash = t->tyre_squash + t->spring_squash;
    double share[DD_AXLES], middle = 0;
    const bool beam = dd_beam_shares(t, share);
    for (int i = 0; i < t->axle_count; i++) middle += share[i] * t->axles[i].behind_coupling;
    for (int i = 0; i < t->axle_count && beam; i++) s->moment_x -= gravity * own_mass(t, i) * (t->axles[i].behind_coupling - middle);
    for (int side = 0; side < SIDES; side++)
        for (int b = 0; b < (beam ? 1 : t->axle_count); b++) {
            bearer *made = &s->bearers[s->bearer_count++];
            *made = (bearer){.side = side};
            for (int i = 0; i < t->axle_count; i++) {
                const double softness = 2 * squash / dd_axle_rated_load(t, i); /* of one wheel */
                made->share[i] = beam ? share[i] : i == b ? 1 : 0;
                made->softness += made->share[i] * made->share[i] * softness;
                if (!beam) continue;
                made->own[i] = 0.5 * gravity * own_mass(t, i);
                made->own_sum += made->own[i];
                made->shift -= made->share[i] * softness * made->own[i];
            }
            made->shift += made->softness * made->own_sum;
        }
}

/* Squash of a bearer at q and its derivatives; *bend: its second derivative by the pitch. */
static double squash_of(const standing *s, const bearer *b, double by[COORDINATES], double *bend)
{
    const double c = cos(s->q[PITCH]), n = sin(s->q[PITCH]), half = (b->side ? 0.5 : -0.5) * s->t->track;
    double middle = 0;
    for (int i = 0; i < s->t->axle_count; i++) middle += b->share[i] * s->t->axles[i].behind_coupling;
    by[SINK] = 1;
    by[PITCH] = middle * c + s->hub_z * n;
    by[ROLL] = half;
    *bend = s->hub_z * c - middle * n;
    return s->squash_level + b->shift + s->q[SINK] + middle * n - s->hub_z * c + s->q[ROLL] * half;
}

static void evaluate(standing *s)
{
    const double c = cos(s->q[PITCH]), n = sin(s->q[PITCH]);
    memset(s->curvature, 0, sizeof s->curvature);
    s->energy = 0.5 * s->ball_stiffness * s->q[SINK] * s->q[SINK] - s->weight * s->q[SINK] - s->moment_x * n + s->moment_z * c -
                s->moment_y * s->q[ROLL];
    s->slope[SINK] = s->ball_stiffness * s->q[SINK] - s->weight;
    s->slope[PITCH] = -s->moment_x * c - s->moment_z * n;
    s->slope[ROLL] = -s->moment_y;
    s->curvature[SINK][SINK] = s->ball_stiffness;
    s->curvature[PITCH][PITCH] = s->moment_x * n - s->moment_z * c;
    for (int b = 0; b < s->bearer_count; b++) {
        double by[COORDINATES], bend;
        const double d = squash_of(s, &s->bearers[b], by, &bend), softness = s->bearers[b].softness;
        s->load[b] = fmax(0, d / softness);
        if (!(d > 0)) continue;
        s->energy += 0.5 * d * s->load[b];
        for (int i = 0; i < COORDINATES; i++) {
            s->slope[i] += s->load[b] * by[i];
            for (int j = 0; j < COORDINATES; j++) s->curvature[i][j] += by[i] * by[j] / softness;
        }
        s->curvature[PITCH][PITCH] += s->load[b] * bend;
    }
}

static double unbalance(const standing *s)
{
    double most = 0;
    for (int i = 0; i < COORDINATES; i++) most = fmax(most, fabs(s->slope[i]));
    return most / s->weight;
}

/* Newton's step, shortened until the energy does not rise; false: there is none. */
static bool step(standing *s)
{
    double matrix[COORDINATES * COORDINATES], move[COORDINATES], from[COORDINATES], energy = s->energy, before = unbalance(s);
    for (int i = 0; i < COORDINATES; i++) {
        from[i] = s->q[i];
        move[i] = -s->slope[i];
        for (int j = 0; j < COORDINATES; j++) matrix[COORDINATES * i + j] = s->curvature[i][j];
    }
    gsl_matrix_view m = gsl_matrix_view_array(matrix, COORDINATES, COORDINATES);
    gsl_vector_view v = gsl_vector_view_array(move, COORDINATES);
    if (gsl_linalg_cholesky_decomp1(&m.matrix) != GSL_SUCCESS || gsl_linalg_cholesky_svx(&m.matrix, &v.vector) != GSL_SUCCESS)
        return false;
    for (double part = 1; part > 1e-6; part *= 0.5) {
        for (int i = 0; i < COORDINATES; i++) s->q[i] = from[i] + part * move[i];
        evaluate(s);
        if (s->energy < energy || unbalance(s) < before) return true;
    }
    for (int i = 0; i < COORDINATES; i++) s->q[i] = from[i];
    evaluate(s);
    return false;
}

/* The last axle at its rated squash: every wheel bears or nearly so. */
static void start(standing *s)
{
    const dd_trailer_parameters *t = s->t;
    s->q[SINK] = s->q[ROLL] = 0;
    s->q[PITCH] = (t->tyre_squash + t->spring_squash - s->squash_level + s->hub_z) / dd_axles_middle(t);
    evaluate(s);
}

static dd_status find_balance(standing *s, dd_error *error)
{
    dd_gsl_quiet();
    start(s);
    for (int i = 0; i < ITERATIONS && unbalance(s) > 1e-14; i++)
        if (!step(s) || fabs(s->q[ROLL]) > MOST_ROLL) break;
    if (unbalance(s) <= 1e-9 && fabs(s->q[ROLL]) <= MOST_ROLL) return DD_OK;
    double side = fabs(s->moment_y / s->weight), half = 0.5 * s->t->track;
    if (side > 0.5 * half)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_road_statics: trailer: track",
                       "the centre of all the trailer carries lies %.2f m aside, expected well within half the track of %.2f m: it tips over",
                       side, 2 * half);
    return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "dd_road_statics: trailer",
                   "it finds no rest on ball and axles; %.3g of its weight is left unbalanced", unbalance(s));
}

static dd_status check_load(const standing *s, double load_mass, dd_vec3 centre, dd_error *error)
{
    const dd_trailer_parameters *t = s->t;
    if (!(load_mass >= 0) || !isfinite(load_mass))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_road_statics: load mass", "found %g kg, expected 0 or more", load_mass);
    if (load_mass > 0 && !(isfinite(centre.x) && isfinite(centre.y) && centre.z > -t->coupling_height))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_road_statics: load centre",
                       "found (%g, %g, %g) m from the coupling, expected above the ground %g m below it", centre.x, centre.y, centre.z,
                       t->coupling_height);
    if (t->axle_count < 1)
        return dd_fail(error, DD_ERROR_UNSET, "dd_road_statics: trailer: axles", "not given, expected 1 to %d", (int)DD_AXLES);
    for (int i = 0; i < t->axle_count; i++)
        if (!(t->axles[i].behind_coupling > 0))
            return dd_fail(error, DD_ERROR_ARGUMENT, "dd_road_statics: trailer: axles",
                           "axle %d at %g m, expected behind the coupling: an axle ahead of it carries no trailer", i + 1,
                           t->axles[i].behind_coupling);
    if (!(s->moment_x > 0))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_road_statics: trailer: centre behind coupling",
                       "trailer and load together have their centre %.3f m ahead of the coupling, expected behind it",
                       -s->moment_x / s->weight);
    return DD_OK;
}

static void fill_loads(const standing *s, const dd_vehicle_parameters *v, double gravity, double load_mass, dd_road_loads *loads)
{
    *loads = (dd_road_loads){.aggregate_mass = s->t->mass + load_mass, .coupling = s->ball_stiffness * s->q[SINK]};
    for (int b = 0; b < s->bearer_count; b++)
        for (int i = 0; i < s->t->axle_count; i++) {
            const bearer *bears = &s->bearers[b];
            const double load = s->load[b] > 0 ? bears->share[i] * (s->load[b] - bears->own_sum) + bears->own[i] : 0;
            loads->wheel[i][s->bearers[b].side] += load;
            loads->axle[i] += load;
            loads->axle_group += load;
        }
    double vehicle[2];
    dd_vehicle_axle_loads(v, gravity, 0, 0, loads->coupling, vehicle);
    loads->vehicle_front = vehicle[0];
    loads->vehicle_rear = vehicle[1];
    loads->vehicle_mass = v->mass + loads->coupling / gravity;
    loads->combination_mass = v->mass + loads->aggregate_mass;
    loads->coupling_height = v->coupling_height - s->q[SINK];
    loads->trailer_pitch = -s->q[PITCH];
}

dd_status dd_road_statics(const dd_vehicle_parameters *vehicle, const dd_trailer_parameters *trailer, double load_mass,
                          dd_vec3 load_centre, double gravity, dd_road_loads *loads, dd_error *error)
{
    dd_vehicle_parameters v = *vehicle;
    dd_trailer_parameters t = *trailer;
    dd_vehicle_complete(&v);
    dd_trailer_complete(&t);
    standing s = {.t = &t};
    const double own = t.mass * gravity, put = load_mass > 0 ? load_mass * gravity : 0;
    if (!(load_mass > 0)) load_centre = dd_vec(0, 0, 0);
    s.ball_stiffness = v.rated_coupling_load / v.rear_suspension_squash;
    s.hub_z = t.tyre_radius - t.coupling_height;
    s.squash_level = t.tyre_radius + t.tyre_squash + t.spring_squash - v.coupling_height;
    s.weight = own + put;
    s.moment_x = own * t.centre_behind_coupling + put * load_centre.x;
    s.moment_z = own * (t.centre_above_ground - t.coupling_height) + put * load_centre.z;
    s.moment_y = put * load_centre.y;
    dd_status status = check_load(&s, load_mass, load_centre, error);
    if (status != DD_OK) return status;
    set_bearers(&s, gravity);
    status = find_balance(&s, error);
    if (status == DD_OK) fill_loads(&s, &v, gravity, load_mass, loads);
    return status;
}

void dd_trailer_carry_axles(dd_trailer_parameters *t, double aft)
{
    for (int i = 0; i < t->axle_count; i++) t->centre_behind_coupling += aft * own_mass(t, i) / t->mass; /* NaN stays NaN */
}
