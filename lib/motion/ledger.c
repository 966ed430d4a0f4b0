/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/motion/ledger.h"
#include "lib/base/error.h"
#include <stdlib.h>
#include <string.h>

enum { ENTRY = DD_LEDGER_MOMENTUM + 1 }; /* impulse rates, then power */

struct dd_ledger {
    int entries; /* forces, then the added mass's reaction */
    int opened;
    double energy_start, energy_now, exchanged, force_exchanged[2];
    double lever, least,
        least_impulse; /* the hull's radius of gyration, m; its weight over a millimetre, J; and for 10 ms, N s */
    double momentum_start[DD_LEDGER_MOMENTUM], momentum_now[DD_LEDGER_MOMENTUM];
    double *sum, *start, *middle; /* entries x ENTRY */
};

dd_status dd_ledger_create(const dd_system *system, dd_ledger **result, dd_error *error)
{
    *result = NULL;
    dd_ledger *ledger = calloc(1, sizeof *ledger);
    if (ledger != NULL) {
        ledger->entries = system->force_count + 1;
        ledger->sum = calloc((size_t)(3 * ledger->entries * ENTRY), sizeof(double));
    }
    if (ledger == NULL || ledger->sum == NULL) {
        free(ledger);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_ledger_create", "no memory for the ledger");
    }
    ledger->least = ledger->least_impulse = 1.0;
    if (system->model.hull != NULL) {
        const dd_mass_properties *body = dd_hull_mass(system->model.hull);
        ledger->lever = sqrt((body->inertia[0][0] + body->inertia[1][1] + body->inertia[2][2]) / (2.0 * body->mass));
        ledger->least = 1e-3 * body->mass * system->model.gravity;
        ledger->least_impulse = fmax(1.0, 1e-2 * body->mass * system->model.gravity);
    }
    ledger->start = ledger->sum + ledger->entries * ENTRY;
    ledger->middle = ledger->start + ledger->entries * ENTRY;
    *result = ledger;
    return DD_OK;
}

void dd_ledger_free(dd_ledger *ledger)
{
    if (ledger != NULL) free(ledger->sum);
    free(ledger);
}

static double power(const dd_kinematics *k, const double hull[6], const double rig[DD_RIG_COORDINATES])
{
    double p = 0;
    for (int i = 0; i < 6; i++) p += hull[i] * k->motion.twist[i];
    for (int c = 0; c < DD_RIG_COORDINATES; c++) p += rig[c] * k->motion.rig[c];
    return p;
}

/* Force in world axes and moment about the hull's centre, world axes. */
static void impulse_rate(const dd_workspace *w, const double hull[6], double rate[DD_LEDGER_MOMENTUM])
{
    const dd_mat3 *r = &w->kinematics.to_world;
    dd_vec3 force = dd_vec(hull[0], hull[1], hull[2]), moment = dd_vec(hull[3], hull[4], hull[5]);
    if (w->system->model.hull != NULL) moment = dd_sub(moment, dd_cross(dd_hull_mass(w->system->model.hull)->centre, force));
    force = dd_apply(r, force);
    moment = dd_apply(r, moment);
    const double all[DD_LEDGER_MOMENTUM] = {force.x, force.y, force.z, moment.x, moment.y, moment.z};
    memcpy(rate, all, sizeof all);
}

/* Reaction of the added mass: -A dw/dt + bias, with dw/dt = dv/dt + (omega x u - a, 0), a the water's own acceleration, following
   the hull. With P = A w, T = w.P/2 and A's rate made of the hull's motion (dT/dq.v = w.A'.w/2) and of the water's own rise (its
   part of dT/dt: R), the reaction's power is
     F.v = F.w + F.U = -(dT/dt + dT/dq.U + R) + U.(-dP/dt + dT/dq) = -d(T + U.P)/dt + P.dU/dt - R:
   the water works through the added mass at P.dU/dt - R, which is zero in a steady uniform stream of a still level. */
static void added_reaction(const dd_workspace *w, double hull[6])
{
    const dd_kinematics *k = &w->kinematics;
    const double *v = k->motion.twist, *in_water = k->twist_in_water;
    dd_vec3 turned = dd_cross(dd_vec(v[3], v[4], v[5]), dd_vec(v[0] - in_water[0], v[1] - in_water[1], v[2] - in_water[2]));
    const dd_vec3 quicker = k->moving.acceleration;
    const double stream[6] = {turned.x - quicker.x, turned.y - quicker.y, turned.z - quicker.z, 0, 0, 0};
    for (int i = 0; i < 6; i++) {
        hull[i] = w->added.bias[i];
        for (int j = 0; j < 6; j++) hull[i] -= w->added.A[i][j] * (w->hull_acceleration[j] + stream[j]);
    }
}

static void rates(const dd_ledger *ledger, const dd_workspace *w, double *out)
{
    double hull[6], rig[DD_RIG_COORDINATES];
    for (int f = 0; f < ledger->entries - 1; f++) {
        dd_system_force_load(w, f, hull, rig);
        impulse_rate(w, hull, out + f * ENTRY);
        out[f * ENTRY + DD_LEDGER_MOMENTUM] = power(&w->kinematics, hull, rig);
    }
    added_reaction(w, hull);
    double *last = out + (ledger->entries - 1) * ENTRY;
    impulse_rate(w, hull, last);
    last[DD_LEDGER_MOMENTUM] = w->added.water_power; /* the rest of its energy stands on the other side of the balance */
}

static double quadratic(const double *m, int n, const double *v)
{
    double sum = 0;
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++) sum += 0.5 * v[i] * m[i * n + j] * v[j];
    return sum;
}

double dd_kinetic_energy(const dd_workspace *w)
{
    const dd_kinematics *k = &w->kinematics;
    double energy = 0;
    if (w->system->model.hull != NULL) {
        const double *a = w->added.momentum, *v = k->motion.twist, *u = k->twist_in_water;
        dd_vec3 p = dd_apply(&k->to_world, dd_vec(a[0], a[1], a[2]));
        double with_stream = k->moving.present ? a[0] * (v[0] - u[0]) + a[1] * (v[1] - u[1]) + a[2] * (v[2] - u[2])
                                               : w->system->model.water.current * p.y;
        energy +=
            quadratic(&w->hull_inertia[0][0], 6, v) + w->added.energy + with_stream;
    }
    if (w->system->model.rig != NULL) energy += quadratic(&w->rig_mass[0][0], DD_RIG_COORDINATES, k->motion.rig);
    return energy;
}

static void momentum(const dd_workspace *w, double out[DD_LEDGER_MOMENTUM])
{
    memset(out, 0, DD_LEDGER_MOMENTUM * sizeof(double));
    if (w->system->model.hull == NULL) return;
    const double *v = w->kinematics.motion.twist;
    double p[6] = {0};
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 6; j++) p[i] += w->hull_inertia[i][j] * v[j];
    impulse_rate(w, p, out); /* the same shift to the centre and turn to world axes */
}

void dd_ledger_open(dd_ledger *ledger, const dd_workspace *w)
{
    rates(ledger, w, ledger->start);
    if (ledger->opened) return;
    ledger->opened = 1;
    ledger->energy_start = ledger->energy_now = dd_kinetic_energy(w);
    momentum(w, ledger->momentum_start);
    memcpy(ledger->momentum_now, ledger->momentum_start, sizeof ledger->momentum_now);
    /* What a hull under way brings along counts as exchanged: it is a measure of what can be lost. */
    if (w->system->model.hull == NULL) return;
    const double *p = ledger->momentum_start;
    ledger->exchanged = quadratic(&w->hull_inertia[0][0], 6, w->kinematics.motion.twist);
    ledger->force_exchanged[0] = sqrt(p[0] * p[0] + p[1] * p[1] + p[2] * p[2]);
    ledger->force_exchanged[1] = sqrt(p[3] * p[3] + p[4] * p[4] + p[5] * p[5]);
}

void dd_ledger_strike(dd_ledger *ledger, const dd_workspace *w)
{
    const double energy = dd_kinetic_energy(w);
    ledger->energy_start += energy - ledger->energy_now;
    ledger->energy_now = energy;
}

void dd_ledger_middle(dd_ledger *ledger, const dd_workspace *w) { rates(ledger, w, ledger->middle); }

void dd_ledger_close(dd_ledger *ledger, const dd_workspace *w, double h)
{
    for (int e = 0; e < ledger->entries; e++)
        for (int i = 0; i < ENTRY; i++)
            ledger->sum[e * ENTRY + i] += h / 6.0 * (ledger->start[e * ENTRY + i] + 4.0 * ledger->middle[e * ENTRY + i]);
    rates(ledger, w, ledger->start);
    for (int e = 0; e < ledger->entries; e++) {
        const double *r = ledger->start + e * ENTRY;
        for (int i = 0; i < ENTRY; i++) ledger->sum[e * ENTRY + i] += h / 6.0 * r[i];
        ledger->exchanged += h * fabs(r[DD_LEDGER_MOMENTUM]);
        ledger->force_exchanged[0] += h * sqrt(r[0] * r[0] + r[1] * r[1] + r[2] * r[2]);
        ledger->force_exchanged[1] += h * sqrt(r[3] * r[3] + r[4] * r[4] + r[5] * r[5]);
    }
    ledger->energy_now = dd_kinetic_energy(w);
    momentum(w, ledger->momentum_now);
}

dd_ledger_balance dd_ledger_balance_of(const dd_ledger *ledger)
{
    dd_ledger_balance b = {.energy_change = ledger->energy_now - ledger->energy_start, .energy_exchanged = ledger->exchanged};
    double squares[2] = {0, 0};
    for (int e = 0; e < ledger->entries; e++) {
        b.work += ledger->sum[e * ENTRY + DD_LEDGER_MOMENTUM];
        for (int i = 0; i < DD_LEDGER_MOMENTUM; i++) b.impulse[i] += ledger->sum[e * ENTRY + i];
    }
    for (int i = 0; i < DD_LEDGER_MOMENTUM; i++) {
        b.momentum_change[i] = ledger->momentum_now[i] - ledger->momentum_start[i];
        double miss = b.momentum_change[i] - b.impulse[i];
        squares[i / 3] += miss * miss;
    }
    /* A hull afloat at rest exchanges hardly any moment: its forces at the radius of gyration are the measure then. */
    /* Nothing exchanged: nothing to be out of balance, up to the weight over a millimetre and for 10 ms (0.1 m/s). */
    b.energy_residual = fabs(b.energy_change - b.work) / fmax(ledger->least, b.energy_exchanged);
    b.momentum_residual =
        fmax(sqrt(squares[0]) / fmax(ledger->least_impulse, ledger->force_exchanged[0]),
             sqrt(squares[1]) /
                 fmax(ledger->least_impulse, fmax(ledger->force_exchanged[1], ledger->lever * ledger->force_exchanged[0])));
    return b;
}

double dd_ledger_work(const dd_ledger *ledger, int force) { return ledger->sum[force * ENTRY + DD_LEDGER_MOMENTUM]; }

static size_t sums(const dd_ledger *ledger) { return (size_t)(3 * ledger->entries * ENTRY) * sizeof(double); }

size_t dd_ledger_size(const dd_ledger *ledger) { return sizeof *ledger + sums(ledger); }

void dd_ledger_save(const dd_ledger *ledger, void *bytes)
{
    memcpy(bytes, ledger, sizeof *ledger);
    memcpy((char *)bytes + sizeof *ledger, ledger->sum, sums(ledger));
}

void dd_ledger_restore(dd_ledger *ledger, const void *bytes)
{
    dd_ledger saved;
    memcpy(&saved, bytes, sizeof saved);
    saved.sum = ledger->sum;
    saved.start = ledger->start;
    saved.middle = ledger->middle;
    *ledger = saved;
    memcpy(ledger->sum, (const char *)bytes + sizeof saved, sums(ledger));
}
