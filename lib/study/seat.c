/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/seat.h"
#include "lib/base/error.h"
#include <drawdock/study.h>
#include <math.h>
#include <stdlib.h>

/* The parts of the report, in its order. */
static dd_status (*const parts[])(dd_seat *, dd_error *) = {dd_seat_loads, dd_seat_asked, dd_seat_required, dd_seat_road, dd_seat_strength, dd_seat_contacts, dd_seat_what_if, dd_seat_bow, dd_seat_guides, dd_seat_picture};

dd_vec3 dd_seat_standing(const dd_seat *s, double slope)
{
    const double length = sqrt(1 + slope * slope);
    /* Down the slope is aft. */
    return dd_apply_transposed(&s->placement.to_trailer, dd_vec(slope / length * s->gravity, 0, -s->gravity / length));
}

void dd_seat_by_support(const dd_seat *s, const dd_seat_solution *solution, double *loads, double *bow_stop, double *strap)
{
    for (int k = 0; loads != NULL && k < s->scenario->trailer.support_count; k++) loads[k] = 0;
    if (bow_stop != NULL) *bow_stop = 0;
    if (strap != NULL) *strap = s->model.first_grip > 0 ? solution->tension[0] : 0;
    for (int i = 0; i < s->model.contact_count; i++) {
        const dd_seat_contact *c = &s->model.contacts[i];
        if (c->support >= 0 && loads != NULL) loads[c->support] += solution->load[i];
        if (c->support < 0 && bow_stop != NULL) *bow_stop += solution->load[i];
    }
}

void dd_seat_greatest(const dd_seat *s, const dd_seat_solution *solution, double *loads, int *contact)
{
    for (int k = 0; k < s->scenario->trailer.support_count; k++) {
        loads[k] = 0;
        if (contact != NULL) contact[k] = -1;
    }
    for (int i = 0; i < s->model.contact_count; i++) {
        const int k = s->model.contacts[i].support;
        if (k < 0 || solution->load[i] <= loads[k]) continue;
        loads[k] = solution->load[i];
        if (contact != NULL) contact[k] = i;
    }
}

double dd_seat_keel_share(const dd_seat *s, const dd_seat_solution *solution)
{
    double keel = 0, all = 0;
    for (int i = 0; i < s->model.contact_count; i++) {
        const dd_seat_contact *c = &s->model.contacts[i];
        if (c->roller < 0) continue;
        const double upright = solution->load[i] * c->push.z;
        all += upright;
        if (s->m->rig->rollers[c->roller].keel) keel += upright;
    }
    return all > 0 ? keel / all : NAN;
}

dd_status dd_seat_begin(const dd_case *scenario, dd_seat *s, dd_error *error)
{
    s->scenario = scenario;
    dd_status status = dd_yard_create(s->scenario, 0, &s->m, error);
    if (status == DD_OK) status = dd_study_home(s->m, 0, DD_FRICTION_NONE, s->m->memory, &s->home, error);
    if (status != DD_OK) return status;
    s->placement = (dd_placement){.origin = s->home.pose.position, .to_trailer = dd_rotation_of(s->home.pose.attitude)};
    s->gravity = s->scenario->gravity;
    status = dd_seat_model_create(s->m, &s->home, s->scenario->seating.law == DD_LAW_LINEAR, &s->model, error);
    if (status == DD_OK) status = dd_seat_solve(&s->model, dd_seat_standing(s, 0), NULL, NULL, &s->level, error);
    return status;
}

dd_status dd_seat_parts(dd_seat *s, dd_error *error)
{
    dd_status status = DD_OK;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0] && status == DD_OK; i++) status = parts[i](s, error);
    return status;
}

dd_status dd_study_seat(const dd_case *scenario, dd_report **report, dd_error *error)
{
    *report = NULL;
    if (scenario->cookie != sizeof *scenario)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_case: cookie", "the scenario was not filled by dd_case_defaults of this version");
    dd_seat *s = calloc(1, sizeof *s);
    if (s == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_seat", "no memory for the supports");
    s->report = dd_reporter_create(scenario->title, "seat", DD_REPORT_METRIC);
    dd_status status = s->report != NULL ? dd_seat_begin(scenario, s, error) : dd_fail(error, DD_ERROR_MEMORY, "dd_study_seat", "no memory for the report");
    if (status == DD_OK) status = dd_seat_parts(s, error);
    if (status == DD_OK) {
        status = dd_reporter_finish(s->report, report, error);
        s->report = NULL;
    }
    dd_reporter_free(s->report);
    dd_study_model_free(s->m);
    free(s);
    return status;
}
