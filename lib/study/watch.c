/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/watch.h"
#include "lib/base/error.h"
#include "lib/record/events.h"
#include "lib/study/picture.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_WATCHES = 80 + DD_SUPPORTS, MOST_OF_A_NAME = 30, NAMES = 128, MOST_PICTURES = 8 };

static const double most_heel = 60.0;   /* degrees, beyond which no boat comes back by itself on a trailer */
static const double far_off = 15.0;     /* m */
static const double bumper = 0.1;       /* the vehicle's tail ahead of its ball, m */
static const char slides[] = "rig slides";
static const char not_upright[] = "not held upright";
static const double upright_look = 0.02;                   /* s; a heel takes some tenths of one to grow */
static const double line_taut = 20.0, line_slack = 2.0;   /* N */
static const double touches = 20.0, touches_no_more = 2.0; /* N */
static const double part_afloat = 0.05;                    /* of the hull's weight */
static const double settles = 2.0;                         /* what a coupling let onto the ball takes to come to rest, s */
static const double gentle = 0.1;                          /* a hull that falling water lays on the ground does not drop, m/s */
static const double past_guide = 0.2;                      /* outside its face: no guide bends so far, m */
static const double aground = 0.1;                         /* of the hull's weight, on the ground */
static const double unsteady = 90.0, steady = 85.0;       /* %, of the grip there is */

/* An observable (or a support's load) and the thresholds it is held against; empty names say nothing. */
typedef struct watch {
    char rising[48], falling[48];
    int observable, support; /* support -1: the observable */
    double rise, fall;       /* thresholds: a gap between them keeps a load that flutters from saying so each time */
    int up;                  /* above: waits to fall */
    int once;                /* only the first crossing is an event */
    double value, time;      /* over the threshold it waits for, at the last look, and when; NaN: not known then */
} watch;

struct dd_watcher {
    dd_run *run;
    dd_recorder *recorder;
    watch watches[MOST_WATCHES];
    int count, afloat;     /* index of the afloat watch */
    double pending_afloat; /* time of a crossing not yet held for long enough; NaN */
    dd_seen pending_seen;
    dd_kinematics pending_kinematics;
    int pictures;
    dd_drawing *drawing; /* NULL: none */
    struct {
        char name[48];
        dd_moment moment; /* of its first */
        int times;
        const dd_cause *broke;
    } names[NAMES];
    int name_count;
    dd_seen start;
    const dd_cause *decided;
    double decided_time, ends;
    const dd_cause *slides; /* what a slide that goes on will have been, and since when: a jolt that the brakes catch decides nothing */
    double slides_since;
    double upright_seen, unheld_since, heel_grows; /* when roll stiffness was last looked at; below zero since, NaN: it is not; e-folds of a heel since then */
    double coupled; /* from then on the coupling's load says something: it is on the ball and has come to rest there */
};

static void add_pair(dd_watcher *w, const char *rising, const char *falling, int observable, int support, double rise,
                     double fall)
{
    if (!isfinite(rise) || w->count >= MOST_WATCHES) return;
    watch *one = &w->watches[w->count++];
    *one = (watch){.observable = observable, .support = support, .rise = rise, .fall = fall};
    snprintf(one->rising, sizeof one->rising, "%s", rising != NULL ? rising : "");
    snprintf(one->falling, sizeof one->falling, "%s", falling != NULL ? falling : "");
}

static void add(dd_watcher *w, const char *rising, const char *falling, int observable, int support, double threshold)
{
    add_pair(w, rising, falling, observable, support, threshold, threshold);
}

static void add_once(dd_watcher *w, const char *rising, const char *falling, int observable, double threshold)
{
    int before = w->count;
    add(w, rising, falling, observable, -1, threshold);
    for (int i = before; i < w->count; i++) w->watches[i].once = 1;
}

/* How far off nobody holds the boat any more: beyond what the procedure asks for. */
static double adrift_distance(const dd_case *scenario)
{
    double asked = fmax(
        0.0, isnan(scenario->start.bow_distance) ? 0.0 : hypot(scenario->start.bow_distance, scenario->start.offset_to_port));
    for (int i = 0; i < scenario->step_count; i++)
        if (!isnan(scenario->steps[i].until.distance_clear)) asked = fmax(asked, scenario->steps[i].until.distance_clear);
    return far_off + asked;
}

static void add_water(dd_watcher *w, const dd_study_model *m)
{
    add(w, "hub wet", "hub clear of the water", DD_SEEN_HUB_DEPTH, -1, 0.0);
    add(w, "lamps wet", "lamps clear of the water", DD_SEEN_LAMP_DEPTH, -1, isnan(m->rig->trailer.lamp_height) ? NAN : 0.0);
    add(w, "brake actuator wet", NULL, DD_SEEN_ACTUATOR_DEPTH, -1, 0.0);
    add(w, "plug wet", NULL, DD_SEEN_PLUG_DEPTH, -1, 0.0);
    add(w, "hot hub wet", NULL, DD_SEEN_HOT_HUB_DEPTH, -1, 0.0);
    add(w, "vehicle wheel past its wading limit", NULL, DD_SEEN_VEHICLE_WHEEL_DEPTH, -1, m->rig->vehicle.wading_depth);
    add(w, "wheel in a hole", NULL, DD_SEEN_HOLE, -1, DD_DEEP_HOLE);
    add(w, NULL, "frame strikes the ground", DD_SEEN_FRAME_CLEARANCE, -1, 0.0);
    add(w, NULL, "bow scrapes the frame", DD_SEEN_BOW_OVER_FRAME, -1, 0.0);
    add(w, NULL, "bow strikes the vehicle", DD_SEEN_BOW_REACH, -1, -bumper);
    add(w, "vehicle's rear wheel wet", NULL, DD_SEEN_VEHICLE_WHEEL_DEPTH, -1, 0.0);
    add(w, "exhaust wet", NULL, DD_SEEN_EXHAUST_DEPTH, -1, isnan(m->rig->vehicle.exhaust_height) ? NAN : 0.0);
    add(w, NULL, "wheel over the toe", DD_SEEN_TOE_DISTANCE, -1, isfinite(dd_ramp_toe(m->ramp)) ? 0.0 : NAN);
    add(w, NULL, "sheer under water", DD_SEEN_FREEBOARD, -1, 0.0);
    add(w, NULL, "transom touches the ground", DD_SEEN_TRANSOM_CLEARANCE, -1, 0.0);
    add(w, NULL, "skeg touches the ground", DD_SEEN_ENGINE_CLEARANCE, -1, 0.0);
    add(w, NULL, "keel on the ground", DD_SEEN_KEEL_CLEARANCE, -1, -DD_KEEL_SQUASH);
    add(w, "falls over to port", NULL, DD_SEEN_HEEL, -1, most_heel);
    add(w, NULL, "falls over to starboard", DD_SEEN_HEEL, -1, -most_heel);
    add(w, "adrift", NULL, DD_SEEN_BOAT_DISTANCE, -1, adrift_distance(&m->scenario));
}

static void add_bow(dd_watcher *w, const dd_run *run)
{
    add(w, "over the bow stop", NULL, DD_SEEN_STOP_PAST, -1, 0.0);
    add_pair(w, "chain taut", "chain slack", DD_SEEN_CHAIN, -1, line_taut, line_slack);
    add_pair(w, "tie taut", "tie slack", DD_SEEN_TIES, -1, line_taut, line_slack);
    add_pair(w, "guide touched", "guide clear", DD_SEEN_GUIDE_LOAD, -1, touches, touches_no_more);
    add_pair(w, "down on a guide", "off the guide's top", DD_SEEN_GUIDE_TIP, -1, 0.02 * run->weight, 0.002 * run->weight);
    add_once(w, NULL, "guide useless", DD_SEEN_GUIDE_TOP, 0.0);
    add(w, "between guide and support", NULL, DD_SEEN_OUTSIDE_GUIDE, -1, past_guide);
    add_pair(w, "on a bracket", "off its bracket", DD_SEEN_BRACKET, -1, 0.02 * run->weight, 0.002 * run->weight);
    add_pair(w, "rides on the frame", "off the frame", DD_SEEN_ON_FRAME, -1, 0.02 * run->weight, 0.002 * run->weight);
    add_pair(w, "hull touches the ground", "hull clear of the ground", DD_SEEN_GROUND_LOAD, -1, touches, touches_no_more);
    add(w, "keel on the ground", NULL, DD_SEEN_GROUND_LOAD, -1, aground * run->weight);
    if (run->m->scenario.action == DD_ACTION_LAUNCH) add_once(w, NULL, "bow eye free", DD_SEEN_BOW_HELD, 0.002 * run->weight);
}

static void add_rig(dd_watcher *w, const dd_run *run)
{
    const double grip = run->m->scenario.limits.grip_low;
    add(w, NULL, "vehicle floats", DD_SEEN_REAR_WHEELS, -1, DD_VEHICLE_FLOATS * run->m->rig->vehicle.mass * run->m->model.gravity);
    add_pair(w, "rocker leaves its stop", "rocker meets its stop", DD_SEEN_ROCKER_LEFT, -1, 0.5, 0.05);
    add_pair(w, "rope taut", "rope slack", DD_SEEN_ROPE, -1, line_taut, line_slack);
    add_pair(w, "jockey wheel down", "jockey wheel lifts", DD_SEEN_JOCKEY, -1, touches, touches_no_more);
    add_pair(w, "tilting bed tips", "tilting bed level", DD_SEEN_TILT, -1, 1.0, 0.2);
    add_pair(w, "wheel slips", "wheel grips again", DD_SEEN_SLIP, -1, 0.1, 0.02);
    add_pair(w, "unsteady", "steady again", DD_SEEN_GRIP_USE, -1, unsteady * grip, steady * grip);
}

static void add_loads(dd_watcher *w, const dd_run *run)
{
    const dd_study_model *m = run->m;
    const dd_limits *limits = &m->scenario.limits;
    const dd_trailer_parameters *t = &m->rig->trailer;
    if (m->scenario.action == DD_ACTION_LAUNCH)
        add(w, NULL, "stern lifts", DD_SEEN_REAR_LOAD, -1, limits->stern_lift_share * run->weight);
    w->afloat = w->count;
    /* The boat of a retrieve is afloat from the start: that it floats up again after a touch is no news. */
    add(w, NULL, m->scenario.action == DD_ACTION_LAUNCH ? "afloat" : NULL, DD_SEEN_CARRIED, -1,
        limits->afloat_share * run->weight);
    add_pair(w, "strap taut", "strap slack", DD_SEEN_STRAP_TENSION, -1, line_taut, line_slack);
    add(w, "strap over limit", NULL, DD_SEEN_STRAP_TENSION, -1, t->winch.strap_rating);
    add(w, "strap parts", NULL, DD_SEEN_STRAP_TENSION, -1, t->winch.break_strength);
    add(w, "winch over limit", NULL, DD_SEEN_STRAP_TENSION, -1, t->winch.rating);
    add(w, "handle over limit", NULL, DD_SEEN_HANDLE_FORCE, -1, t->winch.hand_force_limit);
    add(w, "support over rating", NULL, DD_SEEN_ROLLER_USE, -1, 100.0);
    if (m->scenario.action == DD_ACTION_RETRIEVE) {
        add(w, "captured", NULL, DD_SEEN_WITHIN, -1, limits->stern_lift_share * run->weight);
        add(w, "landed outside", NULL, DD_SEEN_OUTSIDE, -1, 0.05 * run->weight);
        add(w, NULL, "at the stop", DD_SEEN_STOP_GAP, -1, limits->stop_gap);
        add_once(w, "first contact", NULL, DD_SEEN_CARRIED, limits->afloat_share * run->weight);
        add(w, "swept past", NULL, DD_SEEN_PASSED, -1, 0.0);
    } else {
        add(w, "runs off", NULL, DD_SEEN_RUNAWAY, -1, DD_RUNS_OFF);
    }
    add(w, "coupling down again", "coupling lifts", DD_SEEN_COUPLING_LOAD, -1, 0.0);
    add(w, "coupling over rating", NULL, DD_SEEN_COUPLING_LOAD, -1, t->coupling_rating);
    add(w, NULL, "trailer floats off its wheels", DD_SEEN_AXLE_LOAD, -1, 0.01 * t->mass * m->model.gravity);
    add_bow(w, run);
    add_rig(w, run);
    add(w, "hull strikes a roller", NULL, DD_SEEN_SQUASH, -1, 100.0);
    add(w, slides, "rig stands again", DD_SEEN_SLIDE_SPEED, -1, 0.02);
    for (int i = 0; i < t->support_count; i++) {
        char gained[48], lost[48];
        snprintf(gained, sizeof gained, "support gained: %.28s", t->supports[i].name);
        snprintf(lost, sizeof lost, "support lost: %.28s", t->supports[i].name);
        add_pair(w, gained, lost, -1, i, 0.02 * run->weight, 0.002 * run->weight);
    }
}

dd_status dd_watcher_create(dd_run *run, dd_recorder *recorder, dd_watcher **result, dd_error *error)
{
    *result = calloc(1, sizeof **result);
    if (*result == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_watcher_create", "no memory for the events");
    (*result)->run = run;
    (*result)->recorder = recorder;
    (*result)->pending_afloat = (*result)->ends = (*result)->upright_seen = (*result)->unheld_since = NAN;
    add_water(*result, run->m);
    add_loads(*result, run);
    return DD_OK;
}

void dd_watcher_draw(dd_watcher *watcher, dd_drawing *drawing) { watcher->drawing = drawing; }

void dd_watcher_free(dd_watcher *watcher) { free(watcher); }

static double reading(const watch *one, const dd_seen *seen)
{
    return one->support >= 0 ? seen->support[one->support] : seen->v[one->observable];
}

static double value_of(const watch *one, const dd_seen *seen) { return reading(one, seen) - (one->up ? one->fall : one->rise); }

void dd_watcher_begin(dd_watcher *w, const dd_seen *seen)
{
    w->start = *seen;
    for (int i = 0; i < w->count; i++) {
        watch *one = &w->watches[i];
        one->up = reading(one, seen) > one->rise;
        one->value = value_of(one, seen);
        one->time = seen->v[DD_SEEN_TIME];
    }
}

static int index_of(const dd_watcher *w, const char *name)
{
    for (int i = 0; i < w->name_count; i++)
        if (strcmp(w->names[i].name, name) == 0) return i;
    return -1;
}

/* Counts an event's happenings and keeps its first; returns how many there were. */
static int note(dd_watcher *w, const char *name, const dd_seen *seen, uint64_t facts)
{
    int i = index_of(w, name);
    if (i >= 0) return ++w->names[i].times;
    if (w->name_count >= NAMES) return MOST_OF_A_NAME + 1;
    i = w->name_count++;
    snprintf(w->names[i].name, sizeof w->names[i].name, "%s", name);
    w->names[i].moment = (dd_moment){.time = seen->v[DD_SEEN_TIME], .facts = facts, .seen = *seen};
    w->names[i].broke = dd_cause_find(name, facts, false);
    return w->names[i].times = 1;
}

void dd_watcher_note(dd_watcher *w, const dd_seen *seen, const char *name)
{
    (void)note(w, name, seen, dd_facts_of(w->run, w, seen));
}

const dd_moment *dd_watcher_moment(const dd_watcher *w, const char *name)
{
    int i = index_of(w, name);
    return i >= 0 ? &w->names[i].moment : NULL;
}

double dd_watcher_first(const dd_watcher *w, const char *name)
{
    const dd_moment *moment = dd_watcher_moment(w, name);
    return moment != NULL ? moment->time : NAN;
}

const dd_cause *dd_watcher_broke(const dd_watcher *w, const char *name)
{
    int i = index_of(w, name);
    return i >= 0 ? w->names[i].broke : NULL;
}

static bool is_part_afloat(const dd_watcher *w, const dd_seen *seen)
{
    const double part = part_afloat * w->run->weight;
    return seen->v[DD_SEEN_BUOYANCY] > part && seen->v[DD_SEEN_CARRIED] > part;
}

bool dd_watcher_wants_roll(const dd_watcher *w, const dd_seen *seen)
{
    return is_part_afloat(w, seen) && index_of(w, not_upright) < 0 && !(seen->v[DD_SEEN_TIME] - w->upright_seen < upright_look);
}

const dd_seen *dd_watcher_start(const dd_watcher *w) { return &w->start; }

const dd_cause *dd_watcher_decided(const dd_watcher *w, double *time)
{
    const bool still_slides = w->slides != NULL && (w->decided == NULL || w->slides_since < w->decided_time);
    *time = still_slides ? w->slides_since : w->decided_time;
    if (still_slides) return w->slides;
    return w->decided;
}

double dd_watcher_ends(const dd_watcher *w) { return w->ends; }

/* A boat pushed or driven off may drift: whoever launched it is aboard or holds its line. */
static int is_sent_off(const dd_run *run)
{
    int last = -1;
    for (int i = 0; i < run->m->scenario.step_count; i++)
        if (run->m->scenario.steps[i].kind == DD_STEP_PUSH_OFF || run->m->scenario.steps[i].kind == DD_STEP_DRIVE_OFF) last = i;
    return run->m->scenario.action == DD_ACTION_LAUNCH &&
           (run->procedure.step > last || run->procedure.state == DD_PROCEDURE_DONE);
}

/* The earliest event that decides counts, whatever comes later. */
static void judge(dd_watcher *w, const char *name, const dd_seen *seen, uint64_t facts)
{
    const double time = seen->v[DD_SEEN_TIME];
    const dd_cause *cause = dd_cause_find(name, facts, true);
    const bool of_hull = strncmp(name, "transom", 7) == 0 || strncmp(name, "keel", 4) == 0;
    const bool lies_gently = of_hull && (facts & DD_HAS(RETRIEVE)) != 0 && (facts & DD_HAS(PULLING_OUT)) == 0 &&
                             seen->v[DD_SEEN_HULL_SPEED] < gentle;
    const bool lay_there = w->start.v[DD_SEEN_GROUND_LOAD] > 0.01 * w->run->weight && strstr(name, "the ground") != NULL;
    if (strcmp(name, "rig stands again") == 0) w->slides = NULL;
    if (cause == NULL || lay_there || lies_gently || (strcmp(name, "adrift") == 0 && is_sent_off(w->run))) return;
    if (strcmp(name, slides) == 0) {
        w->slides = cause;
        w->slides_since = time;
        return;
    }
    w->ends = fmin(w->ends, time + cause->moment); /* fmin passes over NaN */
    if (w->decided != NULL && w->decided_time <= time) return;
    w->decided = cause;
    w->decided_time = time;
}

static void follow_slide(dd_watcher *w, double now)
{
    if (w->slides != NULL && now - w->slides_since >= w->slides->moment) w->ends = fmin(w->ends, now);
}

/* Events that a reader wants to see are drawn when they happen first. */
static int deserves_picture(const char *name) { return dd_event_rank(name) == 1 || strcmp(name, "strap off") == 0; }

static dd_status record(dd_watcher *w, const dd_seen *seen, const dd_kinematics *k, const char *name, const char *detail,
                        double value, const char *unit)
{
    dd_event event = {.time = seen->v[DD_SEEN_TIME],
                      .rig_x = seen->v[DD_SEEN_RIG_X],
                      .hub_depth = seen->v[DD_SEEN_HUB_DEPTH],
                      .value = value};
    const uint64_t facts = dd_facts_of(w->run, w, seen);
    int times = note(w, name, seen, facts), index = -1;
    judge(w, name, seen, facts);
    if (times > MOST_OF_A_NAME) return DD_OK;
    snprintf(event.name, sizeof event.name, "%s", name);
    snprintf(event.detail, sizeof event.detail, "%s", detail);
    snprintf(event.value_unit, sizeof event.value_unit, "%s", unit);
    dd_status status = dd_recorder_event(w->recorder, &event, &index);
    if (status == DD_OK && w->drawing != NULL) dd_drawing_see(w->run->m, k, seen, w->drawing);
    if (status != DD_OK || times > 1 || w->pictures >= MOST_PICTURES || !deserves_picture(name)) return status;
    w->pictures++;
    return dd_picture_draw(w->run->m, k, w->run->m->workspace->plan.set.strap_hooked, index, w->recorder);
}

dd_status dd_watcher_say(dd_watcher *w, const dd_seen *seen, const char *name, const char *detail)
{
    return record(w, seen, &w->run->m->workspace->kinematics, name, detail, NAN, "");
}

typedef struct place {
    dd_run *run;
    const watch *one;
    dd_seen seen;
} place;

static double at_time(double t, void *context)
{
    place *p = context;
    if (dd_run_evaluate(p->run, t, DD_WANT_CHANNELS) != 0) return NAN;
    dd_seen_read(p->run->m, 0, &p->seen);
    return value_of(p->one, &p->seen);
}

/* "hub depth" of "hub_depth_m", "slide speed" of "slide_speed_m_per_s". */
static void in_words(const char *column, const char *unit, char *words, size_t size)
{
    char ending[64] = "_";
    for (const char *c = unit; *c != '\0'; c++) {
        const char letter[2] = {*c == ' ' ? '_' : *c};
        const size_t length = strlen(ending);
        snprintf(ending + length, sizeof ending - length, "%s", *c == '/' ? "_per_" : *c == '%' ? "percent" : letter);
    }
    snprintf(words, size, "%s", column);
    const size_t length = strlen(words), tail = strlen(ending);
    if (tail > 1 && length > tail && strcmp(words + length - tail, ending) == 0) words[length - tail] = '\0';
    for (char *c = words; *c != '\0'; c++)
        if (*c == '_') *c = ' ';
}

/* Below it a figure is what the search for its root has left, 0 to anybody who reads it. */
static double least_told(const char *unit)
{
    static const struct {
        const char *unit;
        double least;
    } of[] = {{"N", 0.5}, {"m", 5e-4}, {"m/s", 5e-4}, {"deg", 5e-3}, {"%", 0.05}};
    for (size_t i = 0; i < sizeof of / sizeof of[0]; i++)
        if (strcmp(of[i].unit, unit) == 0) return of[i].least;
    return 1e-9;
}

static dd_status record_crossing(dd_watcher *w, const watch *one, const dd_seen *seen, const dd_kinematics *k, int rises)
{
    char detail[160];
    const char *name = rises ? one->rising : one->falling, *unit = one->support >= 0 ? "N" : dd_seen_unit(one->observable);
    char what[96];
    in_words(one->support >= 0 ? "load" : dd_seen_name(one->observable), unit, what, sizeof what);
    double value = reading(one, seen), hub = seen->v[DD_SEEN_HUB_DEPTH];
    if (fabs(value) < least_told(unit)) value = 0;
    const char *unit_name = one->support >= 0 ? NULL : dd_seen_unit_name(w->run->m, one->observable);
    char number[32], stands[48] = "hub level with the water";
    if (fabs(hub) >= 0.005) snprintf(stands, sizeof stands, "hub %.2f m %s water", fabs(hub), hub < 0 ? "above" : "under");
    snprintf(number, sizeof number, fabs(value) < 1000 ? "%.3g" : "%.0f", value);
    snprintf(detail, sizeof detail, "%s; %s %s %s%s%.40s", stands, what, number, unit, unit_name != NULL ? "; " : "",
             unit_name != NULL ? unit_name : "");
    return record(w, seen, k, name, detail, value, unit);
}

/* Nothing counts as afloat until it has held for the time given. */
static dd_status follow_afloat(dd_watcher *w, const dd_seen *now)
{
    if (isnan(w->pending_afloat) || now->v[DD_SEEN_TIME] - w->pending_afloat < w->run->m->scenario.limits.afloat_time)
        return DD_OK;
    w->pending_afloat = NAN;
    return record_crossing(w, &w->watches[w->afloat], &w->pending_seen, &w->pending_kinematics, 0);
}

/* How fast a heel grows where nothing holds the boat upright, 1/s: exp(sqrt(-k / I) t), about the keel. No hull heels faster than one that balances
   on its keel: a figure below that is of supports that let go or take hold in this instant. */
static double heel_rate(const dd_watcher *w, double stiffness)
{
    const dd_mass_properties *hull = dd_hull_mass(w->run->m->model.hull);
    const double height = hull->centre.z;
    return sqrt(fmin(-stiffness, w->run->weight * height) / (hull->inertia[0][0] + hull->mass * height * height));
}

/* A stiffness below zero that does not last is no danger: it is told once a heel has had time to grow e-fold. */
static dd_status follow_upright(dd_watcher *w, const dd_seen *seen)
{
    const double stiffness = seen->v[DD_SEEN_ROLL_STIFFNESS], now = seen->v[DD_SEEN_TIME], hub = seen->v[DD_SEEN_HUB_DEPTH];
    if (!is_part_afloat(w, seen) || stiffness >= 0) w->unheld_since = NAN;
    if (isnan(stiffness)) return DD_OK; /* not looked at */
    const double step = now - w->upright_seen;
    w->upright_seen = now;
    if (stiffness >= 0 || index_of(w, not_upright) >= 0) return DD_OK;
    if (isnan(w->unheld_since)) {
        w->unheld_since = now;
        w->heel_grows = 0;
        return DD_OK;
    }
    w->heel_grows += step * heel_rate(w, stiffness);
    if (w->heel_grows < 1) return DD_OK;
    char detail[160];
    snprintf(detail, sizeof detail, "hub %.2f m %s water; for %.1f s neither water nor supports hold it upright: it may heel over", fabs(hub), hub < 0 ? "above" : "under",
             now - w->unheld_since);
    return record(w, seen, &w->run->m->workspace->kinematics, not_upright, detail, now - w->unheld_since, "s");
}

static dd_status cross(dd_watcher *w, int index, double value, double now, dd_error *error)
{
    watch *one = &w->watches[index];
    const int rises = !one->up;
    place p = {.run = w->run, .one = one};
    double root = now;
    if (index == w->afloat && rises) w->pending_afloat = NAN;
    const char *name = rises ? one->rising : one->falling;
    if (name[0] == '\0' || (one->once && index_of(w, name) >= 0)) return DD_OK;
    dd_status status = dd_ode_locate(at_time, &p, one->time, now, one->value, value, 1e-4, &root, error);
    if (status != DD_OK) return status;
    if (isnan(at_time(root, &p)))
        return dd_fail(error, DD_ERROR_NOT_FINITE, "events", "at %.4f s %s is not finite", root, one->rising);
    if (index != w->afloat) return record_crossing(w, one, &p.seen, &w->run->m->workspace->kinematics, rises);
    w->pending_afloat = root;
    w->pending_seen = p.seen;
    w->pending_kinematics = w->run->m->workspace->kinematics;
    return DD_OK;
}

/* What has become known, beyond its threshold or not, without a path to place a crossing on. */
static dd_status came_up(dd_watcher *w, watch *one, const dd_seen *seen, double value)
{
    const int up = value > 0, fresh = isnan(one->value), changed = fresh || up != one->up;
    const char *name = up ? one->rising : one->falling;
    one->up = up;
    if (!changed || name[0] == '\0' || (one->once && index_of(w, name) >= 0)) return DD_OK;
    return record_crossing(w, one, seen, &w->run->m->workspace->kinematics, up);
}

dd_status dd_watcher_look(dd_watcher *w, const dd_seen *seen, dd_error *error)
{
    const double now = seen->v[DD_SEEN_TIME];
    dd_status status = DD_OK;
    if (w->run->m->workspace->commands.uncoupled) w->coupled = now + settles;
    for (int i = 0; i < w->count && status == DD_OK; i++) {
        watch *one = &w->watches[i];
        double value = value_of(one, seen);
        if (one->support < 0 && one->observable == DD_SEEN_COUPLING_LOAD && now < w->coupled) {
            one->value = NAN;
            continue;
        }
        if (isnan(value)) continue; /* not known at this look */
        if (isnan(one->value) && value > 0) /* known for the first time, and nothing is wrong */
            one->up = 1;
        else if (isnan(one->value) || one->time < dd_ode_previous_time(w->run->ode)) /* not known in between: here, at the latest */
            status = came_up(w, one, seen, value);
        else if ((value > 0) != (one->up != 0)) {
            status = cross(w, i, value, now, error);
            one->up = !one->up;
        }
        one->value = value_of(one, seen);
        one->time = now;
    }
    follow_slide(w, now);
    if (status == DD_OK) status = follow_upright(w, seen);
    return status == DD_OK ? follow_afloat(w, seen) : status;
}
