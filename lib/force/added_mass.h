/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Added mass of the immersed hull, part of the equations of motion (lib/motion), not a dd_force: strip-wise from the
   local immersed section, Kirchhoff-Lagrange form with the velocity relative to the water. */
#ifndef DD_FORCE_ADDED_MASS_H
#define DD_FORCE_ADDED_MASS_H
#include "lib/state/kinematics.h"

typedef struct dd_added_mass dd_added_mass;
dd_status dd_added_mass_create(const dd_model *model, dd_added_mass **added, dd_error *error);
void dd_added_mass_free(dd_added_mass *added);

/* With w the twist in the water (boat axes, at the boat's origin) and T = 1/2 w.A(q).w:
     A[6][6]    symmetric, boat axes, about the boat's origin
     momentum   A w (linear, angular)
     bias       everything of the water's reaction but -A dw/dt: wrench on the hull
                = -(dA/dt) w - (omega x P, omega x L + v x P) + dT/dq,   P, L the momentum, v the linear part of w,
                dT/dq by the hull's displacement (dr, dphi) in boat axes, velocity components held.
   dA/dt follows the hull's motion against the water's level, and the level's own rise.
     water_power  of water that moves through the added mass, W: momentum . (the water's acceleration) less the part of dT/dt that
                  the level's own rise makes; lib/motion/ledger.c has the derivation. */
typedef struct dd_added_mass_result {
    double A[6][6], momentum[6], bias[6];
    double energy; /* T, J */
    double water_power;
} dd_added_mass_result;
void dd_added_mass_evaluate(const dd_added_mass *added, const dd_kinematics *kinematics, dd_added_mass_result *result);
/* Heave and roll added mass and wave damping coefficients at the hull's own natural frequencies, used by
   dd_force_wave_damping: see added_mass.c. */
#endif
