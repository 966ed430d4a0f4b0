/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file study.h
 *  The questions that the command line asks, as calls. */
#ifndef DRAWDOCK_STUDY_H
#define DRAWDOCK_STUDY_H
#include <drawdock/case.h>
#include <drawdock/clock.h>
#include <drawdock/report.h>
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
/** Follows the equilibrium as the rig goes down in still water at the level of time 0 (current, rise, waves and wind are left
 *  out, and said): one row per position. *result as above; that the boat has no equilibrium any more, and falls, is a result. */
DD_API DD_CHECKED dd_status dd_study_settle(const dd_case *scenario, dd_progress progress, void *context, dd_result **result,
                                            dd_error *error);
/** A study: dd_study_run() or dd_study_settle(). */
typedef dd_status (*dd_study)(const dd_case *scenario, dd_progress progress, void *context, dd_result **result, dd_error *error);
/** The study with every figure at its likely value, then with each estimate of the boat and each support's height (within
 *  limits.height tolerance) at its low and at its high end alone, and with all at their worse ends together. *result is the
 *  first of them with its `bands` filled: whether the verdict holds and, if not, which figures decide. Errors: as of the study;
 *  a figure at whose end nothing can be computed is a result. */
DD_API DD_CHECKED dd_status dd_study_bands(const dd_case *scenario, dd_study study, dd_progress progress, void *context,
                                           dd_result **result, dd_error *error);

/** What the rig weighs in every state of loading: masses and centres, loads on coupling, axles, tyres and vehicle on level ground, each
 *  against its rating and the rules that the scenario names. The scenario needs no ramp, water or procedure. *report is NULL on an
 *  error; end it with dd_report_free(). A broken limit is a result, not an error. Errors: DD_ERROR_ARGUMENT, DD_ERROR_UNSET (the place
 *  names the field), DD_ERROR_NO_EQUILIBRIUM (the boat does not lie on its supports), DD_ERROR_MEMORY. */
DD_API DD_CHECKED dd_status dd_study_weigh(const dd_case *scenario, dd_report **report, dd_error *error);

/** Which of these trailers carries the scenario's boat: each in the place of the scenario's own, smallest first, with the first limit
 *  that it breaks (or the tightest that it keeps), and the smallest that passes every limit with `reserve` (a share, 0 to below 1) left
 *  of every rating. *report, errors: as dd_study_weigh(); a trailer on which nothing can be computed is a result. */
DD_API DD_CHECKED dd_status dd_study_which_trailer(const dd_case *scenario, const dd_trailer_parameters *const *trailers, int count,
                                                   double reserve, dd_report **report, dd_error *error);

/** How the trailer carries the hull, standing still on level ground, on ramps and on the road: the load on every support, likely and at
 *  the worst of its height tolerance, where it meets the hull, what happens when one fails. The scenario needs no ramp, water or
 *  procedure. *report, errors: as dd_study_weigh(). */
DD_API DD_CHECKED dd_status dd_study_seat(const dd_case *scenario, dd_report **report, dd_error *error);

/** How to set the trailer up for this boat: what to shift within the travels that the scenario gives (`adjust` of supports, winch post
 *  and axles, heights of rockers), in whole steps, so that what it asks is met over the height tolerance and the loads are even. *report:
 *  that list, loads and requirements before and after, why one is not met and which to drop, then the report of dd_study_seat() on the
 *  rig as adjusted; never worse than the rig as it stands. *changes: one override "KEY=VALUE" a line that makes the adjusted scenario of
 *  the given one, to the same bits; empty: nothing to shift; free() it. progress may be NULL. Errors: as dd_study_seat(); DD_ERROR_UNSET:
 *  nothing can be shifted, DD_ERROR_ARGUMENT: a travel that never meets the hull (the place names its key), DD_ERROR_CANCELLED. */
DD_API DD_CHECKED dd_status dd_study_adjust(const dd_case *scenario, dd_progress progress, void *context, dd_report **report,
                                            char **changes, dd_error *error);

/** Whether the ramp is deep enough: at the water level of time 0 the shallowest, the best and the deepest place of the rig (by the depth at
 *  hub and rear support, marks on the wheel), what binds at both ends, and the least level at which there is a place at all; for the
 *  scenario's action, as its procedure goes about it (pushed or driven off, wound or driven on, uncoupled, tilted). In still water and in
 *  the rig's own plane. *report as dd_study_weigh(); that no place works is a broken limit. Errors: as dd_study_weigh(); DD_ERROR_UNSET: a
 *  scenario for the road alone; DD_ERROR_ARGUMENT: the ramp never gets wet enough (the place names the key).
 *  levels: how many further levels the band is found at for a table, with one of other slopes and the lines of cross-sections; 0: none,
 *  ten times as quick. clock: the place's, for the tide's times; NULL: UTC. */
DD_API DD_CHECKED dd_status dd_study_ramp_depth(const dd_case *scenario, int levels, const dd_clock *clock, dd_report **report,
                                                dd_error *error);

/** When: a day, or a year, by a place's clock. */
typedef struct dd_windows_asked {
    dd_date date;      /**< whole_year: its year */
    int whole_year; /**< 1: the year of date, day by day */
    double launch_at, back_at; /**< of a day: can one launch and retrieve then? By the clock, s after midnight; NaN: not asked */
    dd_clock clock;    /**< local time, its changes known from a day before the span to a day after it */
    double now;        /**< when the calendar file is made, s UTC */
} dd_windows_asked;

/** The clock times at which a ramp can be used, by the tide that the first scenario states: each scenario (one to eight, launches and
 *  retrieves) with the levels at which it works, the windows in which the tide stands there, hours a day and share of daylight; of a year
 *  each day's, the worst days, springs and neaps apart. *report as dd_study_weigh(); no window, or a time asked for that falls
 *  into none, is a broken limit. *calendar: the windows as an iCalendar file; free() it; calendar may be NULL. Errors: as
 *  dd_study_ramp_depth(); DD_ERROR_UNSET: no tide is stated, or a time is asked for and no scenario of that action; DD_ERROR_ARGUMENT: a date that is none or that the tide is not known for, a clock
 *  time that the clocks are put forward over, a ramp that ends above the highest water. */
DD_API DD_CHECKED dd_status dd_study_windows(const dd_case *const *scenarios, int count, const dd_windows_asked *asked, dd_report **report,
                                             char **calendar, dd_error *error);

/** What stops, holds and pushes back the rig, with no, overrun, electric and electric-over-hydraulic brakes side by side: a stop from a speed on
 *  the dry and the wet road, setting of the controller, holding on a ramp, pushing back up a drive, breaking away, a long descent, the
 *  swing, published rules. The scenario needs no ramp, water or procedure; what is asked is in `braking`. *report, errors: as
 *  dd_study_weigh(); DD_ERROR_ARGUMENT: a speed above 130 km/h or a grade above 30 %; those of the integrator. */
DD_API DD_CHECKED dd_status dd_study_brake(const dd_case *scenario, dd_report **report, dd_error *error);

/** A rig of a fleet as read: its launch and its retrieve, each NULL where it is not asked. */
typedef struct dd_fleet_member {
    const dd_case *launch, *retrieve; /**< read scenarios; NULL: not asked */
} dd_fleet_member;
/** Which share of a fleet can launch and retrieve on the scenario's ramp against the water level: the scenario's own rig, those of its list
 *  (rigs: one for each), and those drawn from them; what the ramp changed, and the sea risen, make of it; with a tide the hours a day.
 *  Each rig's answer is the least level of dd_study_ramp_depth(). threads: how many work at once, 0: as many as there are; the result is the
 *  same to the bit. A rig that cannot be computed is counted and named in the report. *report as dd_study_weigh(). progress may be NULL.
 *  Errors: DD_ERROR_UNSET (a scenario for the road alone, a fleet of none); DD_ERROR_ARGUMENT (a ramp that cannot be changed so, lengths out of
 *  order, no rig could be computed); DD_ERROR_CANCELLED; DD_ERROR_MEMORY. */
DD_API DD_CHECKED dd_status dd_study_fleet(const dd_case *scenario, const dd_fleet_member *rigs, int threads, dd_progress progress,
                                           void *context, dd_report **report, dd_error *error);

#ifdef __cplusplus
}
#endif
#endif
