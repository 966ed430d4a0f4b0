/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schureman, Manual of Harmonic Analysis and Prediction of Tides, Special Publication 98 (1940): tables 1 and 2, formulas of the node
   factors in his paragraphs 65 to 78 and 207 to 235. */
#include "lib/shore/tide_constituents.h"
#include <math.h>
#include <stddef.h>
#include <strings.h>

#define DEGREE (3.14159265358979323846 / 180)
#define BASES 8
/* Mean longitude of the moon at noon of 1 January 2000 and degrees a century: Meeus, Astronomical Algorithms, chapter 47 (from memory).
   Schureman's own, of 1900, stands 0.02 degrees ahead by now: that alone would cost 3 mm where the tide is 8 m. */
#define MOON 218.3164477
#define MOON_RATE 481267.88123421

enum { NODE_NONE, NODE_M2, NODE_K2, NODE_K1, NODE_O1, NODE_MM, NODE_MF, NODE_M1, NODE_J1, NODE_OO1, NODE_L2, NODE_KJ2, NODE_M3 };

typedef struct row {
    const char *name;
    double T, s, h, p, p1, quarters, xi, nu;
    int node;
    double of[BASES]; /* compound: multiples of the first eight; all 0: plain */
} row;

#define TIDE_PLAIN(name, T, s, h, p, p1, q, xi, nu, node) {name, T, s, h, p, p1, q, xi, nu, node, {0}},
#define TIDE_COMPOUND(name, a, b, c, d, e, f, g, h) {name, 0, 0, 0, 0, 0, 0, 0, 0, NODE_NONE, {a, b, c, d, e, f, g, h}},
static const row constituents[] = {
#include "lib/shore/tide_constituents.def"
};
#define COUNT (int)(sizeof constituents / sizeof *constituents)
#define TIDE_PLAIN(...)
#define TIDE_COMPOUND(...)
#define TIDE_ALIAS(alias, name) {alias, name},
static const struct {
    const char *alias, *name;
} aliases[] = {
#include "lib/shore/tide_constituents.def"
};

/* Table 1: longitudes from noon of 31 December 1899, in degrees and Julian centuries; T at midnight is half a turn. */
static double longitude(double c, double degrees, double turns, double seconds, double second, double third)
{
    return DEGREE * (degrees + (360 * turns + seconds / 3600) * c + (second * c * c + third * c * c * c) / 3600);
}

static double centuries(double time)
{
    return (time / 86400 + 25567.5) / 36525;
}

dd_tide_sky dd_tide_sky_at(double time)
{
    double c = centuries(time);
    double day = fmod(time, 86400);
    if (day < 0) day += 86400;
    return (dd_tide_sky){
        .T = DEGREE * (180 + day / 240),
        .s = DEGREE * (MOON + MOON_RATE * (c - 1) - 0.0015786 * (c - 1) * (c - 1)),
        .h = longitude(c, 279 + 41.0 / 60 + 48.04 / 3600, 0, 129602768.13, 1.089, 0),
        .p = longitude(c, 334 + 19.0 / 60 + 40.87 / 3600, 11, 392515.94, -37.24, -0.045),
        .p1 = longitude(c, 281 + 13.0 / 60 + 15.0 / 3600, 0, 6189.03, 1.63, 0.012),
    };
}

/* Paragraphs 24 and 25: inclination I of the moon's orbit to the equator, its crossing's longitude nu and xi, from its node N. */
static double inclination(double N, dd_tide_node *node)
{
    const double omega = 23.452 * DEGREE, i = 5.145 * DEGREE;
    double half = atan2(sin(N / 2), cos(N / 2));
    double sum = atan2(cos((omega - i) / 2) * sin(half), cos((omega + i) / 2) * cos(half));
    double difference = atan2(sin((omega - i) / 2) * sin(half), sin((omega + i) / 2) * cos(half));
    node->nu = sum - difference;
    node->xi = 2 * half - sum - difference;
    return acos(cos(i) * cos(omega) - sin(i) * sin(omega) * cos(N));
}

dd_tide_node dd_tide_node_at(double time)
{
    dd_tide_node n = {0};
    double c = centuries(time);
    double I = inclination(longitude(c, 259 + 10.0 / 60 + 57.12 / 3600, -5, -482912.63, 7.58, 0.008), &n);
    double P = dd_tide_sky_at(time).p - n.xi, nu = n.nu;
    double sin_I = sin(I), sin_2I = sin(2 * I), sin_half = sin(I / 2), cos_half = cos(I / 2), tan2 = pow(tan(I / 2), 2);
    for (int k = 0; k < 16; k++) n.f[k] = 1;
    n.f[NODE_MM] = (2.0 / 3 - sin_I * sin_I) / 0.5021;
    n.f[NODE_MF] = sin_I * sin_I / 0.1578;
    n.f[NODE_O1] = sin_I * cos_half * cos_half / 0.3800;
    n.f[NODE_J1] = sin_2I / 0.7214;
    n.f[NODE_OO1] = sin_I * sin_half * sin_half / 0.0164;
    n.f[NODE_M2] = pow(cos_half, 4) / 0.9154;
    n.f[NODE_M3] = pow(cos_half, 6) / 0.8758;
    n.f[NODE_KJ2] = sin_I * sin_I / 0.1565;
    n.f[NODE_K1] = sqrt(0.8965 * sin_2I * sin_2I + 0.6001 * sin_2I * cos(nu) + 0.1006);
    n.f[NODE_K2] = sqrt(19.0444 * pow(sin_I, 4) + 2.7702 * sin_I * sin_I * cos(2 * nu) + 0.0981);
    n.u[NODE_K1] = -atan2(sin_2I * sin(nu), sin_2I * cos(nu) + 0.3347);
    n.u[NODE_K2] = -atan2(sin_I * sin_I * sin(2 * nu), sin_I * sin_I * cos(2 * nu) + 0.0727);
    /* L2 and M1 each hold a second, nearby term that turns with the moon's perigee (paragraphs 122 to 129, 213 to 215). */
    n.f[NODE_L2] = n.f[NODE_M2] * sqrt(1 - 12 * tan2 * cos(2 * P) + 36 * tan2 * tan2);
    n.u[NODE_L2] = -atan2(sin(2 * P), 1 / (6 * tan2) - cos(2 * P));
    n.f[NODE_M1] = n.f[NODE_O1] * sqrt(2.310 + 1.435 * cos(2 * P));
    n.u[NODE_M1] = atan2(0.483 * sin(P), cos(P));
    return n;
}

int dd_tide_constituent(const char *name)
{
    for (size_t k = 0; k < sizeof aliases / sizeof *aliases; k++)
        if (!strcasecmp(name, aliases[k].alias)) name = aliases[k].name;
    for (int k = 0; k < COUNT; k++)
        if (!strcasecmp(name, constituents[k].name)) return k;
    return -1;
}

int dd_tide_constituent_count(void)
{
    return COUNT;
}

const char *dd_tide_constituent_name(int constituent)
{
    return constituents[constituent].name;
}

static double plain(const row *c, const dd_tide_sky *sky)
{
    return c->T * sky->T + c->s * sky->s + c->h * sky->h + c->p * sky->p + c->p1 * sky->p1;
}

static double summed(const row *c, const dd_tide_sky *sky, double quarter)
{
    double sum = plain(c, sky) + c->quarters * quarter;
    for (int k = 0; k < BASES; k++)
        if (c->of[k] != 0) sum += c->of[k] * (plain(&constituents[k], sky) + constituents[k].quarters * quarter);
    return sum;
}

double dd_tide_argument(int constituent, const dd_tide_sky *sky)
{
    return summed(&constituents[constituent], sky, 90 * DEGREE);
}

double dd_tide_speed(int constituent)
{
    const double second = DEGREE / 3600 / (36525 * 86400.0), turn = 360 * 3600.0;
    const dd_tide_sky motion = {
        .T = DEGREE / 240,
        .s = MOON_RATE * 3600 * second,
        .h = 129602768.13 * second,
        .p = (11 * turn + 392515.94) * second,
        .p1 = 6189.03 * second,
    };
    /* M1's own angle u goes round with the perigee: that is no part of V (table 15), but of its mean speed. */
    return summed(&constituents[constituent], &motion, 0) + (constituents[constituent].node == NODE_M1 ? motion.p : 0);
}

static void plain_factor(const row *c, const dd_tide_node *node, double *u, double *f)
{
    *u = c->xi * node->xi + c->nu * node->nu + node->u[c->node];
    *f = node->f[c->node];
}

void dd_tide_node_factor(int constituent, const dd_tide_node *node, double *u, double *f)
{
    const row *c = &constituents[constituent];
    plain_factor(c, node, u, f);
    for (int k = 0; k < BASES; k++) {
        if (c->of[k] == 0) continue;
        double one_u, one_f;
        plain_factor(&constituents[k], node, &one_u, &one_f);
        *u += c->of[k] * one_u;
        *f *= pow(one_f, fabs(c->of[k]));
    }
}
