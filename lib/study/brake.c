/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/brake.h"
#include "lib/study/quote.h"
#include "lib/base/error.h"
#include "lib/hull/surface.h"
#include "lib/study/yard.h"
#include <drawdock/study.h>
#include <math.h>
#include <stdlib.h>

/* The parts of the report, in its order. */
static dd_status (*const parts[])(dd_brake *, dd_error *) = {dd_brake_stops, dd_brake_hills, dd_brake_hold, dd_brake_pull_out, dd_brake_gain,
                                                             dd_brake_descent, dd_brake_swing, dd_brake_standards};

dd_brake_road dd_brake_road_of(const dd_braking *asked, int wet)
{
    return (dd_brake_road){.grade = asked->grade,
                           .friction = wet ? asked->wet_friction : asked->dry_friction,
                           .slide = wet ? asked->wet_slide : asked->dry_slide,
                           .peak_slip = asked->peak_slip,
                           .rolling_resistance = asked->rolling_resistance};
}

dd_stop_asked dd_brake_asked(const dd_brake *b, const dd_brake_kind *kind, int wet)
{
    const dd_braking *asked = &b->scenario->braking;
    return (dd_stop_asked){.system = kind, .speed = asked->speed, .pedal = asked->pedal, .vehicle_share = 1, .trailer_share = 1, .lever = NAN,
                           .road = dd_brake_road_of(asked, wet)};
}

bool dd_brake_is_fitted(const dd_brake *b, const dd_brake_kind *kind) { return b->scenario->trailer.brakes.fitted == kind->fitted; }

/* b->loaded is the empty trailer, complete. The boat fast on it: one body of both, its inertia about the common centre. */
static void load_trailer(dd_brake *b, const dd_mass_properties *boat)
{
    dd_trailer_parameters *t = &b->loaded;
    const double mass = t->mass + boat->mass;
    const dd_vec3 own = dd_vec(t->centre_behind_coupling, 0, t->centre_above_ground - t->coupling_height);
    const dd_vec3 centre = dd_scale(1 / mass, dd_add(dd_scale(t->mass, own), dd_scale(boat->mass, b->boat_centre)));
    const dd_vec3 d = dd_sub(own, centre), e = dd_sub(b->boat_centre, centre);
    const double inertia = t->mass * (t->pitch_radius * t->pitch_radius + d.x * d.x + d.z * d.z) + boat->inertia[1][1] +
                           boat->mass * (e.x * e.x + e.z * e.z);
    const double yaw = t->mass * (t->pitch_radius * t->pitch_radius + d.x * d.x) + boat->inertia[2][2] + boat->mass * e.x * e.x;
    t->mass = mass;
    t->centre_behind_coupling = centre.x;
    t->centre_above_ground = centre.z + t->coupling_height;
    t->pitch_radius = sqrt(inertia / mass);
    if (isnan(t->braking.yaw_radius)) t->braking.yaw_radius = sqrt(yaw / mass);
    t->tilt.hinge_behind_coupling = NAN; /* latched on the road */
    t->jockey.behind_coupling = NAN;
    t->rope.length = NAN;
}

static dd_status begin(dd_brake *b, dd_error *error)
{
    const dd_case *c = b->scenario;
    dd_hull *hull = NULL;
    dd_status status = dd_yard_place(c, &b->placement, error);
    if (status == DD_OK) status = dd_hull_create(&c->boat, &hull, error);
    if (status != DD_OK) return status;
    const dd_mass_properties boat = *dd_hull_mass(hull);
    dd_hull_free(hull);
    b->boat_mass = boat.mass;
    b->boat_centre = dd_placed_point(&b->placement, boat.centre);
    status = dd_road_statics(&c->vehicle, &c->trailer, boat.mass, b->boat_centre, c->gravity, &b->road, error);
    dd_rig *empty = NULL;
    if (status == DD_OK) status = dd_rig_create(&c->vehicle, &c->trailer, &empty, error);
    if (status != DD_OK) return status;
    b->loaded = empty->trailer;
    dd_rig_free(empty);
    load_trailer(b, &boat);
    return dd_brake_rig_create(&c->vehicle, &b->loaded, c->braking.grade, c->gravity, &b->rig, error);
}

static void say_what_is_assumed(const dd_brake *b)
{
    dd_reporter *r = b->report;
    const dd_trailer_parameters *t = &b->scenario->trailer;
    if (t->brakes.fitted < 0) dd_reporter_assumed(r, "trailer.brakes.fitted is not given: no system is marked as the rig's own");
    if (t->brakes.axles < 0) dd_reporter_assumed(r, "trailer.brakes.axles is not given: every axle has brakes");
    if (t->brakes.fitted == DD_FITTED_FROM_VEHICLE) dd_reporter_note(r, "Brakes fed by the vehicle's own hydraulics or air are left out.");
    dd_reporter_assumed(r, "figures of brakes that the scenario does not give are usual ones, most from memory: drawdock show lists each");
    dd_reporter_note(r, "Distances are for this model of driver, tyres and brakes: try the brakes on the real rig, set the controller by its maker's instructions, and "
                        "mind the local law.");
    const char *const sources[] = {"elementary mechanics", "vehicle brakes", "road friction", "slip curve", "sliding tyre", "stopping sight distance"};
    for (size_t i = 0; i < sizeof sources / sizeof sources[0]; i++) dd_reporter_source(r, sources[i]);
    for (int i = 0; dd_brake_kind_at(i) != NULL; i++)
        for (const char *const *s = dd_brake_kind_at(i)->sources; *s != NULL; s++) dd_reporter_source(r, *s);
}

dd_status dd_study_brake(const dd_case *scenario, dd_report **report, dd_error *error)
{
    *report = NULL;
    if (scenario->cookie != sizeof *scenario)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_case: cookie", "the scenario was not filled by dd_case_defaults of this version");
    dd_brake *b = calloc(1, sizeof *b);
    if (b == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_brake", "no memory for the stops");
    b->scenario = scenario;
    b->report = dd_reporter_create(scenario->title, "brake", scenario->rules.units == DD_REPORT_US ? DD_REPORT_US : DD_REPORT_METRIC);
    if (b->report != NULL) {
        dd_reporter_asked(b->report, DD_BRAKE_STOPPING);
        dd_quote(b->report, scenario);
    }
    dd_status status = b->report != NULL ? begin(b, error) : dd_fail(error, DD_ERROR_MEMORY, "dd_study_brake", "no memory for the report");
    for (size_t i = 0; i < sizeof parts / sizeof parts[0] && status == DD_OK; i++) status = parts[i](b, error);
    if (status == DD_OK) {
        say_what_is_assumed(b);
        status = dd_reporter_finish(b->report, report, error);
        b->report = NULL;
    }
    dd_reporter_free(b->report);
    dd_brake_rig_free(b->rig);
    free(b);
    return status;
}
