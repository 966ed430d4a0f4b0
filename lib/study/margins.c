/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was seen against what is allowed, what was not checked, and what was assumed. */
#include "lib/shore/shore.h"
#include "lib/study/verdict.h"
#include <stdio.h>
#include <string.h>

typedef struct check {
    const char *name, *unit, *source, *missing;
    double value, limit, time;
    int at_least; /* the value must stay above the limit */
    const char *channel;
} check;

static void add_check(dd_recorder *recorder, const check *c)
{
    if (isnan(c->limit) || isnan(c->value)) {
        (void)dd_recorder_unchecked(recorder, "%s: %s", c->name, c->missing);
        return;
    }
    dd_margin margin = {.value = c->value, .limit = c->limit, .time = c->time};
    snprintf(margin.name, sizeof margin.name, "%s", c->name);
    snprintf(margin.unit, sizeof margin.unit, "%s", c->unit);
    snprintf(margin.source, sizeof margin.source, "%s", c->source);
    snprintf(margin.channel, sizeof margin.channel, "%s", c->channel);
    margin.broken = c->at_least ? c->value < c->limit : c->value > c->limit;
    if (c->at_least)
        margin.share = c->value > 0 && c->limit > 0 ? c->limit / c->value : (margin.broken ? 2.0 : 0.0);
    else
        margin.share = c->limit > 0 ? c->value / c->limit : (margin.broken ? 2.0 : 0.0);
    margin.share = fmax(0.0, margin.share);
    (void)dd_recorder_margin(recorder, &margin); /* the recorder keeps its first failure and dd_recorder_finish returns it */
}

/* A part that the trailer has not: no load and nothing to check. */
static double or_nothing(double load) { return isnan(load) ? 0.0 : load; }
static double is_there(double where, double rating) { return isnan(where) ? 0.0 : rating; }

void dd_margins_of_loads(const dd_study_model *m, const dd_extremes *e, dd_recorder *recorder)
{
    const dd_trailer_parameters *t = &m->rig->trailer;
    const char *plate = "maker's plate";
#define MOST(id) .value = e->most.v[DD_SEEN_##id], .time = e->most_time[DD_SEEN_##id]
    const check checks[] = {
        {"strap against its rating", "N", plate, "the strap's rating is not given", MOST(STRAP_TENSION),
         .limit = t->winch.strap_rating, .channel = "strap_tension_N"},
        {"winch against its rating", "N", plate, "the winch's rating is not given", MOST(STRAP_TENSION),
         .limit = t->winch.rating, .channel = "strap_tension_N"},
        {"hand force at the winch", "N", "crank guideline", "no hand force limit is given", MOST(HANDLE_FORCE),
         .limit = t->winch.hand_force_limit, .channel = "handle_force_N"},
        {"roller against its rating", "%", plate, "no roller's rated load is given",
         .value = e->most.v[DD_SEEN_ROLLER_USE] > 0 ? e->most.v[DD_SEEN_ROLLER_USE] : NAN,
         .time = e->most_time[DD_SEEN_ROLLER_USE], .limit = 100.0, .channel = "largest_roller_use_percent"},
        {"coupling load against its rating", "N", plate, "the coupling's rating is not given", MOST(COUPLING_LOAD),
         .limit = t->coupling_rating, .channel = "coupling_load_N"},
        {"axles against their rating", "%", plate, "an axle's rating is not given", MOST(AXLE_USE), .limit = 100.0,
         .channel = "axle_use_percent"},
        {"each axle against its own rating", "%", plate, "the rig with the boat at home never stands on even ground", MOST(AXLE_OWN_USE),
         .limit = 100.0, .channel = "largest_axle_use_on_even_ground_percent"},
        {"safety chain against its rating", "N", plate, "its rating is not given", .value = or_nothing(e->most.v[DD_SEEN_CHAIN]),
         .time = e->most_time[DD_SEEN_CHAIN], .limit = is_there(t->chain.slack_at_home, t->chain.rating), .channel = "chain_tension_N"},
        {"transom tie against its rating", "N", plate, "its rating is not given", .value = or_nothing(e->most.v[DD_SEEN_TIE]),
         .time = e->most_time[DD_SEEN_TIE], .limit = is_there(t->ties.behind_coupling, t->ties.rating), .channel = "largest_tie_tension_N"},
        {"side guide against its rated load", "%", plate, "", .value = or_nothing(e->most.v[DD_SEEN_GUIDE_USE]),
         .time = e->most_time[DD_SEEN_GUIDE_USE], .limit = 100.0, .channel = "largest_guide_use_percent"},
        {"push on the bow", "N", "push guideline", "", MOST(PUSH), .limit = m->scenario.limits.push_force,
         .channel = "push_force_N"},
    };
    /* One axle is its own group; where no axle has a rating the group's check says so. */
    double rated = NAN;
    for (int i = 0; t->axle_count > 1 && i < t->axle_count; i++) rated = fmax(rated, t->axles[i].rating);
    for (size_t i = 0; i < sizeof checks / sizeof checks[0]; i++) {
        const bool idle = isnan(rated) && strncmp(checks[i].name, "each axle", 9) == 0;
        if (!idle && (checks[i].value > 0 || isnan(checks[i].value) || isnan(checks[i].limit))) add_check(recorder, &checks[i]);
    }
    const check lift = {"lift on the coupling", "N", "practice", "", .value = fmax(0.0, -e->least.v[DD_SEEN_COUPLING_LOAD]),
                        .time = e->least_time[DD_SEEN_COUPLING_LOAD], .limit = m->scenario.limits.coupling_lift, .channel = ""};
    add_check(recorder, &lift);
}

/* Of parts that not every rig has: each is checked where it is, and told of where only its figure is missing. */
static void check_parts(const dd_run *run, const dd_extremes *e, dd_recorder *recorder)
{
    const dd_trailer_parameters *t = &run->m->rig->trailer;
    const double dry = 0.0;
#define LEAST(id) .value = e->least.v[DD_SEEN_##id], .time = e->least_time[DD_SEEN_##id], .at_least = 1
    const check checks[] = {
        {"rope against its rating", "N", "maker's plate", "the rope's rating is not given", MOST(ROPE), .limit = t->rope.rating,
         .channel = "rope_tension_N"},
        {"frame clear of the ground", "m", "elementary mechanics", "", LEAST(FRAME_CLEARANCE), .limit = 0.0,
         .channel = "frame_clearance_m"},
        {"bow clear of the frame", "m", "elementary mechanics", "", LEAST(BOW_OVER_FRAME), .limit = 0.0, .channel = ""},
        {"water at the brake actuator", "m", "maker's plate", "", MOST(ACTUATOR_DEPTH), .limit = dry, .channel = "actuator_depth_m"},
        {"water at the lamps' plug", "m", "maker's plate", "", MOST(PLUG_DEPTH), .limit = dry, .channel = "plug_depth_m"},
        {"water at hubs hot from the road", "m", "maker's plate", "", MOST(HOT_HUB_DEPTH), .limit = dry, .channel = "hot_hub_depth_m"},
    };
    for (size_t i = 0; i < sizeof checks / sizeof checks[0]; i++)
        if (!isnan(checks[i].value) && (i > 0 || checks[i].value > 0)) add_check(recorder, &checks[i]);
    if (isnan(t->frame_clearance)) (void)dd_recorder_unchecked(recorder, "the frame on the ground: its height is not given");
}
#undef LEAST

void dd_margins_of_ramp(const dd_run *run, const dd_extremes *e, dd_recorder *recorder)
{
    const dd_vehicle_parameters *v = &run->m->rig->vehicle;
    const dd_limits *limits = &run->m->scenario.limits;
    double toe = dd_ramp_toe(run->m->ramp);
#define LEAST(id) .value = e->least.v[DD_SEEN_##id], .time = e->least_time[DD_SEEN_##id], .at_least = 1
    const bool launch = run->m->scenario.action == DD_ACTION_LAUNCH;
    const check checks[] = {
        {launch ? "skeg clear once engine goes down" : "skeg clear until engine goes up", "m", "practice", "",
         .value = (launch ? e->last : e->first).v[DD_SEEN_SKEG_CLEARANCE],
         .time = (launch ? e->last : e->first).v[DD_SEEN_TIME], .limit = limits->skeg_clearance, .at_least = 1, .channel = ""},
        {"vehicle's wading depth", "m", "maker's plate", "the vehicle's wading depth is not given", MOST(VEHICLE_WHEEL_DEPTH),
         .limit = v->wading_depth, .channel = "vehicle_rear_wheel_depth_m"},
        {"water at the exhaust", "m", "maker's plate", "the exhaust's height is not given",
         .value = e->most.v[DD_SEEN_EXHAUST_DEPTH] + v->exhaust_height, .time = e->most_time[DD_SEEN_EXHAUST_DEPTH],
         .limit = v->exhaust_height, .channel = ""},
        {"wheels to the end of the slab", "m", "elementary mechanics", "the ramp has no end within its description",
         LEAST(TOE_DISTANCE), .limit = isfinite(toe) ? 0.0 : NAN, .channel = "toe_distance_m"},
        {"transom clear of the ground", "m", "practice", "", LEAST(TRANSOM_CLEARANCE), .limit = limits->clearance,
         .channel = "transom_clearance_m"},
        {"sheer above water", "m", "elementary mechanics", "", LEAST(FREEBOARD), .limit = 0.0, .channel = "sheer_freeboard_m"},
        {"friction under the wheels", "", "tyre friction", "friction of the surface is not known",
         .value = e->grip_use > 0 ? e->grip_needed : NAN, .time = e->grip_time,
         .limit = run->m->scenario.limits.grip_low * e->grip_low, .channel = "friction_needed"},
    };
    for (size_t i = 0; i < sizeof checks / sizeof checks[0]; i++) add_check(recorder, &checks[i]);
    check_parts(run, e, recorder);
}

void dd_margins_of_capture(const dd_run *run, const dd_extremes *e, dd_recorder *recorder)
{
    const dd_limits *limits = &run->m->scenario.limits;
    double offset = fmax(fabs(e->last.v[DD_SEEN_BOW_OFFSET]), fabs(e->last.v[DD_SEEN_STERN_OFFSET]));
    const check checks[] = {
        {"gap left at the bow stop", "m", "practice", "", .value = fmax(0.0, e->last.v[DD_SEEN_STOP_GAP]),
         .limit = limits->stop_gap, .time = e->last.v[DD_SEEN_TIME], .channel = "stop_gap_m"},
        {"offset left on the supports", "m", "practice", "", .value = offset, .limit = limits->offset,
         .time = e->last.v[DD_SEEN_TIME], .channel = ""},
    };
    for (size_t i = 0; i < sizeof checks / sizeof checks[0]; i++) add_check(recorder, &checks[i]);
}

static void assume(dd_recorder *recorder, const char *what, const dd_estimate *e, double factor, const char *unit)
{
    if (!e->given)
        (void)dd_recorder_assumed(recorder, "%s %.4g %s (estimate, %.4g to %.4g; %s)", what, factor * e->likely, unit,
                                  factor * e->low, factor * e->high, e->source);
}

static void assume_water(const dd_study_model *m, dd_recorder *recorder)
{
    const dd_water *w = &m->model.water;
    const bool waves = w->wave.height > 0, surge = w->surge.height > 0;
    if (!waves && !surge)
        (void)dd_recorder_assumed(recorder, "%s water with a steady current along the shore; no waves%s",
                                  dd_water_moves(w) ? "smoothly rising or falling" : "still", w->wind.speed > 0 ? "" : ", no wind");
    if (waves) {
        const double slope = atan(-dd_ramp_at(m->ramp, w->edge).slope);
        (void)dd_recorder_assumed(recorder,
                                  "small regular waves of %.3g m in %.3g s straight at the shore by linear theory, longer than the "
                                  "boat; their wash may run up %.2f m above the water line (Hunt's formula)",
                                  w->wave.height, w->wave.period,
                                  dd_wave_run_up(w->wave.height, w->wave.period, fmax(slope, 0), m->model.gravity));
    }
    if (surge)
        (void)dd_recorder_assumed(recorder, "wash that lifts and lowers the level as a whole by %.3g m in %.3g s", w->surge.height,
                                  w->surge.period);
    if (w->wind.speed > 0) (void)dd_recorder_assumed(recorder, "steady wind, the same at every height");
}

void dd_assumptions(const dd_study_model *m, dd_recorder *recorder)
{
    dd_hull_estimates e;
    if (dd_hull_estimate(&m->scenario.boat, &e, NULL) == DD_OK) {
        assume(recorder, "total mass", &e.total_mass, 1, "kg");
        assume(recorder, "centre of mass from the transom", &e.centre_from_transom, 1, "m");
        assume(recorder, "centre of mass above the keel", &e.centre_height, 1, "m");
        assume(recorder, "chine beam", &e.chine_beam, 1, "m");
        assume(recorder, "deadrise amidships", &e.midships_deadrise, 57.29577951308232, "deg");
        assume(recorder, "keel rise at the bow", &e.keel_rise, 1, "m");
        assume(recorder, "sheer height amidships", &e.midships_sheer_height, 1, "m");
        assume(recorder, "bow eye from the transom", &e.bow_eye_from_transom, 1, "m");
        assume(recorder, "bow eye above the keel", &e.bow_eye_height, 1, "m");
    }
    const dd_case *scenario = &m->scenario;
    (void)dd_recorder_assumed(recorder, "bung in, nobody aboard but what is listed%s%s",
                              scenario->start.ties == DD_START_ON ? "" : ", transom ties off unless a step puts them on",
                              scenario->start.engine == DD_START_DOWN ? "" : ", engine up unless a step lowers it");
    if (scenario->boat.water_aboard.mass > 0)
        (void)dd_recorder_assumed(recorder, "%.4g kg of water aboard that does not flow: its free surface, which would take righting moment away, is neglected",
                                  scenario->boat.water_aboard.mass);
    (void)dd_recorder_assumed(recorder, "port and starboard wheels of the trailer share its load; the trailer does not roll");
    assume_water(m, recorder);
    (void)dd_recorder_unchecked(recorder, "masses and tyre, axle and tow ratings on the road");
}
