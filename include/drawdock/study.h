/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file study.h
 *  The questions that the command line asks, as calls. */
#ifndef DRAWDOCK_STUDY_H
#define DRAWDOCK_STUDY_H
#include <drawdock/case.h>
#include <drawdock/result.h>
#include <drawdock/run.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Simulates the scenario; one row per record interval. *result is filled also when the run could not be completed (verdict
 *  DD_VERDICT_INCOMPLETE), and NULL when it could not begin; end it with dd_result_free(). progress may be NULL. Errors:
 *  those of dd_run_create() and dd_run_step(), DD_ERROR_CANCELLED. A broken limit is a result, not an error. */
DD_API DD_CHECKED dd_status dd_study_run(const dd_case *scenario, dd_progress progress, void *context, dd_result **result,
                                         dd_error *error);
/** Follows the equilibrium as the rig goes down in still water (the current is left out): one row per position. *result as
 *  above; that the boat has no equilibrium any more, and falls, is a result. */
DD_API DD_CHECKED dd_status dd_study_settle(const dd_case *scenario, dd_progress progress, void *context, dd_result **result,
                                            dd_error *error);

#ifdef __cplusplus
}
#endif
#endif
