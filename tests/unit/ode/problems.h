/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Standard initial value problems, and a small driver. */
#ifndef DD_TESTS_ODE_PROBLEMS_H
#define DD_TESTS_ODE_PROBLEMS_H
#include "lib/ode/ode.h"

#define MOST_COMPONENTS 16

/* A problem with its start; tolerances are filled by set_tolerance. */
typedef struct standard_problem {
    const char *name;
    size_t size;
    int (*derivative)(double t, const double *y, double *dydt, void *context);
    int (*jacobian)(double t, const double *y, double *dfdy, double *dfdt, void *context);
    double start[MOST_COMPONENTS];
    double scale[MOST_COMPONENTS]; /* absolute tolerance = tolerance * scale */
    double end;
} standard_problem;

extern const standard_problem robertson;     /* stiff kinetics, 3 */
extern const standard_problem van_der_pol;   /* mu = 1000, 2, over one and a half periods */
extern const standard_problem hires;         /* 8 */
extern const standard_problem oscillator;    /* y'' = -y: harmonic, no damping */
extern const standard_problem kepler;        /* eccentricity 0.6, one revolution in 2 pi */
extern const standard_problem contact_block; /* drops on a k d^1.5 contact with damping and drags on a bristle */

/* context of contact_block: copy, change, pass */
typedef struct contact_data {
    double stiffness, damping;           /* N/m^1.5, s/m */
    double mass, gravity;                /* kg, m/s2 */
    double friction, bristle, breakaway; /* -, 1/m, share */
    double bristle_damping;              /* s/m */
} contact_data;
extern const contact_data contact_usual;

/* The dd_ode_problem for a standard problem: relative tolerance and every absolute one together. `absolute` holds
   MOST_COMPONENTS values and must outlive it. */
dd_ode_problem problem_at(const standard_problem *standard, double tolerance, double *absolute, void *context);

/* Integrates freely to `end` exactly (it is the only limit); returns the status, the end state and statistics. */
dd_status integrate(const dd_stepper *stepper, const dd_ode_problem *problem, const double *start, double end, double *y,
                    dd_ode_statistics *statistics, dd_error *error);

/* Largest |a - b| / scale. */
double largest_difference(const double *a, const double *b, const double *scale, size_t size);
#endif
