/* SPDX-License-Identifier: GPL-3.0-or-later */
/* SUNDIALS CVODE (BDF, dense Newton) behind the stepper interface: the independent integrator that tests and the
   bench hold lib/ode against. Link with $(SUNDIALS_LIBS). */
#ifndef DD_TESTS_CVODE_STEPPER_H
#define DD_TESTS_CVODE_STEPPER_H
#include "lib/ode/ode.h"

extern const dd_stepper dd_stepper_cvode;
#endif
