/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Speed, equilibrium argument and node factor of each constituent, by Schureman's formulas. Angles in radians, times seconds UTC. */
#ifndef DD_SHORE_TIDE_CONSTITUENTS_H
#define DD_SHORE_TIDE_CONSTITUENTS_H

/* Mean longitudes at a time (table 1): of the hour angle of the mean sun T, the moon s, the sun h, the moon's perigee p, the sun's
   p1; and what the moon's node makes of the moon's orbit (xi, nu, nu', 2 nu'', P) and of the node factors. */
typedef struct dd_tide_sky {
    double T, s, h, p, p1;
} dd_tide_sky;
typedef struct dd_tide_node {
    double xi, nu;
    double u[16], f[16]; /* by kind of node factor; u beside the multiples of xi and nu */
} dd_tide_node;
dd_tide_sky dd_tide_sky_at(double time);
dd_tide_node dd_tide_node_at(double time);

/* Number of a constituent by its name, in any case and also by its other usual spellings; -1: unknown. */
int dd_tide_constituent(const char *name);
int dd_tide_constituent_count(void);
const char *dd_tide_constituent_name(int constituent);
double dd_tide_speed(int constituent);                              /* rad/s, mean motion of 1900 */
double dd_tide_argument(int constituent, const dd_tide_sky *sky);   /* V, not reduced to a turn */
/* u and f: what the node of a time makes of argument and amplitude. */
void dd_tide_node_factor(int constituent, const dd_tide_node *node, double *u, double *f);
#endif
