/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What follows from the size of a cross-section by elementary beam theory, corners taken as sharp; and the keys of members and clamps. */
#ifndef DD_RIG_SECTION_H
#define DD_RIG_SECTION_H
#include "lib/rig/rig.h"

/* Along: bent by a load along the depth; across: along the width. NaN: does not follow from what is given. */
typedef struct dd_section {
    double area;                     /* m2 */
    double modulus, modulus_across;  /* elastic, m3 */
    double shear, shear_across;      /* greatest shear stress over the shear force, 1/m2 */
    double torsion;                  /* torque over its greatest shear stress, m3 */
} dd_section;

/* Of a box and a round tube torsion is of the closed section; an open one twists freely; a flat's is approximate, within 0.5 %. An angle
   is held to bend along its legs. The member's own modulus, where given, stands in the stead of the calculated one. */
dd_section dd_section_of(const dd_member *member);
/* Preload of one bolt, N: as given, or torque / (nut factor x diameter). NaN: not given. */
double dd_clamp_preload(const dd_clamp *clamp);

/* Force that a clamp has to hold by friction, N, against bolts x faces x friction x preload: the force itself and that at the lever of the
   moment in the plane of its faces. The two outer bolts share a couple over their spacing (lever: spacing over the number of
   bolts); a single bolt holds it by its face: uniform pressure on a disc, lever diameter / 3. NaN: the lever is not given. */
double dd_clamp_slip(const dd_clamp *clamp, double force, double moment);
/* Greatest moment and shear of a beam on two main members `span` apart, free to turn on them, under upright loads (N) each at its y from the middle (m). */
void dd_beam_across(double span, int count, const double *y, const double *load, double *moment, double *shear);

/* Bends along its depth under an own force and moment, with all stresses taken as if they met at one place, which is safe. */
typedef struct dd_member_load {
    double axial, shear, shear_across;    /* N */
    double moment, moment_across, torque; /* N m */
} dd_member_load;
typedef struct dd_member_stress {
    double bending, shear, combined; /* Pa; combined: sqrt(normal^2 + 3 shear^2), EN 1993-1-1, 6.2.1 (5), partial factor 1 */
} dd_member_stress;
/* NaN where the section lacks what a load that is not 0 needs. */
dd_member_stress dd_member_stress_of(const dd_section *section, const dd_member_load *load);

extern const dd_key dd_member_keys[], dd_strength_keys[];
/* A rule of the block trailer: walls fit into their sections. */
bool dd_sections_hold(const void *trailer, char *message, size_t size, const char **key);
#endif
