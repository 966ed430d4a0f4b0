/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loads on coupling, axles, wheels and the vehicle's axles in every state of loading. */
#include "lib/study/weigh.h"
#include <math.h>


static void say_what_is_assumed(const dd_weigh *w)
{
    const dd_trailer_parameters *t = &w->scenario->trailer;
    const dd_vehicle_parameters *v = &w->scenario->vehicle;
    char text[DD_REPORTER_TEXT];
    if (isnan(t->track))
        dd_reporter_assumed(w->report, "trailer's track %s: the difference between port and starboard wheels goes by it",
                            dd_reporter_quantity(w->report, 1.85, "mm", 0, text));
    if (isnan(t->centre_behind_coupling))
        dd_reporter_assumed(w->report, "empty trailer: 8 %% of its mass on the coupling; weigh its drawbar");
    if (isnan(v->centre_behind_front_axle)) dd_reporter_assumed(w->report, "vehicle's centre 0.45 of the wheelbase behind the front axle");
}

static void add_states(const dd_weigh *w)
{
    dd_reporter *r = w->report;
    const double g = w->scenario->gravity;
    dd_reporter_table(r, "road", "On the road", 1);
    dd_reporter_column(r, "state", "", 0, "of loading");
    dd_reporter_column(r, "trailer", "kg", 0, "trailer and all it carries");
    dd_reporter_column(r, "on axles", "kg", 0, "of that on the trailer's axles when coupled");
    dd_reporter_column(r, "coupling", "kg", 0, "of that on the coupling; below 0 it lifts");
    dd_reporter_column(r, "coupling share", "%", 1, "of the whole trailer");
    dd_reporter_column(r, "vehicle front", "kg", 0, "on the vehicle's front axle");
    dd_reporter_column(r, "vehicle rear", "kg", 0, "on the vehicle's rear axle");
    dd_reporter_column(r, "rig", "kg", 0, "vehicle and trailer together");
    for (int i = 0; i < w->state_count; i++) {
        const dd_road_loads *l = &w->states[i].road;
        dd_reporter_words(r, "%s", w->states[i].name);
        dd_reporter_value(r, l->aggregate_mass);
        dd_reporter_value(r, l->axle_group / g);
        dd_reporter_value(r, l->coupling / g);
        dd_reporter_value(r, l->coupling / (l->aggregate_mass * g));
        dd_reporter_value(r, l->vehicle_front / g);
        dd_reporter_value(r, l->vehicle_rear / g);
        dd_reporter_value(r, l->combination_mass);
    }
}

static const char *shared_by(const dd_trailer_parameters *t)
{
    if (t->axle_count < 2) return "One axle carries all that the coupling does not.";
    switch (t->suspension) {
    case DD_SUSPENSION_BEAM:
        return "Axles share the load by the arms of their beams, whatever the trailer's pitch.";
    case DD_SUSPENSION_TORSION:
        return "Torsion axles share the load by their squash: a trailer that does not stand level loads one end's axle more.";
    default:
        return "Axles share the load by the squash of tyres and springs: a trailer that does not stand level loads one end's axle more.";
    }
}

static void add_axles(const dd_weigh *w)
{
    dd_reporter *r = w->report;
    const double g = w->scenario->gravity;
    dd_reporter_table(r, "axles", "On each wheel of the trailer", 0);
    dd_reporter_column(r, "state", "", 0, "of loading");
    dd_reporter_column(r, "axle", "", 0, "from the front");
    dd_reporter_column(r, "load", "kg", 0, "on the axle");
    dd_reporter_column(r, "share", "%", 1, "of the axle group's load");
    dd_reporter_column(r, "on springs", "kg", 0, "of that load; the rest is the axle's own, with hubs and wheels");
    dd_reporter_column(r, "port wheel", "kg", 0, "on the port end of the axle");
    dd_reporter_column(r, "starboard wheel", "kg", 0, "on the starboard end of the axle");
    dd_reporter_column(r, "port over starboard", "%", 1, "how much more the port side carries, share of the axle's load");
    dd_reporter_column(r, "nose up", "deg", 1, "pitch of the trailer behind the loaded ball");
    dd_reporter_column(r, "ball height", "mm", 0, "of the loaded ball above the ground");
    for (int i = 0; i < w->state_count; i++)
        for (int a = 0; a < w->scenario->trailer.axle_count; a++) {
            const dd_road_loads *l = &w->states[i].road;
            dd_reporter_words(r, "%s", w->states[i].name);
            dd_reporter_value(r, a + 1);
            dd_reporter_value(r, l->axle[a] / g);
            dd_reporter_value(r, l->axle[a] / l->axle_group);
            dd_reporter_value(r, l->axle[a] / g - w->scenario->trailer.axles[a].mass);
            dd_reporter_value(r, l->wheel[a][0] / g);
            dd_reporter_value(r, l->wheel[a][1] / g);
            dd_reporter_value(r, l->axle[a] > 0 ? (l->wheel[a][0] - l->wheel[a][1]) / l->axle[a] : NAN);
            dd_reporter_value(r, -l->trailer_pitch);
            dd_reporter_value(r, l->coupling_height);
        }
    dd_reporter_table_note(r, "%s", shared_by(&w->scenario->trailer));
}

/* The ball's height without a trailer at which this one stands level in the first state, and the loads then. */
static dd_status level_ball(const dd_weigh *w, dd_vehicle_parameters *v, dd_road_loads *level, dd_error *error)
{
    const dd_state_of_loading *s = &w->states[0];
    const double reach = w->scenario->trailer.axles[0].behind_coupling;
    *level = s->road;
    for (int i = 0; i < 20 && fabs(level->trailer_pitch) > 1e-9; i++) {
        v->coupling_height += reach * level->trailer_pitch;
        dd_status status = dd_road_statics(v, &w->scenario->trailer, s->boat.mass, s->centre, w->scenario->gravity, level, error);
        if (status != DD_OK) return status;
    }
    return DD_OK;
}

#define LEVEL_ENOUGH 0.0087 /* rad, half a degree: what an eye takes for level */

static dd_status say_level_ball(const dd_weigh *w, dd_error *error)
{
    const dd_road_loads *now = &w->states[0].road;
    const int axles = w->scenario->trailer.axle_count;
    const double g = w->scenario->gravity;
    dd_vehicle_parameters v = w->scenario->vehicle;
    dd_road_loads level;
    if (fabs(now->trailer_pitch) < LEVEL_ENOUGH) return DD_OK;
    dd_status status = level_ball(w, &v, &level, error);
    if (status != DD_OK) return status;
    char by[DD_REPORTER_TEXT], first[2][DD_REPORTER_TEXT], last[2][DD_REPORTER_TEXT], coupling[DD_REPORTER_TEXT];
    dd_reporter *r = w->report;
    const double rise = v.coupling_height - w->scenario->vehicle.coupling_height;
    dd_reporter_note(r, "The trailer stands %.1f degrees nose %s. A ball %s %s sets it level: coupling load %s, axle %s from %s to %s%s%s%s%s.",
                     fabs(now->trailer_pitch) * 57.295779513082323, now->trailer_pitch > 0 ? "down" : "up",
                     dd_reporter_quantity(r, fabs(rise), "mm", 0, by), rise > 0 ? "higher" : "lower",
                     dd_reporter_quantity(r, level.coupling / g, "kg", 0, coupling), axles > 1 ? "1" : "load",
                     dd_reporter_quantity(r, now->axle[0] / g, "kg", 0, first[0]), dd_reporter_quantity(r, level.axle[0] / g, "kg", 0, first[1]),
                     axles > 1 ? ", the last axle from " : "",
                     axles > 1 ? dd_reporter_quantity(r, now->axle[axles - 1] / g, "kg", 0, last[0]) : "", axles > 1 ? " to " : "",
                     axles > 1 ? dd_reporter_quantity(r, level.axle[axles - 1] / g, "kg", 0, last[1]) : "");
    return DD_OK;
}

dd_status dd_weigh_road(dd_weigh *w, dd_error *error)
{
    const dd_case *c = w->scenario;
    for (int i = 0; i < w->state_count; i++) {
        dd_state_of_loading *state = &w->states[i];
        dd_status status = dd_road_statics(&c->vehicle, &c->trailer, state->boat.mass, state->centre, c->gravity, &state->road, error);
        if (status != DD_OK) return status;
    }
    say_what_is_assumed(w);
    add_states(w);
    add_axles(w);
    for (int i = 0; i < w->state_count; i++)
        for (int a = 0; a < c->trailer.axle_count; a++)
            if (!(w->states[i].road.axle[a] > 0))
                dd_reporter_note(w->report, "%s: axle %d is off the ground: the ball is too %s for this trailer.", w->states[i].name, a + 1,
                                 w->states[i].road.trailer_pitch > 0 ? "low" : "high");
    return say_level_ball(w, error);
}
