/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The numerical library's error handler. */
#ifndef DD_ODE_GSL_H
#define DD_ODE_GSL_H

/* GSL's default handler ends the process on any error. This turns it off, once for the life of the process and only
   where it finds the default: a handler that the program has set itself stays. Every function here that can reach GSL
   calls it first; it may be called from several threads at once. */
void dd_gsl_quiet(void);
#endif
