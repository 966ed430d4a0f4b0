/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/run.h"
#include "lib/study/settle.h"
#include "lib/base/error.h"
#include "lib/case/case.h"
#include "lib/force/coupling.h"
#include "lib/force/line.h"
#include "lib/force/roller.h"
#include "lib/force/jockey.h"
#include "lib/force/strap.h"
#include "lib/force/wheels.h"
#include "lib/study/feasible.h"
#include "lib/study/fit.h"
#include "lib/study/observe.h"
#include <stdlib.h>
#include <string.h>

static void keep_view(dd_run *run);
static void hook_strap(dd_run *run);
static void fasten(dd_run *run, const dd_force_kind *kind);
static dd_status stand_on_jockey(dd_run *run, double t, dd_error *error);

static const double slack_when_hooked = 0.1; /* a hand's breadth, m */
static const double longest_step = 0.05; /* so that a touch-and-go is seen, s */
static const double tolerance_of[] = {[DD_TOLERANCE_STANDARD] = 1e-5, [DD_TOLERANCE_FINE] = 1e-6};

/* Bound of the ledger's residual for a tolerance: the forces' own share of the error grows with it. */
static double bound_for(double relative_tolerance) { return 20.0 * relative_tolerance; }

static dd_status not_finite(const dd_run *run, double t, dd_error *error)
{
    return dd_fail(error, DD_ERROR_NOT_FINITE, "run", "at %.3f s force %s gives a value that is not finite", t,
                   run->m->workspace->bad != NULL ? run->m->workspace->bad->name : "of the equations of motion");
}

/* Integrator and ledger begin at run->y without history: at the start, where the forces jump, at a save point. */
static dd_status restart(dd_run *run, double t, dd_error *error)
{
    const dd_commands commands = dd_plan_at(&run->m->workspace->plan, t);
    const bool struck = dd_system_hold(run->m->system, &commands, run->y);
    dd_status status = dd_ode_start(run->ode, t, run->y, 0.0, error);
    if (status != DD_OK) return status;
    if (dd_system_evaluate(run->m->workspace, t, run->y, DD_WANT_ACCELERATION | DD_WANT_CHANNELS) != 0)
        return not_finite(run, t, error);
    dd_ledger_open(run->ledger, run->m->workspace);
    if (struck) dd_ledger_strike(run->ledger, run->m->workspace);
    return DD_OK;
}

/* --- start ------------------------------------------------------------------------------------------------------ */

/* Brakes hold the rig from the first instant: the wheels' memory that carries what is left along the ramp. */
static dd_status set_brakes(dd_run *run, double time, dd_error *error)
{
    dd_study_model *m = run->m;
    const dd_motion rest = {{0}, {0}};
    const dd_system_force *wheels = dd_system_find(m->system, &dd_force_wheels);
    for (int i = 0; wheels != NULL && i < 3; i++) {
        dd_system_pack(m->system, &run->start.pose, &rest, m->memory, run->y);
        if (dd_system_evaluate(m->workspace, time, run->y, DD_WANT_GRADIENT) != 0)
            return dd_fail(error, DD_ERROR_NOT_FINITE, "start", "force %s gives a value that is not finite",
                           m->workspace->bad != NULL ? m->workspace->bad->name : "?");
        dd_wheels_hold(wheels->instance, &m->workspace->kinematics, &m->workspace->commands, -m->workspace->rig_load[DD_RIG_X],
                       m->memory + wheels->memory_first);
    }
    return DD_OK;
}

static dd_status settle_launch(dd_run *run, double x, dd_error *error)
{
    dd_study_model *m = run->m;
    dd_settle settle;
    dd_error why;
    /* Wound home on the approach, then driven to the start: the strap's length and the friction are those of home. */
    dd_status status = dd_settle_begin(m, DD_FRICTION_WOUND_IN, x, x - DD_STUDY_APPROACH, &settle, &why);
    if (status == DD_OK) {
        run->start = settle.at;
        memcpy(m->memory, settle.memory, (size_t)m->system->memory_count * sizeof(double));
        dd_settle_end(&settle);
    }
    if (status == DD_ERROR_NO_EQUILIBRIUM)
        return dd_fail(error, DD_ERROR_ARGUMENT, "start", "the boat does not stay on this trailer as far as the start: %.300s", why.message);
    if (status != DD_OK && error != NULL) *error = why;
    return status;
}

static dd_status settle_retrieve(dd_run *run, double x, dd_error *error)
{
    dd_study_model *m = run->m;
    dd_pose rig = dd_study_rig_pose(m, x), from = dd_study_home_pose(m, x);
    dd_status status = dd_study_fit_home(m, &from, error);
    if (status != DD_OK) return status;
    m->workspace->plan.set.strap_hooked = 0;
    memset(m->memory, 0, (size_t)m->system->memory_count * sizeof(double));
    status = dd_study_afloat_pose(m, &rig, &m->scenario.start, &from, error);
    if (status != DD_OK) return status;
    /* Trailer first, then the boat to where the trailer's coordinates say. */
    status = dd_equilibrium_find(m->workspace, 0, &from, m->memory, DD_FREE_RIG, &run->start, error);
    if (status == DD_OK) status = dd_study_afloat_pose(m, &run->start.pose, &m->scenario.start, &from, error);
    if (status != DD_OK) return status;
    memcpy(from.rig, run->start.pose.rig, sizeof from.rig);
    return dd_equilibrium_find(m->workspace, 0, &from, m->memory, DD_FREE_RIG | DD_FREE_HULL_UPRIGHT, &run->start, error);
}

/* The ground carries no hull here: a boat that would lie in it at its start cannot be computed. */
static dd_status check_start(const dd_run *run, dd_error *error)
{
    dd_study_model *m = run->m;
    const double clearance = dd_study_keel_clearance(m, &m->workspace->kinematics);
    if (clearance >= 0) return DD_OK;
    if (m->scenario.action == DD_ACTION_LAUNCH)
        return dd_fail(
            error, DD_ERROR_ARGUMENT, "start",
            "the keel reaches %.2f m into the ground with the boat on its trailer; higher supports or another start are needed",
            -clearance);
    return dd_fail(error, DD_ERROR_ARGUMENT, "start",
                   "the boat lies aground: it lacks %.2f m of water to float where the start puts it; a deeper hub or a longer "
                   "bow distance is needed",
                   -clearance);
}

static dd_status settle_start(dd_run *run, dd_error *error)
{
    dd_study_model *m = run->m;
    const bool launch = m->scenario.action == DD_ACTION_LAUNCH;
    double x = 0;
    dd_status status = dd_study_position(m, m->scenario.start.hub_depth, &x, error);
    for (int i = 0; status == DD_OK && i < 4; i++) {
        status = launch ? settle_launch(run, x, error) : settle_retrieve(run, x, error);
        if (status != DD_OK) break;
        double miss = m->scenario.start.hub_depth - dd_study_hub_depth(m, &m->workspace->kinematics);
        if (fabs(miss) < 1e-6) break;
        double slope = -dd_ramp_at(m->ramp, x).slope;
        x += miss / fmax(0.02, slope);
    }
    if (status == DD_OK) status = set_brakes(run, 0.0, error);
    if (status == DD_OK) status = check_start(run, error);
    /* Brakes push at the ground, so the trailer's pitch and with it all else follow a little. */
    for (int i = 0; status == DD_OK && i < 3; i++) {
        const dd_pose from = run->start.pose;
        status = dd_equilibrium_find(m->workspace, 0, &from, m->memory,
                                     launch ? DD_FREE_ALL : DD_FREE_RIG | DD_FREE_HULL_UPRIGHT, &run->start, error);
        if (status == DD_OK) status = set_brakes(run, 0.0, error);
    }
    return status;
}

/* --- making and freeing ------------------------------------------------------------------------------------------ */

static dd_status make_arrays(dd_run *run, dd_error *error)
{
    const size_t n = (size_t)run->m->system->size;
    run->y = calloc(4 * n, sizeof(double));
    if (run->y == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_run_create", "no memory for the state of a run");
    run->middle = run->y + n;
    run->absolute = run->middle + n;
    run->relative = run->absolute + n;
    return DD_OK;
}

/* What is on and off as the run starts, and who is there. */
static void set_start(dd_run *run)
{
    const dd_case *scenario = &run->m->scenario;
    dd_plan *plan = &run->m->workspace->plan;
    plan->set.strap_hooked = dd_case_starts_hooked(scenario);
    plan->set.chain_hooked = scenario->start.chain == DD_START_ON;
    plan->set.ties_hooked = scenario->start.ties == DD_START_ON;
    const double tilt = dd_case_starts_with_engine_down(scenario) ? 0 : 1;
    plan->engine_tilt = (dd_ramped){.from = tilt, .to = tilt};
    run->crew = (dd_crew){.steps = scenario->steps,
                          .count = scenario->step_count,
                          .limits = &scenario->limits,
                          .skipper = dd_skipper_complete(&scenario->skipper)};
    for (int i = 0; i < scenario->step_count; i++) run->watches_capture |= scenario->steps[i].until.captured == 1;
}

static dd_status begin(dd_run *run, const dd_stepper *stepper, double rtol, dd_error *error)
{
    dd_study_model *m = run->m;
    dd_motion motion = {{0}, {0}};
    motion.twist[0] = m->scenario.action == DD_ACTION_RETRIEVE ? m->scenario.start.speed : 0;
    set_start(run);
    dd_system_tolerances(m->system, rtol, run->absolute, run->relative);
    run->problem = (dd_ode_problem){.size = (size_t)m->system->size,
                                    .derivative = dd_system_derivative,
                                    .jacobian = dd_system_jacobian,
                                    .context = m->workspace,
                                    .relative_tolerance = rtol,
                                    .absolute = run->absolute,
                                    .relative = run->relative,
                                    .largest_step = longest_step,
                                    .inner_first = DD_STATE_MEMORY,
                                    .inner_count = (size_t)m->system->memory_count};
    run->ledger_bound = bound_for(rtol);
    dd_system_pack(m->system, &run->start.pose, &motion, m->memory, run->y);
    if (m->workspace->plan.set.ties_hooked) fasten(run, &dd_force_ties);
    if (m->workspace->plan.set.chain_hooked) fasten(run, &dd_force_chain);
    dd_status status = dd_ode_create(stepper != NULL ? stepper : &dd_stepper_bdf, &run->problem, &run->ode, error);
    if (status == DD_OK) status = dd_ledger_create(m->system, &run->ledger, error);
    if (status != DD_OK) return status;
    status = restart(run, 0.0, error); /* people look before they begin */
    if (status != DD_OK) return status;
    run->clear_since = NAN;
    dd_run_observe(run, &run->seen);
    const int hooked = m->workspace->plan.set.strap_hooked;
    dd_procedure_begin(&run->procedure, &run->crew, &run->seen, &m->workspace->plan);
    dd_procedure_steer(&run->procedure, &run->crew, &run->seen, &m->workspace->plan);
    if (m->workspace->plan.set.strap_hooked && (!hooked || m->scenario.action == DD_ACTION_RETRIEVE)) hook_strap(run);
    status = m->workspace->plan.set.uncoupled ? stand_on_jockey(run, 0.0, error) : DD_OK;
    if (status == DD_OK) status = restart(run, 0.0, error);
    if (status != DD_OK) return status;
    run->clear_since = dd_run_carried(run) < m->scenario.limits.afloat_share * run->weight ? 0.0 : NAN;
    dd_run_observe(run, &run->seen);
    keep_view(run);
    return DD_OK;
}

dd_status dd_run_create_with(const dd_case *scenario, const dd_stepper *stepper, double rtol, dd_run **result, dd_error *error)
{
    *result = NULL;
    dd_run *run = calloc(1, sizeof *run);
    if (run == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_run_create", "no memory for a run");
    dd_status status = dd_study_model_create(scenario, &run->m, error);
    if (status == DD_OK) {
        run->weight = dd_hull_mass(run->m->hull)->mass * run->m->model.gravity;
        const dd_system_force *strap = dd_system_find(run->m->system, &dd_force_strap);
        run->strap_length = strap != NULL ? dd_strap_whole_length(strap->instance) : 0;
        status = make_arrays(run, error);
    }
    if (status == DD_OK) status = dd_study_feasible(run->m, run->strap_length, error);
    if (status == DD_OK) status = settle_start(run, error);
    if (status == DD_OK) status = begin(run, stepper, rtol > 0 ? rtol : tolerance_of[scenario->tolerance], error);
    if (status != DD_OK) {
        dd_run_free(run);
        return status;
    }
    *result = run;
    return DD_OK;
}

dd_status dd_run_create(const dd_case *scenario, dd_run **run, dd_error *error)
{
    return dd_run_create_with(scenario, NULL, 0.0, run, error);
}

dd_status dd_run_create_finer(const dd_case *scenario, dd_run **run, dd_error *error)
{
    dd_status status = dd_run_create_with(scenario, NULL, tolerance_of[DD_TOLERANCE_FINE], run, error);
    if (status == DD_OK) (*run)->ledger_bound = bound_for(tolerance_of[scenario->tolerance]);
    return status;
}

void dd_run_free(dd_run *run)
{
    if (run == NULL) return;
    dd_ledger_free(run->ledger);
    dd_ode_free(run->ode);
    dd_study_model_free(run->m);
    free(run->y);
    free(run);
}

/* --- looking ----------------------------------------------------------------------------------------------------- */

double dd_run_carried(const dd_run *run)
{
    const dd_system *system = run->m->system;
    const double *channels = run->m->workspace->channels;
    const dd_system_force *rollers = dd_system_find(system, &dd_force_roller);
    double sum = 0;
    int load = dd_system_channel(system, &dd_force_roller, 0, "load_N");
    for (int i = 0; rollers != NULL && i < rollers->unit_count; i++) sum += channels[load + i * rollers->channel_count];
    int stop = dd_system_channel(system, &dd_force_bow_stop, 0, "stop_load_N");
    return sum + (stop >= 0 ? channels[stop] : 0.0);
}

static double channel_or(const dd_run *run, const dd_force_kind *kind, const char *name, double otherwise)
{
    int index = dd_system_channel(run->m->system, kind, 0, name);
    return index >= 0 ? run->m->workspace->channels[index] : otherwise;
}

/* The trailer carries the hull with its keel in two supports. */
static int is_captured(const dd_run *run)
{
    if (!run->watches_capture) return 0;
    dd_seen seen;
    dd_seen_read(run->m, 0, &seen);
    return seen.v[DD_SEEN_WITHIN] >= run->m->scenario.limits.stern_lift_share * run->weight;
}

void dd_run_observe(const dd_run *run, dd_observation *seen)
{
    const dd_study_model *m = run->m;
    const dd_kinematics *k = &m->workspace->kinematics;
    const dd_trailer_parameters *trailer = &m->rig->trailer;
    const double slope = dd_ramp_at(m->ramp, k->pose.rig[DD_RIG_X]).slope, along = sqrt(1 + slope * slope);
    const double tension = channel_or(run, &dd_force_strap, "strap_tension_N", 0.0);
    const dd_vec3 eye = dd_add(k->pose.position, dd_apply(&k->to_trailer, dd_hull_bow_eye(m->hull)));
    const dd_vec3 going = dd_apply(&k->to_trailer, dd_vec(k->relative_twist[0], k->relative_twist[1], k->relative_twist[2]));
    double heel, trim, heading;
    dd_attitude(k, &heel, &trim, &heading);
    *seen = (dd_observation){
        .time = k->time,
        .rig_speed = k->motion.rig[DD_RIG_X] * along,
        .rig_way = k->pose.rig[DD_RIG_X] * along,
        .hub_depth = dd_study_hub_depth(m, k),
        .rear_support_depth = dd_study_rear_support_depth(m, k),
        .distance_clear = dd_study_distance_clear(m, k),
        .stop_gap = channel_or(run, &dd_force_bow_stop, "stop_gap_m", INFINITY),
        .strap_tension = tension,
        .handle_force = channel_or(run, &dd_force_strap, "handle_force_N", 0.0),
        .winch_load = channel_or(run, &dd_force_strap, "winch_load", 0.0),
        .strap_missing = run->strap_length > 0 ? dd_strap_distance(&m->model, &k->pose) - run->strap_length : 0,
        .trailer_distance = k->pose.rig[DD_RIG_REACH],
        .trailer_height = k->pose.rig[DD_RIG_HEAVE] + dd_ball_drop(&m->model, k),
        .bed_tilt = k->pose.rig[DD_RIG_TILT],
        .trailer_speed = (k->motion.rig[DD_RIG_X] + k->motion.rig[DD_RIG_REACH]) * along,
        .bow_offset = -eye.y,
        .heading = heading,
        .approach = -going.x,
        .rear_end = dd_chassis_point(k, dd_vec(trailer->rear_end_behind_coupling, 0, 0)),
        .afloat = !isnan(run->clear_since) && k->time - run->clear_since >= m->scenario.limits.afloat_time,
        .carried = dd_run_carried(run) >= m->scenario.limits.afloat_share * run->weight,
        .captured = is_captured(run)};
}

int dd_run_evaluate(dd_run *run, double t, int want)
{
    dd_ode_interpolate(run->ode, t, run->middle);
    return dd_system_evaluate(run->m->workspace, t, run->middle, want);
}

static void keep_view(dd_run *run)
{
    const dd_kinematics *k = &run->m->workspace->kinematics;
    run->view = (dd_run_view){.time = dd_ode_time(run->ode),
                              .step = run->procedure.step,
                              .rig_x = k->pose.rig[DD_RIG_X],
                              .hub_depth = run->seen.hub_depth,
                              .rear_support_depth = run->seen.rear_support_depth,
                              .hull_in_trailer = k->pose.position,
                              .strap_tension = run->seen.strap_tension,
                              .support_load = dd_run_carried(run)};
    dd_attitude(k, &run->view.heel, &run->view.trim, &run->view.heading);
}

void dd_run_state(const dd_run *run, dd_run_view *view)
{
    *view = run->view;
    view->step = run->procedure.step;
    view->finished = run->procedure.state != DD_PROCEDURE_RUNS;
}

/* --- stepping ---------------------------------------------------------------------------------------------------- */

/* A strap just hooked on is as long as it has to be, with a hand's breadth of slack where there is so much. */
static void hook_strap(dd_run *run)
{
    const dd_system_force *strap = dd_system_find(run->m->system, &dd_force_strap);
    if (strap == NULL) return;
    const double needed = dd_strap_distance(&run->m->model, &run->m->workspace->kinematics.pose);
    run->y[DD_STATE_MEMORY + strap->memory_first] = fmax(needed, fmin(needed + slack_when_hooked, run->strap_length));
}

/* Ties just made fast are pulled to their pretension where the boat lies; a chain is as long as it has to be. */
static void fasten(dd_run *run, const dd_force_kind *kind)
{
    const dd_system_force *lines = dd_system_find(run->m->system, kind);
    if (lines == NULL) return;
    dd_kinematics k;
    dd_pose pose;
    dd_motion motion;
    dd_system_unpack(run->m->system, run->y, &pose, &motion);
    dd_kinematics_of(&run->m->model, 0, &pose, &motion, &k);
    dd_lines_fasten(lines->instance, &k, run->y + DD_STATE_MEMORY + lines->memory_first);
}

/* The jockey wheel is wound down until it has the coupling's load; then the coupling is lifted off. */
static dd_status stand_on_jockey(dd_run *run, double t, dd_error *error)
{
    const dd_study_model *m = run->m;
    const dd_system_force *jockey = dd_system_find(m->system, &dd_force_jockey);
    if (jockey == NULL) return DD_OK;
    if (dd_system_evaluate(m->workspace, t, run->y, 0) != 0) return not_finite(run, t, error);
    const dd_kinematics *k = &m->workspace->kinematics;
    dd_jockey_stand(jockey->instance, k, dd_ball_holds(&m->model, k),
                    run->y + DD_STATE_MEMORY + jockey->memory_first);
    return DD_OK;
}

static bool notices(const dd_run *run, const dd_observation *seen)
{
    return dd_procedure_notices(&run->procedure, &run->crew, seen);
}

static bool clear_of_supports(const dd_run *run, const dd_observation *seen)
{
    (void)seen;
    return dd_run_carried(run) < run->m->scenario.limits.afloat_share * run->weight;
}

/* The first moment of the last step at which something holds that holds at its end, to 1e-9 s, and what is seen then. */
static dd_status find_moment(dd_run *run, bool (*holds)(const dd_run *run, const dd_observation *seen), dd_observation *seen,
                             dd_error *error)
{
    double from = dd_ode_previous_time(run->ode), to = dd_ode_time(run->ode);
    while (to - from > 1e-9) {
        const double middle = 0.5 * (from + to);
        dd_observation at;
        if (dd_run_evaluate(run, middle, DD_WANT_CHANNELS) != 0) return not_finite(run, middle, error);
        dd_run_observe(run, &at);
        if (holds(run, &at)) {
            to = middle;
            *seen = at;
        } else {
            from = middle;
        }
    }
    return DD_OK;
}

/* Since when nothing carries the hull. */
static dd_status watch_afloat(dd_run *run, bool clear, dd_error *error)
{
    dd_observation seen = run->seen;
    if (!clear) run->clear_since = NAN;
    if (!clear || !isnan(run->clear_since)) return DD_OK;
    dd_status status = find_moment(run, clear_of_supports, &seen, error);
    run->clear_since = seen.time;
    return status;
}

/* A strap pulled beyond what it breaks at is off from the end of the step in which that is seen. */
static bool strap_parts(const dd_run *run)
{
    return run->m->workspace->plan.set.strap_hooked && run->seen.strap_tension > run->m->rig->trailer.winch.break_strength;
}

static dd_status follow_procedure(dd_run *run, dd_error *error)
{
    dd_study_model *m = run->m;
    const double t = dd_ode_time(run->ode);
    const bool parts = strap_parts(run);
    const int was_hooked = m->workspace->plan.set.strap_hooked, was_off = m->workspace->plan.set.uncoupled,
              were_tied = m->workspace->plan.set.ties_hooked, was_chained = m->workspace->plan.set.chain_hooked;
    dd_observation seen = run->seen;
    if (notices(run, &seen)) {
        dd_status found = find_moment(run, notices, &seen, error);
        if (found != DD_OK) return found;
    }
    const int changed = dd_procedure_advance(&run->procedure, &run->crew, &seen, &m->workspace->plan);
    dd_procedure_steer(&run->procedure, &run->crew, &run->seen, &m->workspace->plan); /* smooth */
    if (parts) m->workspace->plan.set.strap_hooked = 0;
    if (changed != 1 && !parts) return DD_OK;
    memcpy(run->y, dd_ode_state(run->ode), (size_t)m->system->size * sizeof(double));
    if (!was_hooked && m->workspace->plan.set.strap_hooked) hook_strap(run);
    if (!were_tied && m->workspace->plan.set.ties_hooked) fasten(run, &dd_force_ties);
    if (!was_chained && m->workspace->plan.set.chain_hooked) fasten(run, &dd_force_chain);
    if (!was_off && m->workspace->plan.set.uncoupled) {
        dd_status stood = stand_on_jockey(run, t, error);
        if (stood != DD_OK) return stood;
    }
    return restart(run, t, error);
}

static dd_status check_ledger(dd_run *run, dd_error *error)
{
    dd_ledger_balance b = dd_ledger_balance_of(run->ledger);
    if (b.energy_residual <= run->ledger_bound && b.momentum_residual <= run->ledger_bound) {
        run->closed = b;
        return DD_OK;
    }
    return dd_fail(error, DD_ERROR_LEDGER, "run",
                   "at %.3f s the ledger does not close: energy %.2e, momentum %.2e of what was exchanged, bound %.2e",
                   dd_ode_time(run->ode), b.energy_residual, b.momentum_residual, run->ledger_bound);
}

dd_status dd_run_step(dd_run *run, dd_error *error)
{
    dd_study_model *m = run->m;
    dd_status status = dd_ode_step(run->ode, dd_procedure_acts_at(&run->procedure), error);
    if (status == DD_ERROR_STEP && m->workspace->bad != NULL) /* the last trial failed by a force, not by its accuracy */
        return not_finite(run, m->workspace->kinematics.time, error);
    if (status != DD_OK) return status;
    const double t = dd_ode_time(run->ode), before = dd_ode_previous_time(run->ode);
    if (dd_run_evaluate(run, 0.5 * (t + before), DD_WANT_ACCELERATION | DD_WANT_CHANNELS) != 0)
        return not_finite(run, 0.5 * (t + before), error);
    dd_ledger_middle(run->ledger, m->workspace);
    if (run->look != NULL) status = run->look(run, 0.5 * (t + before), 0, run->look_context, error);
    if (status != DD_OK) return status;
    if (dd_system_evaluate(m->workspace, t, dd_ode_state(run->ode), DD_WANT_ACCELERATION | DD_WANT_CHANNELS) != 0)
        return not_finite(run, t, error);
    dd_ledger_close(run->ledger, m->workspace, t - before);
    const bool clear = clear_of_supports(run, NULL);
    dd_run_observe(run, &run->seen);
    keep_view(run);
    if (run->look != NULL) status = run->look(run, t, 1, run->look_context, error);
    if (status == DD_OK) status = check_ledger(run, error);
    if (status == DD_OK) status = watch_afloat(run, clear, error);
    return status == DD_OK ? follow_procedure(run, error) : status;
}

/* --- saving ------------------------------------------------------------------------------------------------------ */

typedef struct saved_head {
    char magic[8];
    size_t size, states;
    uint64_t scenario; /* its fingerprint */
    double relative_tolerance, time, clear_since;
    dd_procedure procedure;
    dd_plan plan;
} saved_head;

static const char magic[8] = "ddrun04";

/* Both the saving and the restored run go on from here without history. */
static dd_status go_on(dd_run *run, double t, dd_error *error)
{
    dd_status status = restart(run, t, error);
    if (status == DD_OK) {
        dd_run_observe(run, &run->seen);
        keep_view(run);
    }
    return status;
}

dd_status dd_run_save(dd_run *run, void **bytes, size_t *size, dd_error *error)
{
    const size_t states = (size_t)run->m->system->size;
    *size = sizeof(saved_head) + states * sizeof(double) + dd_ledger_size(run->ledger);
    *bytes = calloc(1, *size);
    if (*bytes == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_run_save", "no memory for %zu bytes", *size);
    saved_head head;
    memset(&head, 0, sizeof head);
    memcpy(head.magic, magic, sizeof magic);
    if (!dd_case_fingerprint(&run->m->scenario, &head.scenario)) {
        free(*bytes);
        *bytes = NULL;
        return dd_fail(error, DD_ERROR_MEMORY, "dd_run_save", "no memory to tell the scenario");
    }
    head.relative_tolerance = run->problem.relative_tolerance;
    head.size = *size;
    head.states = states;
    head.time = dd_ode_time(run->ode);
    head.clear_since = run->clear_since;
    head.procedure = run->procedure;
    head.plan = run->m->workspace->plan;
    memcpy(run->y, dd_ode_state(run->ode), states * sizeof(double));
    memcpy(*bytes, &head, sizeof head);
    memcpy((char *)*bytes + sizeof head, run->y, states * sizeof(double));
    dd_ledger_save(run->ledger, (char *)*bytes + sizeof head + states * sizeof(double));
    return go_on(run, head.time, error);
}

dd_status dd_run_restore(dd_run *run, const void *bytes, size_t size, dd_error *error)
{
    const size_t states = (size_t)run->m->system->size;
    saved_head head;
    if (size < sizeof head) return dd_fail(error, DD_ERROR_ARGUMENT, "dd_run_restore", "%zu bytes are no saved run", size);
    memcpy(&head, bytes, sizeof head);
    uint64_t scenario;
    if (!dd_case_fingerprint(&run->m->scenario, &scenario))
        return dd_fail(error, DD_ERROR_MEMORY, "dd_run_restore", "no memory to tell the scenario");
    if (memcmp(head.magic, magic, sizeof magic) != 0 || head.scenario != scenario ||
        head.relative_tolerance != run->problem.relative_tolerance || head.size != size || head.states != states ||
        size != sizeof head + states * sizeof(double) + dd_ledger_size(run->ledger))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_run_restore",
                       "the bytes were saved by a run of another scenario or version");
    memcpy(run->y, (const char *)bytes + sizeof head, states * sizeof(double));
    dd_ledger_restore(run->ledger, (const char *)bytes + sizeof head + states * sizeof(double));
    run->procedure = head.procedure;
    run->clear_since = head.clear_since;
    run->m->workspace->plan = head.plan;
    return go_on(run, head.time, error);
}
