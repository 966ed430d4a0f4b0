/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trailers with one support kind each, placed as the reader's would be, for the tests of arms, skids and keel rollers. */
#ifndef DD_TESTS_SUPPORT_RIGS_H
#define DD_TESTS_SUPPORT_RIGS_H
#include "tests/unit/force/contact_fixture.h"

/* A support of that kind with its defaults, 4.5 m behind the coupling, for a V of that deadrise through the trailer's Z = 0. */
dd_support support_for(int kind, double deadrise);
/* Appends it to a rig; fails the running test when it cannot be placed. */
void support_place(dd_rig *rig, const dd_support *support);
/* A rig by name: across, along, rocker, skids, swinging skids, keel skid, flanged, cupped. */
extern const char *const support_rig_names[];
void support_rig(dd_rig *rig, const char *name, double deadrise);
/* Brings arms to rest at the state's pose. */
void support_rest(const fixture_force *force, fixture_state *state);
/* The wrench on the hull in trailer axes, at the trailer's origin. */
void support_wrench(const fixture_force *force, const fixture_state *state, dd_vec3 *force_, dd_vec3 *moment);
#endif
