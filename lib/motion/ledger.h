/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ledger: impulse and work of every force against the change of momentum and energy.

   On each accepted step the forces are evaluated at its start, its middle (on the Hermite interpolant) and its end, and
   integrated by Simpson's rule. The states come from the integrator, the integrals from this quadrature: they agree only
   where the accepted path obeys the equations of motion. Energy: 1/2 v.M.v + T_A + u.P_A + rig, T_A the energy and P_A the
   momentum of the added mass, u the water's velocity (u.P_A makes it hold over the ground); where the water's velocity or level
   changes it works through the added mass, and that work counts. Momentum: the hull's own,
   world axes, and its angular momentum about its centre; the added mass's reaction counts as a force. */
#ifndef DD_MOTION_LEDGER_H
#define DD_MOTION_LEDGER_H
#include "lib/motion/system.h"

enum { DD_LEDGER_MOMENTUM = 6 };

typedef struct dd_ledger dd_ledger;

typedef struct dd_ledger_balance {
    double energy_change, work;                                              /* J */
    double energy_exchanged;                                                 /* sum of |power| over time, J */
    double momentum_change[DD_LEDGER_MOMENTUM], impulse[DD_LEDGER_MOMENTUM]; /* N s; N m s about the centre */
    double energy_residual;                                                  /* |change - work| / exchanged */
    double momentum_residual; /* the same of momentum, largest of linear and angular */
} dd_ledger_balance;

dd_status dd_ledger_create(const dd_system *system, dd_ledger **ledger, dd_error *error);
void dd_ledger_free(dd_ledger *ledger);
/* The workspace holds an evaluation (with acceleration) at the start of the next step: at the run's start, and again after
   the commands changed. */
void dd_ledger_open(dd_ledger *ledger, const dd_workspace *workspace);
/* Once opened: a coupling or a latch has just stopped what was moving; the energy it took is no force's work. The workspace holds
   the evaluation after it. */
void dd_ledger_strike(dd_ledger *ledger, const dd_workspace *workspace);
/* Middle, then end of a step of length h; the workspace holds that evaluation. */
void dd_ledger_middle(dd_ledger *ledger, const dd_workspace *workspace);
void dd_ledger_close(dd_ledger *ledger, const dd_workspace *workspace, double h);
dd_ledger_balance dd_ledger_balance_of(const dd_ledger *ledger);
/* Work of one force of the system since the start, J. */
double dd_ledger_work(const dd_ledger *ledger, int force);
/* Kinetic energy of all bodies and the water's added mass at an evaluation, as in the balance. */
double dd_kinetic_energy(const dd_workspace *workspace);
/* Bytes of the ledger's sums, for saving a run: copied out, or in. */
size_t dd_ledger_size(const dd_ledger *ledger);
void dd_ledger_save(const dd_ledger *ledger, void *bytes);
void dd_ledger_restore(dd_ledger *ledger, const void *bytes);
#endif
