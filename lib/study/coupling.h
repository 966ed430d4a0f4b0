/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Load on the coupling of a trailer that stands level: moments about the axles' resultant. Masses and loads in the same unit, lengths
   in another. */
#ifndef DD_STUDY_COUPLING_H
#define DD_STUDY_COUPLING_H

/* How far the centre of all lies ahead of the axles' resultant. reach: ball to that resultant. */
double dd_centre_ahead_of_axle(double aggregate, double coupling, double reach);
/* How far the axles go forward for a target (the trailer's own centre staying where it is). */
double dd_axle_forward(double aggregate, double coupling, double reach, double target);
/* How far a load (the boat with its winch post) goes forward for a target. */
double dd_load_forward(double coupling, double reach, double load, double target);
#endif
