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

/** Simulates the scenario; *result is filled also when the run could not be completed (verdict DD_VERDICT_INCOMPLETE). */
DD_API DD_CHECKED dd_status dd_study_run(const dd_case *scenario, dd_progress progress, void *context, dd_result **result, dd_error *error);
/** Follows the equilibrium as the rig goes down in still water: one row per position. */
DD_API DD_CHECKED dd_status dd_study_settle(const dd_case *scenario, dd_progress progress, void *context, dd_result **result, dd_error *error);

#ifdef __cplusplus
}
#endif
#endif
