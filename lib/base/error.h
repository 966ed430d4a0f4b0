/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Filling a dd_error. */
#ifndef DD_BASE_ERROR_H
#define DD_BASE_ERROR_H
#include <drawdock/status.h>

/* Fills *error (may be NULL) with the code, the place, a printf-formatted message and the
   code's usual remedy; returns the code, so that `return dd_fail(...)` reads well. */
dd_status dd_fail(dd_error *error, dd_status status, const char *place, const char *format, ...) DD_PRINTF(4, 5);
/* Replaces the remedy of an error already filled; returns its code. */
dd_status dd_fail_remedy(dd_error *error, dd_status status, const char *format, ...) DD_PRINTF(3, 4);
#endif
