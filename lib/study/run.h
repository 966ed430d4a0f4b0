/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inside of a run, for lib/study and for tests that step it with another integrator. */
#ifndef DD_STUDY_RUN_H
#define DD_STUDY_RUN_H
#include "lib/crew/procedure.h"
#include "lib/motion/ledger.h"
#include "lib/study/start.h"
#include <drawdock/run.h>

struct dd_run {
    dd_study_model *m;
    dd_ode *ode;
    dd_ledger *ledger;
    dd_procedure procedure;
    double *y, *middle, *absolute, *relative; /* m->system->size each */
    dd_ode_problem problem;
    dd_crew crew;
    int watches_capture; /* some step ends at a capture */
    double weight;       /* of the hull, N */
    double strap_length; /* whole, m; 0: no strap */
    double clear_since; /* time since which nothing carries the hull; NaN: something does */
    double ledger_bound;
    dd_ledger_balance closed; /* the last that closed */
    dd_equilibrium start;
    dd_observation seen; /* at the end of the last step */
    dd_run_view view;
    /* Called with the workspace evaluated (with channels) in the middle and at the end of each accepted
       step, before the procedure goes on; it may evaluate at other times. NULL: nobody looks. */
    dd_status (*look)(dd_run *run, double t, int at_end, void *context, dd_error *error);
    void *look_context;
};

/* stepper NULL: bdf. rtol 0: by the scenario's tolerance. */
dd_status dd_run_create_with(const dd_case *scenario, const dd_stepper *stepper, double relative_tolerance, dd_run **run,
                             dd_error *error);
/* At the fine tolerance, its ledger held to what the scenario's own asks: where that one does not close at its own. */
dd_status dd_run_create_finer(const dd_case *scenario, dd_run **run, dd_error *error);
/* Evaluates everything, channels included, at a time within the last step; 0 or non-zero as dd_system_evaluate. */
int dd_run_evaluate(dd_run *run, double t, int want);
/* Sum of the supports' and the stop's loads at the workspace's evaluation, N. */
double dd_run_carried(const dd_run *run);
void dd_run_observe(const dd_run *run, dd_observation *seen);
#endif
