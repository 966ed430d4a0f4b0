/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `run`: the scenario in time, recorded. */
#include "lib/base/error.h"
#include "lib/study/picture.h"
#include "lib/study/shapes.h"
#include "lib/study/verdict.h"
#include <drawdock/study.h>
#include <stdio.h>

typedef struct study {
    dd_run *run;
    dd_recorder *recorder;
    dd_watcher *watcher;
    dd_drawing *drawing; /* the recorder's */
    dd_extremes extremes;
    double next_row, interval;
    int hooked, step;
    dd_force_figures forces[DD_RESULT_FORCES];
} study;

static dd_status record_row(study *s, const dd_seen *seen)
{
    dd_seen row = *seen;
    row.v[DD_SEEN_STEP] = s->run->procedure.step + 1;
    return dd_seen_row(s->run->m, &row, s->recorder);
}

/* Rows that fall within the last step, then the run's own state again. */
static dd_status record_until(study *s, double t, dd_error *error)
{
    dd_seen seen;
    dd_status status = DD_OK;
    while (status == DD_OK && s->next_row <= t) {
        if (dd_run_evaluate(s->run, s->next_row, DD_WANT_CHANNELS) != 0)
            return dd_fail(error, DD_ERROR_NOT_FINITE, "run", "at %.3f s the forces are not finite", s->next_row);
        dd_seen_read(s->run->m, 0, &seen);
        status = record_row(s, &seen);
        s->next_row += s->interval;
    }
    return status;
}

/* Largest force of each kind: on the hull, or on the rig where it does not touch the hull. */
static void note_forces(study *s, double t)
{
    const dd_workspace *w = s->run->m->workspace;
    for (int f = 0; f < w->system->force_count && f < DD_RESULT_FORCES; f++) {
        double hull[6], rig[DD_RIG_COORDINATES];
        dd_system_force_load(w, f, hull, rig);
        double size = w->system->forces[f].kind->acts_on == DD_ACTS_ON_RIG
                          ? hypot(rig[DD_RIG_X], rig[DD_RIG_HEAVE])
                          : sqrt(hull[0] * hull[0] + hull[1] * hull[1] + hull[2] * hull[2]);
        if (size > s->forces[f].largest_force) s->forces[f].largest_force = size, s->forces[f].largest_time = t;
    }
}

static dd_status look(dd_run *run, double t, int at_end, void *context, dd_error *error)
{
    study *s = context;
    dd_seen seen;
    dd_seen_read(run->m, 0, &seen);
    if (at_end && dd_watcher_wants_roll(s->watcher, &seen)) {
        if (dd_run_evaluate(run, t, DD_WANT_CHANNELS | DD_WANT_GRADIENT) != 0)
            return dd_fail(error, DD_ERROR_NOT_FINITE, "run", "at %.3f s the forces are not finite", t);
        dd_seen_read(run->m, 1, &seen);
    }
    seen.v[DD_SEEN_STEP] = run->procedure.step + 1;
    dd_extremes_add(&s->extremes, &seen);
    note_forces(s, t);
    dd_drawing_see(run->m, &run->m->workspace->kinematics, &seen, s->drawing);
    dd_status status = dd_watcher_look(s->watcher, &seen, error);
    if (status == DD_OK && at_end) status = record_until(s, t, error);
    return status;
}

static dd_status say_steps(study *s)
{
    const dd_run *run = s->run;
    const int hooked = run->m->workspace->plan.set.strap_hooked;
    dd_status status = DD_OK;
    if (hooked != s->hooked)
        status = dd_watcher_say(s->watcher, &s->extremes.last, hooked ? "hooked on" : "strap off", "by the procedure");
    if (status == DD_OK && run->procedure.step != s->step) {
        const int kind = run->m->scenario.steps[run->procedure.step].kind;
        if (kind == DD_STEP_PULL_OUT || kind == DD_STEP_HAUL_OUT)
            dd_watcher_note(s->watcher, &s->extremes.last, "pull-out begins");
        char name[48];
        snprintf(name, sizeof name, "step %d: %s", run->procedure.step + 1,
                 dd_step_name(run->m->scenario.steps[run->procedure.step].kind));
        status = dd_watcher_say(s->watcher, &s->extremes.last, name, "the procedure goes on");
    }
    s->hooked = hooked;
    s->step = run->procedure.step;
    return status;
}

static dd_status go(study *s, dd_progress progress, void *context, dd_error *error)
{
    const double limit = s->run->m->scenario.time_limit;
    dd_run_view view;
    for (dd_run_state(s->run, &view); !view.finished; dd_run_state(s->run, &view)) {
        if (progress != NULL && progress(fmin(1.0, view.time / limit), view.time, context) != 0)
            return dd_fail(error, DD_ERROR_CANCELLED, "run", "cancelled at %.2f s", view.time);
        dd_status status = dd_run_step(s->run, error);
        if (status == DD_OK) status = say_steps(s);
        if (status != DD_OK) return status;
        if (dd_ode_time(s->run->ode) >= limit || dd_ode_time(s->run->ode) >= dd_watcher_ends(s->watcher))
            return DD_OK; /* the procedure still runs: the verdict says so */
    }
    return DD_OK;
}

static dd_status begin(study *s, dd_error *error)
{
    dd_run *run = s->run;
    dd_seen seen;
    s->interval = run->m->scenario.record_interval;
    s->hooked = run->m->workspace->plan.set.strap_hooked;
    dd_status status = dd_seen_columns(run->m, s->recorder);
    if (status == DD_OK) status = dd_watcher_create(run, s->recorder, &s->watcher, error);
    if (status != DD_OK) return status;
    dd_seen_read(run->m, 0, &seen);
    dd_shapes_add(run->m, s->drawing);
    dd_drawing_see(run->m, &run->m->workspace->kinematics, &seen, s->drawing);
    dd_watcher_draw(s->watcher, s->drawing);
    dd_extremes_add(&s->extremes, &seen);
    dd_watcher_begin(s->watcher, &seen);
    run->look = look;
    run->look_context = s;
    s->next_row = s->interval;
    status = record_row(s, &seen);
    return status == DD_OK ? dd_picture_draw(run->m, &run->m->workspace->kinematics, s->hooked, -1, s->recorder) : status;
}

static void take_figures(study *s, bool failed)
{
    dd_result *r = dd_recorder_result(s->recorder);
    const dd_ode_statistics *statistics = dd_ode_statistics_of(s->run->ode);
    const dd_ledger_balance b = failed ? dd_ledger_balance_of(s->run->ledger) : s->run->closed;
    r->ledger_residual = fmax(b.energy_residual, b.momentum_residual);
    r->ledger_bound = s->run->ledger_bound;
    r->energy_exchanged = b.energy_exchanged;
    r->derivatives = statistics->derivatives;
    r->jacobians = statistics->jacobians;
    r->steps = statistics->steps;
    const dd_system *system = s->run->m->system;
    r->force_count = system->force_count < DD_RESULT_FORCES ? system->force_count : DD_RESULT_FORCES;
    for (int f = 0; f < r->force_count; f++) {
        r->forces[f] = s->forces[f];
        r->forces[f].work = dd_ledger_work(s->run->ledger, f);
        snprintf(r->forces[f].name, sizeof r->forces[f].name, "%s", system->forces[f].kind->name);
    }
}

/* again: at the fine tolerance, since the ledger did not close at the standard one. */
static dd_status run_once(const dd_case *scenario, bool again, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    study s = {0};
    dd_error failure = {.status = DD_OK};
    *result = NULL;
    dd_status status = again ? dd_run_create_finer(scenario, &s.run, error) : dd_run_create(scenario, &s.run, error);
    if (status != DD_OK) return status;
    s.recorder = dd_recorder_create(scenario->title, "run");
    s.drawing = s.recorder != NULL ? dd_drawing_create() : NULL;
    if (s.recorder != NULL) dd_recorder_drawing(s.recorder, s.drawing);
    if (s.drawing == NULL) {
        dd_recorder_free(s.recorder);
        dd_run_free(s.run);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_study_run", "no memory for the record");
    }
    status = begin(&s, &failure);
    if (status == DD_OK) status = go(&s, progress, context, &failure);
    if (status != DD_OK && failure.status == DD_OK) (void)dd_fail(&failure, status, "run", "%s", dd_status_text(status));
    if (s.watcher == NULL) { /* nothing was computed yet: no result, and no verdict */
        dd_recorder_free(s.recorder);
        dd_run_free(s.run);
        if (error != NULL) *error = failure;
        return status;
    }
    if (again)
        (void)dd_recorder_assumed(s.recorder, "Tolerance: fine, since at the standard one the ledger of momentum and energy did not close");
    if (dd_verdict_of(s.run, &s.extremes, s.watcher, &failure, s.recorder) == DD_OK) take_figures(&s, failure.status != DD_OK);
    dd_drawing_end(s.run->m, s.drawing);
    if (s.drawing->failed) (void)dd_recorder_no_memory(s.recorder);
    dd_status finished = dd_recorder_finish(s.recorder, result, error);
    if (status != DD_OK && error != NULL) *error = failure;
    dd_watcher_free(s.watcher);
    dd_run_free(s.run);
    return status != DD_OK ? status : finished;
}

dd_status dd_study_run(const dd_case *scenario, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    const dd_status status = run_once(scenario, false, progress, context, result, error);
    if (status != DD_ERROR_LEDGER || scenario->tolerance != DD_TOLERANCE_STANDARD) return status;
    dd_result_free(*result);
    return run_once(scenario, true, progress, context, result, error);
}
