/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/ode/gsl.h"

#include <gsl/gsl_errno.h>
#include <stdatomic.h>

enum { NOT_DONE, IN_WORK, DONE };

void dd_gsl_quiet(void)
{
    /* Not data of ours but the once-only guard of GSL's own process-wide handler. */
    static atomic_int progress = NOT_DONE;
    int expected = NOT_DONE;
    if (atomic_load(&progress) == DONE) return;
    if (atomic_compare_exchange_strong(&progress, &expected, IN_WORK)) {
        gsl_error_handler_t *found = gsl_set_error_handler_off();
        if (found != NULL) /* GSL answers NULL for its default */
            gsl_set_error_handler(found);
        atomic_store(&progress, DONE);
        return;
    }
    /* Another thread is at it, for nanoseconds: nobody may call GSL before it has finished. */
    while (atomic_load(&progress) != DONE) continue;
}
