/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hulls, a trailer and checks by differences for the tests of contacts and strap. */
#ifndef DD_TESTS_CONTACT_FIXTURE_H
#define DD_TESTS_CONTACT_FIXTURE_H
#include "lib/force/force.h"

/* A prismatic V, 6 m long, straight lines; a hull with curved lines from brochure figures. NULL on failure. */
dd_hull *fixture_wedge(double deadrise);
dd_hull *fixture_curved(void);

/* A trailer 5 m long: winch, bow stop, no rollers. */
void fixture_rig(dd_rig *rig);
/* Appends a roller with usual figures: 2500 N at 4 mm, radius 40 mm. side +1 port, -1 starboard, 0 keel. */
dd_roller *fixture_add_roller(dd_rig *rig, int side, double behind_coupling, double half_spacing, double height, double tilt);
/* Rows of a cradle for a V of that deadrise, half spacings 0.3 and 0.55 m. */
void fixture_add_cradle(dd_rig *rig, int rows, double deadrise);

/* One force on one hull and rig, with its own coefficients and memory. */
typedef struct fixture_force {
    const dd_force_kind *kind;
    dd_model model;
    void *instance;
    int memory_count;
} fixture_force;
/* Fails the running test when the force cannot be prepared. */
fixture_force fixture_prepare(const dd_force_kind *kind, const dd_hull *hull, const dd_rig *rig);

enum { FIXTURE_MEMORY = 256 };
typedef struct fixture_state {
    dd_pose pose;
    double twist[6]; /* relative, boat axes */
    double memory[FIXTURE_MEMORY];
    dd_commands commands;
} fixture_state;
typedef struct fixture_result {
    dd_load load;
    double rate[FIXTURE_MEMORY];
} fixture_result;
fixture_result fixture_evaluate(const fixture_force *force, const fixture_state *state);
dd_gradient fixture_gradient(const fixture_force *force, const fixture_state *state, double (*load_by_value)[6],
                             double (*rate_by_twist)[6], double *rate_by_value);
void fixture_channels(const fixture_force *force, const fixture_state *state, double *channels);
/* The hull moved by `amount` along one of its six displacements (boat axes), twist components kept. */
void fixture_displace(fixture_state *state, const double displacement[6], double amount);

/* |found - expected| <= tolerance, with the figures in the message. Include cmocka.h first. */
#define assert_near(found, expected, tolerance)                                                                                \
    do {                                                                                                                       \
        double found_ = (found), expected_ = (expected), tolerance_ = (tolerance);                                             \
        if (!(fabs(found_ - expected_) <= tolerance_))                                                                         \
            fail_msg("%s is %.12g, expected %.12g within %.3g", #found, found_, expected_, tolerance_);                        \
    } while (0)

typedef struct fixture_random {
    unsigned long long state;
} fixture_random;
double fixture_uniform(void *random);

/* A random state of a regime. */
fixture_state fixture_draw(const fixture_force *force, const dd_regime *regime, fixture_random *random);
/* Largest error of K, D and the memory's gradients against five-point differences, over the largest entry of each. */
double fixture_gradient_error(const fixture_force *force, const fixture_state *state);
/* (power + d(energy)/dt + heat) over the largest of its parts; the memory moves with its rate. */
double fixture_power_error(const fixture_force *force, const fixture_state *state);
/* Largest difference of the load from -d(energy)/d(displacement), over the largest load, at rest without bristles. */
double fixture_energy_error(const fixture_force *force, const fixture_state *state);
#endif
