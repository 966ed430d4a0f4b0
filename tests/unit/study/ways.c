/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/study/ways.h"
#include "lib/force/strap.h"

static const double point = 1e-6;      /* radius of the rollers, m */
static const double keel_height = 0.3; /* over the coupling, m */
static const double strap_toe = 5e-4;  /* of the strap's law: no tension below this shortening, m */

static void must(dd_status status, const dd_error *error)
{
    if (status != DD_OK) fail_msg("%s: %s", error->place, error->message);
}

/* As set_mass of hulls.h, which stops at ships. */
static void put_mass(dd_hull_parameters *p, double mass, dd_vec3 centre)
{
    p->mass = mass;
    p->mass_of = DD_MASS_READY_TO_GO;
    p->engine_power = 0;
    p->centre_from_transom = centre.x;
    p->centre_height = centre.z;
}

dd_hull *ways_prism(double length, int bays, int points, const double *y, const double *z, double mass, dd_vec3 centre)
{
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    dd_hull_defaults(p);
    put_mass(p, mass, centre);
    p->lines = DD_LINES_STRAIGHT;
    p->station_count = bays + 1;
    assert_int_equal(points, 3);
    for (int i = 0; i <= bays; i++)
        p->stations[i] = (dd_station){.at = length * i / bays,
                                      .keel_height = z[0],
                                      .chine_half_breadth = y[1],
                                      .chine_height = z[1],
                                      .sheer_half_breadth = y[2],
                                      .sheer_height = z[2]};
    dd_hull *hull = create(p);
    free(p);
    return hull;
}

dd_hull *ways_chine(int parts, double mass, dd_vec3 centre)
{
    dd_hull_parameters *p = malloc(sizeof *p), *q = malloc(sizeof *q);
    assert_non_null(p);
    assert_non_null(q);
    synthetic_chine_parameters(p);
    *q = *p;
    q->station_count = (p->station_count - 1) * parts + 1;
    assert_true(q->station_count <= DD_STATIONS);
    for (int i = 0; i < q->station_count; i++) {
        const int bay = i / parts < p->station_count - 1 ? i / parts : p->station_count - 2;
        const double t = (double)(i - bay * parts) / parts;
        const dd_station *a = &p->stations[bay], *b = a + 1;
        q->stations[i] =
            (dd_station){.at = a->at + t * (b->at - a->at),
                         .keel_height = a->keel_height + t * (b->keel_height - a->keel_height),
                         .chine_half_breadth = a->chine_half_breadth + t * (b->chine_half_breadth - a->chine_half_breadth),
                         .chine_height = a->chine_height + t * (b->chine_height - a->chine_height),
                         .sheer_half_breadth = a->sheer_half_breadth + t * (b->sheer_half_breadth - a->sheer_half_breadth),
                         .sheer_height = a->sheer_height + t * (b->sheer_height - a->sheer_height)};
    }
    q->lines = DD_LINES_STRAIGHT;
    put_mass(q, mass, centre);
    dd_hull *hull = create(q);
    free(p);
    free(q);
    return hull;
}

static dd_hull *make_carrier(const ways_spec *spec, double strap)
{
    const dd_mass_properties *mass = dd_hull_mass(spec->hull);
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    dd_hull_defaults(p);
    put_mass(p, mass->mass, mass->centre);
    p->station_count = 2;
    for (int i = 0; i < 2; i++)
        p->stations[i] =
            (dd_station){.at = (3 * i - 1) * spec->length, .chine_half_breadth = 1, .sheer_half_breadth = 1, .sheer_height = 1};
    p->bow_eye_from_transom = isnan(spec->pivot) ? 0 : spec->pivot - strap;
    p->bow_eye_height = 0;
    dd_hull *hull = create(p);
    free(p);
    return hull;
}

static void put_roller(ways *w, int index, double at)
{
    dd_roller *roller = &w->m.rig->rollers[index];
    const double home = w->spec.length + 1;
    roller->centre = dd_vec(home - at, 0, keel_height - point);
    roller->radius = point;
    roller->stiffness = w->weight / pow(w->spec.yielding, 1.5);
}

/* A plain rig, then every measure of it that matters here put in its place: lengths may be those of a ship. */
static void make_rig(ways *w)
{
    dd_vehicle_parameters *v = malloc(sizeof *v);
    dd_trailer_parameters *t = malloc(sizeof *t);
    dd_error error;
    assert_non_null(v);
    assert_non_null(t);
    dd_vehicle_defaults(v);
    v->mass = 2000;
    v->wheelbase = 3;
    v->drive = 2;
    dd_trailer_defaults(t);
    t->mass = 300;
    t->axle_count = 1;
    t->axles[0] = (dd_axle){4, NAN, NAN};
    t->coupling_height = v->coupling_height;
    t->support_count = isnan(w->spec.pivot) ? 1 : 2;
    for (int i = 0; i < t->support_count; i++) {
        dd_support_defaults(&t->supports[i], DD_SUPPORT_KEEL_ROLLER);
        t->supports[i].behind_coupling = 3 + i;
        t->supports[i].above_ground = 0.6;
        t->supports[i].width = 0;
        t->supports[i].side_friction = w->spec.side_friction;
        t->supports[i].rolling_resistance = 0;
    }
    t->winch.behind_coupling = 2;
    t->winch.above_ground = 1;
    t->bow_stop.behind_coupling = 2;
    t->bow_stop.above_ground = 1;
    must(dd_rig_create(v, t, &w->m.rig, &error), &error);
    free(v);
    free(t);
    dd_rig *rig = w->m.rig;
    if (!isnan(w->spec.pivot)) put_roller(w, WAYS_PIVOT, w->spec.pivot);
    put_roller(w, rig->roller_count - 1, w->spec.rear);
    const double middle = isnan(w->spec.pivot) ? 0.5 * w->spec.length : 0.5 * (w->spec.pivot + w->spec.rear);
    rig->axle[0].x = rig->trailer.axles[0].behind_coupling = w->spec.length + 1 - middle;
    rig->trailer.mass = 0.2 * w->weight / DD_STANDARD_GRAVITY;
    rig->trailer_centre = rig->axle[0];
    rig->axle_rated_load[0] = 1e-3 * w->weight; /* its share sets how gently the load sets in */
    rig->axle_stiffness[0] = rig->ball_stiffness = w->weight / w->spec.yielding;
    rig->wheel_radius = rig->trailer.tyre_radius + w->spec.yielding;
    dd_winch_parameters *winch = &rig->trailer.winch;
    winch->behind_coupling = rig->rollers[WAYS_PIVOT].centre.x;
    winch->above_ground = rig->trailer.coupling_height + keel_height;
    winch->strap_rating = 20 * w->weight;
    winch->strap_stretch_at_rating = 1e-3;
    rig->trailer.bow_stop.behind_coupling = NAN; /* a trailer without one */
    if (isnan(w->spec.pivot)) winch->behind_coupling = NAN;
}

static void make_system(ways *w, int strips_per_bay)
{
    /* Only what the closed forms know: no ground under the hull, no water that lifts the trailer. */
    static const char *const with[] = {"hull weight", "buoyancy", "roller", "strap", "rig weight", "coupling", "axles", "wheels"};
    const char *without[64] = {"added mass"};
    for (int f = 0, out = 1; f < dd_force_count() && out < 63; f++) {
        bool known = false;
        for (size_t k = 0; k < sizeof with / sizeof with[0]; k++) known |= strcmp(dd_force_at(f)->name, with[k]) == 0;
        if (!known) without[out++] = dd_force_at(f)->name;
    }
    dd_study_model *m = &w->m;
    dd_error error;
    dd_ramp_parameters *r = malloc(sizeof *r);
    assert_non_null(r);
    must(dd_strips_create(w->hull, strips_per_bay, &m->strips, &error), &error);
    dd_ramp_defaults(r);
    r->point_count = 2;
    r->points[0].x = -1000;
    r->points[0].z = 1000 * tan(w->spec.slope);
    r->points[1].x = 1000;
    r->points[1].z = -1000 * tan(w->spec.slope);
    must(dd_ramp_create(r, &m->ramp, &error), &error);
    free(r);
    dd_water water;
    dd_water_defaults(&water);
    water.level = 0;
    water.density = w->spec.density;
    must(dd_water_complete(&water, &error), &error);
    m->model = (dd_model){.hull = w->carrier,
                          .rig = m->rig,
                          .ramp = m->ramp,
                          .strips = m->strips,
                          .water = water,
                          .gravity = DD_STANDARD_GRAVITY};
    m->hull = w->carrier;
    must(dd_system_create(&m->model, without, NULL, NULL, &m->system, &error), &error);
    must(dd_workspace_create(m->system, &m->workspace, &error), &error);
    m->workspace->plan.set.strap_hooked = 1;
}

/* Of the keel on the pivot, or of the pivot once the keel is clear of it. */
static double length_of(const ways *w, const dd_pose *pose)
{
    const dd_motion rest = {{0}, {0}};
    const double at = w->spec.pivot;
    dd_kinematics k;
    dd_kinematics_of(&w->m.model, 0, pose, &rest, &k);
    double of_keel = k.waterplane.level - k.waterplane.up.x * at;
    double of_pivot = w->m.model.water.level - dd_trailer_point(&k, w->m.rig->rollers[WAYS_PIVOT].centre).z - point;
    return at + fmax(of_keel, of_pivot) / sin(w->spec.slope);
}

static void strap_to(ways *w, double length)
{
    const dd_system_force *strap = dd_system_find(w->m.system, &dd_force_strap);
    if (strap != NULL) w->settle.memory[strap->memory_first] = length;
}

/* Everything but the place of the rig: it stands at x = 0, the keel just on its rollers. */
static void build(ways *w, const ways_spec *spec, int strips_per_bay)
{
    memset(w, 0, sizeof *w);
    w->spec = *spec;
    w->hull = spec->hull;
    w->weight = dd_hull_mass(w->hull)->mass * DD_STANDARD_GRAVITY;
    w->strap = 0.3 * spec->length;
    w->carrier = make_carrier(spec, w->strap);
    make_rig(w);
    make_system(w, strips_per_bay);
    w->settle = (dd_settle){.m = &w->m, .state = DD_FRICTION_NONE, .free = spec->free};
    w->settle.memory = calloc((size_t)w->m.system->memory_count + 1, sizeof(double));
    assert_non_null(w->settle.memory);
    w->settle.at.pose = dd_study_rig_pose(&w->m, 0);
    w->settle.at.pose.position = dd_vec(spec->length + 1, 0, keel_height);
}

void ways_create(ways *w, const ways_spec *spec, int strips_per_bay, double s)
{
    build(w, spec, strips_per_bay);
    strap_to(w, w->strap);
    w->settle.at.pose.rig[DD_RIG_X] = (s - length_of(w, &w->settle.at.pose)) * cos(spec->slope);
    ways_to(w, s);
}

void ways_dock(ways *w, const ways_spec *spec, int strips_per_bay)
{
    build(w, spec, strips_per_bay);
    strap_to(w, 10 * spec->length);
}

void ways_float(ways *w)
{
    dd_error error;
    const double draught = level_for(w->hull, 0, 0, w->weight / DD_STANDARD_GRAVITY / w->spec.density), clear = 0.5 * draught;
    w->settle.at.pose.position.z = keel_height + clear;
    w->m.model.water.level = w->m.rig->trailer.coupling_height + keel_height + clear + draught;
    w->m.system->model.water.level = w->m.model.water.level;
    must(dd_settle_to(&w->settle, w->settle.at.pose.rig[DD_RIG_X], &error), &error);
}

double ways_depth(const ways *w)
{
    const dd_waterplane *plane = &w->m.workspace->kinematics.waterplane;
    return plane->level - plane->up.x * w->spec.rear;
}

dd_status ways_fall(ways *w, double depth, dd_error *error)
{
    dd_status status = DD_OK;
    for (int i = 0; i < 6 && status == DD_OK; i++) {
        double off = i == 0 ? 0 : depth - ways_depth(w);
        if (i == 0) { /* the keel is at the rollers' height, the trailer level */
            w->m.model.water.level = w->m.rig->trailer.coupling_height + keel_height + depth;
            w->settle.at.pose.position.z = keel_height;
        } else if (fabs(off) < 1e-11 * w->spec.length)
            break;
        w->m.model.water.level += off;
        w->m.system->model.water.level = w->m.model.water.level;
        status = dd_settle_to(&w->settle, w->settle.at.pose.rig[DD_RIG_X], error);
    }
    return status;
}

void ways_free(ways *w)
{
    dd_settle_end(&w->settle);
    dd_workspace_free(w->m.workspace);
    dd_system_free(w->m.system);
    dd_strips_free(w->m.strips);
    dd_ramp_free(w->m.ramp);
    dd_rig_free(w->m.rig);
    dd_hull_free(w->carrier);
    dd_hull_free(w->hull);
}

/* How far the hull has run out over the pivot. */
static double run_out(const ways *w)
{
    dd_mat3 turn = dd_rotation_of(w->settle.at.pose.attitude);
    return dd_apply_transposed(&turn, dd_sub(w->m.rig->rollers[WAYS_PIVOT].centre, w->settle.at.pose.position)).x -
           w->spec.pivot;
}

/* Winds the strap until the pivot stands where it should. Where nothing pulls at the strap, or it is no part of the case, the hull
   is put there: next to nothing holds it lengthwise. */
static dd_status wind(ways *w, dd_error *error)
{
    const int tension = dd_system_channel(w->m.system, &dd_force_strap, 0, "strap_tension_N");
    const int length = dd_system_channel(w->m.system, &dd_force_strap, 0, "strap_length_m");
    const bool free = (w->spec.free & (1 << DD_HULL_COORDINATE)) != 0;
    dd_status status = DD_OK;
    for (int i = 0; i < 8 && tension >= 0 && status == DD_OK; i++) {
        double over = run_out(w);
        if (fabs(over) < 1e-10 * w->spec.length) break;
        if (free && w->m.workspace->channels[tension] > 1e-6 * w->weight)
            strap_to(w, w->m.workspace->channels[length] - over);
        else {
            const double forward[6] = {over};
            dd_pose_displace(&w->settle.at.pose, forward, NULL);
            strap_to(w, w->strap + strap_toe);
        }
        status = dd_settle_to(&w->settle, w->settle.at.pose.rig[DD_RIG_X], error);
    }
    return status;
}

dd_status ways_try(ways *w, double s, dd_error *error)
{
    dd_status status = DD_OK;
    for (int i = 0; i < 5 && status == DD_OK; i++) {
        double off = s - length_of(w, &w->settle.at.pose);
        if (i > 0 && fabs(off) < 1e-10 * w->spec.length) break;
        status = dd_settle_to(&w->settle, w->settle.at.pose.rig[DD_RIG_X] + off * cos(w->spec.slope), error);
        if (status == DD_OK) status = wind(w, error);
    }
    return status;
}

void ways_to(ways *w, double s)
{
    dd_error error;
    must(ways_try(w, s, &error), &error);
}

double ways_length(const ways *w) { return length_of(w, &w->settle.at.pose); }

double ways_angle(const ways *w)
{
    double heel, trim, heading;
    dd_attitude(&w->m.workspace->kinematics, &heel, &trim, &heading);
    return -trim;
}

double ways_buoyancy(const ways *w)
{
    return w->m.workspace->channels[dd_system_channel(w->m.system, &dd_force_buoyancy, 0, "buoyancy_N")];
}

double ways_load(const ways *w, int support)
{
    return w->m.workspace->channels[dd_system_channel(w->m.system, &dd_force_roller, support, "load_N")];
}

double ways_gap(const ways *w, int support)
{
    const dd_kinematics *k = &w->m.workspace->kinematics;
    dd_vec3 p = dd_apply_transposed(&k->to_trailer, dd_sub(w->m.rig->rollers[support].centre, k->pose.position));
    return -p.z - point;
}

typedef struct lifting {
    ways *w;
    int support;
} lifting;

static double gap_at(double s, void *context)
{
    lifting *l = context;
    ways_to(l->w, s);
    return ways_gap(l->w, l->support);
}

double ways_lift(ways *w, int support, double step)
{
    lifting l = {w, support};
    double from = ways_length(w), to = from, at_from = ways_gap(w, support), at_to = at_from, root = NAN;
    dd_error error;
    assert_true(at_from < 0);
    for (int i = 0; i < 400 && at_to < 0; i++) {
        from = to;
        at_from = at_to;
        to = from + step;
        at_to = gap_at(to, &l);
    }
    must(dd_ode_locate(gap_at, &l, from, to, at_from, at_to, 1e-10 * w->spec.length, &root, &error), &error);
    ways_to(w, root);
    return root;
}
