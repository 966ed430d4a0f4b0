/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Elasto-plastic friction with one bristle: a deflection z (m) that sticks without creep below the break-away share of
   its limit, yields smoothly beyond it, and slides at the limit. Used by rollers (across, and rolling resistance) and
   by braked, chocked and rolling wheels.

   sliding  s     = v (1 - alpha z / z_limit sign v) - renewal z          z_limit = limit / stiffness
   rate     dz/dt = contact s - release (1 - contact) z
   friction       = N (stiffness z + damping_here s), opposing v
   alpha is 0 for |z| below the break-away share of z_limit and wherever z and v have opposite signs, and rises by a
   smooth step to 1 at z_limit. Renewal is |u| / l of a body that rolls at u with relaxation length l: fresh, undeflected
   surface enters the contact.

   damping_here = damping / (1 + (damping v / limit)^2 + (damping renewal / (2 stiffness))^2): the bristle's damping
   fades once it would carry more than the friction itself. Derivation: with b = alpha |v| / z_limit + renewal the
   power kept as heat, per N, is v (stiffness z + damping_here s) - stiffness z s
   = stiffness b z^2 + damping_here (s^2 + b z s), which is never negative while damping_here b <= 4 stiffness; the
   fading holds it below 3/2 stiffness at any speed. At rest and in steady sliding (s = 0) it changes nothing.

   So a bristle's friction falls where its damping fades, and an arm without inertia could turn at two rates under one moment
   and jump from one to the other. A law that never falls has
     damping_here = damping / sqrt(1 + (2 damping v / limit)^2 + (damping renewal / (2 stiffness))^2),
   which carries half of the friction at any speed and grows with it; damping_here b is below 2.1 stiffness. */
#ifndef DD_FORCE_BRISTLE_H
#define DD_FORCE_BRISTLE_H
#include "lib/base/key.h"

enum { DD_BRISTLE_RELEASE = 20 }; /* 1/s, at which a clear bristle springs back */

typedef struct dd_bristle_law {
    double stiffness;       /* friction per load and deflection, 1/m */
    double damping;         /* friction per load and rate, s/m */
    double breakaway_share; /* of the limit below which nothing yields */
    int never_falls;        /* the damping's part of the friction keeps its size at speed: for what has no inertia */
} dd_bristle_law;

typedef struct dd_bristle {
    double rate, rate_by_value, rate_by_speed, rate_by_renewal, rate_by_contact;
    /* friction force / normal load; the force on the moving body is -N coefficient along v */
    double coefficient, coefficient_by_value, coefficient_by_speed, coefficient_by_renewal;
    double heat; /* per normal load: power less the bristle's own storing at full contact, m/s, >= 0 */
} dd_bristle;

/* Bristles clear of any contact spring back: sets the rates of `count` of them and, unless NULL, their slopes by the deflection. */
static inline void dd_bristles_release(int count, const double *value, double *rate, double *rate_by_value)
{
    for (int i = 0; i < count; i++) {
        rate[i] = -DD_BRISTLE_RELEASE * value[i];
        if (rate_by_value) rate_by_value[i] = -DD_BRISTLE_RELEASE;
    }
}

/* limit: friction coefficient, 0: no friction; value: z; speed: v, m/s; renewal: 1/s, >= 0; contact: 0 clear, 1 loaded. */
dd_bristle dd_bristle_at(const dd_bristle_law *law, double limit, double value, double speed, double renewal, double contact);
/* Deflection that it comes to on a body that rolls with relaxation length `length`, m, and slides across by `slip`, m/m, >= 0, at full contact:
   slip (1 - alpha z / z_limit) = z / length. */
double dd_bristle_steady(const dd_bristle_law *law, double limit, double slip, double length);

/* The same in two directions of one plane, for a body that slides either way: z and v are vectors, the limit is a circle.
   sliding  s     = v - alpha (z . v) / (|z| z_limit) z where z . v > 0, else v
   rate     dz/dt = contact s - release (1 - contact) z - contact release (1 - z_limit / |z|) z where |z| > z_limit
   What takes z outward fades at the circle; what turns it does not, so z comes round to the way it slides within some z_limit of
   path and no grip is left across. The last term lets go what a limit that has become smaller (a face gone wet) holds no more.
   On a line both laws are one. damping_here as above, by |v|; heat is never negative within the circle, as above with
   s . v >= |v|^2 (1 - alpha |z| / z_limit). */
typedef struct dd_disc {
    double coefficient[2], rate[2];
    double coefficient_by_value[2][2], coefficient_by_velocity[2][2], coefficient_by_limit[2];
    double rate_by_value[2][2], rate_by_velocity[2][2], rate_by_limit[2], rate_by_contact[2];
} dd_disc;
dd_disc dd_disc_at(const dd_bristle_law *law, double limit, const double value[2], const double velocity[2], double contact);

/* Rows for a struct whose field `law` is a dd_bristle_law. */
#define DD_BRISTLE_KEYS(structure, law)                                                                                        \
    {.name = "bristle stiffness",                                                                                              \
     .type = DD_KEY_QUANTITY,                                                                                                  \
     .dimension = DD_PER_LENGTH,                                                                                               \
     .offset = offsetof(structure, law.stiffness),                                                                             \
     .least = 1,                                                                                                               \
     .most = 1e5,                                                                                                              \
     .fallback = 500,                                                                                                          \
     .source = "bristle figures",                                                                                              \
     .help = "friction per normal load and bristle deflection"},                                                               \
        {.name = "bristle damping",                                                                                            \
         .type = DD_KEY_QUANTITY,                                                                                              \
         .dimension = DD_NUMBER,                                                                                               \
         .offset = offsetof(structure, law.damping),                                                                           \
         .least = 0,                                                                                                           \
         .most = 1e3,                                                                                                          \
         .fallback = 20,                                                                                                       \
         .source = "bristle figures",                                                                                          \
         .help = "friction per normal load and rate of deflection, in s/m"},                                                   \
    {                                                                                                                          \
        .name = "break-away share", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO,                                            \
        .offset = offsetof(structure, law.breakaway_share), .least = 0, .most = 0.95, .fallback = 0.7,                         \
        .source = "bristle figures", .help = "share of the friction limit below which a bristle sticks without creep"          \
    }
#endif
