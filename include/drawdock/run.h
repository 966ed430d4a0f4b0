/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file run.h
 *  One run of a scenario in time: step, look, save, restore. */
#ifndef DRAWDOCK_RUN_H
#define DRAWDOCK_RUN_H
#include <drawdock/case.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct dd_run dd_run;     /**< one run: not shared between threads; the dd_case it was made from is copied */

/** What an observer sees of a run. World and boat frames as in shore.h and hull.h. */
typedef struct dd_run_view {
    double time;              /**< since the start, s */
    int step;                 /**< index of the procedure's step */
    double rig_x;             /**< rear axle of the vehicle, m seaward of the crest */
    double hub_depth, rear_support_depth; /**< water over the rearmost hub and support, m; negative: above the water */
    dd_vec3 hull_in_trailer;  /**< boat's origin, trailer frame, m */
    double heel, trim, heading; /**< rad: port down, bow down, bow to port of the trailer's line */
    double strap_tension;     /**< N */
    double support_load;      /**< sum of the supports' normal loads, N */
    int finished;             /**< 1: the procedure has ended */
} dd_run_view;

/** Called now and then. Return non-zero to cancel. share: 0..1 of the work, as far as it is known; time: of the run, s. */
typedef int (*dd_progress)(double share, double time, void *context);

/** Prepares a run and solves its start by equilibrium; *run is NULL on an error. Errors: as of the parts' ..._create(), a start
 *  that cannot be (DD_ERROR_ARGUMENT), DD_ERROR_NO_EQUILIBRIUM, DD_ERROR_MEMORY. */
DD_API DD_CHECKED dd_status dd_run_create(const dd_case *scenario, dd_run **run, dd_error *error);
DD_API void dd_run_free(dd_run *run); /**< NULL is allowed */
/** Advances by one accepted step of the integrator; goes on past the end of the procedure, which dd_run_state() tells. Errors:
 *  DD_ERROR_STEP, DD_ERROR_NOT_FINITE, DD_ERROR_LIBRARY; the place is the time in the run. */
DD_API DD_CHECKED dd_status dd_run_step(dd_run *run, dd_error *error);
/** The run as it stands after its last step. */
DD_API void dd_run_state(const dd_run *run, dd_run_view *view);
/** Saves the run as bytes (malloc'ed). The integrator restarts at the save point, in the saving run as in the restored one:
 *  both then give the same bits. Errors: DD_ERROR_MEMORY, those of a restart. */
DD_API DD_CHECKED dd_status dd_run_save(dd_run *run, void **bytes, size_t *size, dd_error *error);
/** Puts a run back to a saved point. It must come from the same scenario, every value of it, and the same tolerance.
 *  Errors: DD_ERROR_ARGUMENT: no saved run, or one of another scenario; DD_ERROR_MEMORY. */
DD_API DD_CHECKED dd_status dd_run_restore(dd_run *run, const void *bytes, size_t size, dd_error *error);

#ifdef __cplusplus
}
#endif
#endif
