/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Swing of the trailer and turning over.

   At a steady speed U: sideways speed v and turning rate r of the vehicle, angle t between trailer and vehicle, all small. An axle at x
   ahead of the vehicle's centre slips by -(v + x r)/U; one l behind the ball (e behind that centre) by t - (v - e r - l (r + t'))/U; its tyres
   answer with C times that. With the accelerations w = (v' + U r, r', r' + t'') of place and headings and p = (1, x, 0) or (1, -e, -l)
   for each axle: M w = sum p C slip (+ a damper between the headings), M by the velocities of both centres. Swing: the least
   damped pair of eigenvalues of (v, r, t, t'), from GSL. Side
   force in proportion to load and slip, no roll, no lag of the tyres. A body turns over where the sideways acceleration is g track / (2 height)
   if nothing slides or gives (static threshold). */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/hull/surface.h"
#include "lib/ode/gsl.h"
#include "lib/ode/ode.h"
#include "lib/rig/rig.h"
#include "lib/study/brake.h"
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

enum { Q = 3, STATES = 4, SPEEDS = 26 };
enum { SIDEWAYS, TURNING, ANGLE, ANGLE_RATE };
#define SLOWEST 5.0
#define FASTEST 100.0

static void add_mass(double mass, const double p[Q], double m[Q * Q])
{
    for (int i = 0; i < Q; i++)
        for (int j = 0; j < Q; j++) m[i * Q + j] += mass * p[i] * p[j];
}

/* Loads on place and headings in a state. */
static void loads_of(const dd_swing_rig *r, double speed, const double x[STATES], double load[Q])
{
    const double v = x[SIDEWAYS], turn = x[TURNING];
    const double front = -r->front_stiffness * (v + r->front * turn) / speed, rear = -r->rear_stiffness * (v - r->rear * turn) / speed;
    load[0] = front + rear;
    load[1] = front * r->front - rear * r->rear + r->yaw_damping * x[ANGLE_RATE];
    load[2] = -r->yaw_damping * x[ANGLE_RATE];
    for (int i = 0; i < r->axle_count; i++) {
        const double slip = x[ANGLE] - (v - r->ball * turn - r->axle[i] * (turn + x[ANGLE_RATE])) / speed, force = r->stiffness[i] * slip;
        load[0] += force;
        load[1] -= force * r->ball;
        load[2] -= force * r->axle[i];
    }
}

static int state_matrix(const dd_swing_rig *r, double speed, double a[STATES * STATES])
{
    double m[Q * Q] = {0};
    add_mass(r->mass, (const double[Q]){1, 0, 0}, m);
    add_mass(r->inertia, (const double[Q]){0, 1, 0}, m);
    add_mass(r->trailer_mass, (const double[Q]){1, -r->ball, -r->centre}, m);
    add_mass(r->trailer_inertia, (const double[Q]){0, 0, 1}, m);
    gsl_matrix_view matrix = gsl_matrix_view_array(m, Q, Q);
    if (gsl_linalg_cholesky_decomp1(&matrix.matrix) != GSL_SUCCESS) return 1;
    memset(a, 0, STATES * STATES * sizeof *a);
    for (int j = 0; j < STATES; j++) {
        double x[STATES] = {0}, w[Q];
        x[j] = 1;
        loads_of(r, speed, x, w);
        gsl_vector_view view = gsl_vector_view_array(w, Q);
        if (gsl_linalg_cholesky_svx(&matrix.matrix, &view.vector) != GSL_SUCCESS) return 1;
        a[SIDEWAYS * STATES + j] = w[0] - speed * x[TURNING];
        a[TURNING * STATES + j] = w[1];
        a[ANGLE * STATES + j] = x[ANGLE_RATE];
        a[ANGLE_RATE * STATES + j] = w[2] - w[1];
    }
    return 0;
}

dd_status dd_swing_mode(const dd_swing_rig *rig, double speed, double *damping, double *frequency, dd_error *error)
{
    double a[STATES * STATES];
    *damping = 1;
    *frequency = 0;
    dd_gsl_quiet();
    if (state_matrix(rig, speed, a) != 0) return dd_fail(error, DD_ERROR_LIBRARY, "dd_swing_mode", "the mass matrix has no Cholesky factor");
    gsl_matrix_view matrix = gsl_matrix_view_array(a, STATES, STATES);
    gsl_eigen_nonsymm_workspace *work = gsl_eigen_nonsymm_alloc(STATES);
    gsl_vector_complex *values = gsl_vector_complex_alloc(STATES);
    if (work == NULL || values == NULL) {
        if (work != NULL) gsl_eigen_nonsymm_free(work);
        if (values != NULL) gsl_vector_complex_free(values);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_swing_mode", "no memory for eigenvalues");
    }
    const int found = gsl_eigen_nonsymm(&matrix.matrix, values, work);
    for (size_t i = 0; i < STATES && found == GSL_SUCCESS; i++) {
        const gsl_complex z = gsl_vector_complex_get(values, i);
        const double size = hypot(GSL_REAL(z), GSL_IMAG(z));
        if (!(GSL_IMAG(z) > 1e-3)) continue;
        if (-GSL_REAL(z) / size < *damping) {
            *damping = -GSL_REAL(z) / size;
            *frequency = size;
        }
    }
    gsl_eigen_nonsymm_free(work);
    gsl_vector_complex_free(values);
    return found == GSL_SUCCESS ? DD_OK : dd_fail(error, DD_ERROR_LIBRARY, "dd_swing_mode", "the eigenvalues were not found");
}

typedef struct dying {
    const dd_swing_rig *rig;
    dd_status status;
    dd_error why;
} dying;

static double damping_at(double speed, void *context)
{
    dying *d = context;
    double damping = NAN, frequency;
    d->status = dd_swing_mode(d->rig, speed, &damping, &frequency, &d->why);
    return d->status == DD_OK ? damping : NAN;
}

dd_status dd_swing_critical(const dd_swing_rig *rig, double *speed, dd_error *error)
{
    dying d = {.rig = rig, .status = DD_OK};
    *speed = INFINITY;
    if (damping_at(FASTEST, &d) > 0) return DD_OK;
    *speed = SLOWEST;
    if (d.status == DD_OK && damping_at(SLOWEST, &d) > 0) *speed = dd_ode_root(damping_at, &d, SLOWEST, FASTEST, 0);
    if (d.status != DD_OK && error != NULL) *error = d.why;
    if (d.status == DD_OK && isnan(*speed)) return dd_fail(error, DD_ERROR_LIBRARY, "dd_swing_critical", "the speed at which the swing goes on was not found");
    return d.status;
}

/* What is changed of the rig. */
typedef struct changed {
    double factor, forward; /* of the cornering figures; the boat, m */
    double more, at;        /* kg aboard, and where, behind the coupling, m */
} changed;

static dd_swing_rig swing_of(const dd_brake *b, changed by)
{
    const dd_vehicle_parameters *v = &b->rig->rig->vehicle;
    const dd_trailer_parameters *t = &b->loaded;
    const double g = b->scenario->gravity, yaw = isnan(v->braking.yaw_radius) ? v->pitch_radius : v->braking.yaw_radius;
    dd_trailer_parameters shifted = *t;
    shifted.mass += by.more;
    shifted.centre_behind_coupling += (by.more * (by.at - t->centre_behind_coupling) - by.forward * b->boat_mass) / shifted.mass;
    const double off = t->centre_behind_coupling - shifted.centre_behind_coupling, far = by.at - shifted.centre_behind_coupling;
    const dd_standing z = dd_stand_on(v, &shifted, g, 0, 0, NAN);
    dd_swing_rig s = {.mass = v->mass, .inertia = v->mass * yaw * yaw, .front = v->centre_behind_front_axle, .rear = v->wheelbase - v->centre_behind_front_axle,
                      .trailer_mass = shifted.mass, .trailer_inertia = t->mass * t->braking.yaw_radius * t->braking.yaw_radius, .centre = shifted.centre_behind_coupling,
                      .axle_count = t->axle_count, .yaw_damping = t->braking.yaw_damping};
    if (by.more != 0) s.trailer_inertia += t->mass * off * off + by.more * far * far;
    s.ball = s.rear + v->coupling_behind_rear_axle;
    s.front_stiffness = by.factor * v->braking.front_cornering * z.front;
    s.rear_stiffness = by.factor * v->braking.rear_cornering * z.rear;
    for (int i = 0; i < t->axle_count; i++) {
        s.axle[i] = t->axles[i].behind_coupling;
        s.stiffness[i] = by.factor * t->braking.cornering * z.trailer / t->axle_count;
    }
    return s;
}

/* One line of what moves the swing; *critical: the speed at which it no longer dies away. */
static dd_status add_move(const dd_brake *b, const char *words, changed by, double *critical, dd_error *error)
{
    dd_reporter *r = b->report;
    const dd_swing_rig s = swing_of(b, by);
    double damping, frequency;
    dd_status status = dd_swing_critical(&s, critical, error);
    if (status == DD_OK) status = dd_swing_mode(&s, b->scenario->braking.speed, &damping, &frequency, error);
    if (status != DD_OK) return status;
    dd_reporter_words(r, "%s", words);
    dd_reporter_value(r, isinf(*critical) ? NAN : *critical);
    dd_reporter_value(r, damping);
    dd_reporter_value(r, frequency > 0 ? 2 * 3.14159265358979323846 / frequency : NAN);
    return DD_OK;
}

/* Each tank whose place is given, empty and full. */
static dd_status add_tanks(const dd_brake *b, dd_error *error)
{
    const dd_hull_parameters *boat = &b->scenario->boat;
    dd_status status = DD_OK;
    for (int i = 0; i < boat->item_count; i++)
        for (int full = 0; full < 2 && status == DD_OK; full++) {
            const dd_item *tank = &boat->items[i];
            const dd_vec3 nowhere = dd_vec(NAN, NAN, NAN), at = dd_item_centre(tank, nowhere);
            if (!isfinite(tank->volume) || !isfinite(at.x)) continue;
            const double more = dd_item_mass_filled(tank, full ? dd_tank_full : 0) - dd_item_mass(tank);
            double critical;
            char words[96];
            dd_text(words, sizeof words, "%s: %s", tank->item, full ? "full" : "empty");
            status = add_move(b, words, (changed){.factor = 1, .more = more, .at = dd_placed_point(&b->placement, at).x}, &critical, error);
        }
    return status;
}

static dd_status add_moves(const dd_brake *b, double critical[3], dd_error *error)
{
    dd_reporter *r = b->report;
    const double within = b->scenario->braking.cornering_within;
    const dd_trailer_parameters *t = &b->loaded;
    const double quarter = 0.25 * t->mass * (dd_axles_middle(t) - t->centre_behind_coupling) / b->boat_mass; /* m forward: that much more on the ball */
    const struct {
        const char *name;
        double factor, forward;
    } rows[] = {{"as it stands", 1, 0}, {"tyres softer, low end", 1 - within, 0}, {"tyres stiffer, high end", 1 + within, 0}, {"boat 0.2 m forward", 1, 0.2}, {"boat 0.2 m aft", 1, -0.2},
                {"coupling load a quarter more", 1, quarter}};
    dd_reporter_table(r, "swing_moves", "Swing: speed at which it no longer dies away", DD_REPORT_LONG);
    dd_reporter_column(r, "rig", "", 0, "as it stands, and what is changed");
    dd_reporter_column(r, "critical speed", "km/h", 0, "empty: none below 360 km/h");
    dd_reporter_column(r, "damping asked", "", 3, "ratio at the speed of the stop");
    dd_reporter_column(r, "period", "s", 2, "of the swing there");
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double speed;
        const dd_status status = add_move(b, rows[i].name, (changed){.factor = rows[i].factor, .forward = rows[i].forward}, &speed, error);
        if (status != DD_OK) return status;
        if (i < 3) critical[i] = speed;
    }
    return add_tanks(b, error);
}

static dd_status add_speeds(const dd_brake *b, dd_error *error)
{
    dd_reporter *r = b->report;
    const double within = b->scenario->braking.cornering_within;
    dd_reporter_table(r, "swing", "Damping of the swing by speed", DD_REPORT_LONG);
    dd_reporter_column(r, "speed", "km/h", 0, "steady, straight ahead");
    dd_reporter_column(r, "damping", "", 4, "ratio of the least damped swing");
    dd_reporter_column(r, "softer tyres", "", 4, "the same at the low end of the cornering figures");
    dd_reporter_column(r, "stiffer tyres", "", 4, "the same at the high end");
    for (int i = 0; i < SPEEDS; i++) {
        const double speed = (30 + 5 * i) / 3.6;
        dd_reporter_value(r, speed);
        for (int e = 0; e < 3; e++) {
            const dd_swing_rig s = swing_of(b, (changed){.factor = e == 0 ? 1 : e == 1 ? 1 - within : 1 + within});
            double damping, frequency;
            dd_status status = dd_swing_mode(&s, speed, &damping, &frequency, error);
            if (status != DD_OK) return status;
            dd_reporter_value(r, damping);
        }
    }
    return DD_OK;
}

static void check_turning_over(const dd_brake *b)
{
    const dd_vehicle_parameters *v = &b->scenario->vehicle;
    const double g = b->scenario->gravity, bend = b->scenario->braking.bend;
    dd_check check = dd_check_of("turning over", NULL, g * b->loaded.track / (2 * b->loaded.centre_above_ground), bend, "m/s2", "elementary mechanics", "trailer turns over in a bend");
    check.least = 1;
    dd_reporter_check(b->report, &check);
    check = dd_check_of("turning over", NULL, g * v->braking.track / (2 * v->centre_height), bend, "m/s2", "elementary mechanics", "vehicle turns over in a bend");
    check.least = 1;
    dd_reporter_check(b->report, &check);
}

dd_status dd_brake_swing(dd_brake *b, dd_error *error)
{
    dd_reporter *r = b->report;
    double critical[3];
    char low[DD_REPORTER_TEXT], high[DD_REPORTER_TEXT];
    dd_status status = add_moves(b, critical, error);
    if (status == DD_OK) status = add_speeds(b, error);
    if (status != DD_OK) return status;
    const double road = b->scenario->vehicle.road_speed, least = fmin(critical[1], critical[2]), most = fmax(critical[1], critical[2]);
    dd_check check = dd_check_of("swing", NULL, fmin(least, FASTEST), isnan(road) ? b->scenario->braking.speed : road, "km/h", "cornering figures", "speed at which the trailer swings on");
    check.least = 1;
    dd_text(check.words, sizeof check.words, "low end of the band of estimated cornering figures; a straight road, no wind, no roll");
    dd_reporter_check(r, &check);
    if (isinf(least))
        dd_reporter_note(r, "Swing: dies away at every speed up to 360 km/h by this model; a light coupling, soft tyres or a heavy tail bring it down.");
    else if (isinf(most))
        dd_reporter_note(r, "Swing: may go on from %s at soft tyres; none at stiff ones.", dd_reporter_quantity(r, least, "km/h", 0, low));
    else
        dd_reporter_note(r, "Swing: goes on from a speed between %s and %s; load further forward raises it.", dd_reporter_quantity(r, least, "km/h", 0, low),
                         dd_reporter_quantity(r, most, "km/h", 0, high));
    check_turning_over(b);
    dd_reporter_source(r, "cornering figures");
    return DD_OK;
}
