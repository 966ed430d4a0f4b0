/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/rig/rigs.h"
#include "tests/unit/ode/checks.h"
#include <stdio.h>

dd_ramp_parameters test_ramp_parameters(void)
{
    dd_ramp_parameters p;
    dd_ramp_defaults(&p);
    p.slope = atan(1.0 / 8);
    p.crest_level = 2;
    p.toe_level = -1.5;
    p.bed_slope = atan(0.04);
    p.toe_step = 0.08;
    return p;
}

dd_ramp_parameters test_straight_ramp_parameters(double grade)
{
    dd_ramp_parameters p;
    dd_ramp_defaults(&p);
    p.point_count = 2;
    p.points[0].x = -100;
    p.points[0].z = 100 * grade;
    p.points[1].x = 1000;
    p.points[1].z = -1000 * grade;
    return p;
}

dd_vehicle_parameters test_vehicle_parameters(void)
{
    dd_vehicle_parameters p;
    dd_vehicle_defaults(&p);
    p.mass = 2100;
    p.wheelbase = 2.9;
    p.drive = 2;
    return p;
}

static void add_cradle(dd_trailer_parameters *p, const char *name, double behind, double above)
{
    dd_support *s = &p->supports[p->support_count++];
    dd_support_defaults(s, DD_SUPPORT_CRADLE);
    snprintf(s->name, sizeof s->name, "%s", name);
    s->behind_coupling = behind;
    s->above_ground = above;
    s->half_spacing_count = 2;
    s->half_spacings[0] = 0.3;
    s->half_spacings[1] = 0.5;
    s->deadrise = 0.3;
    s->rows = 3;
}

dd_trailer_parameters test_trailer_parameters(void)
{
    dd_trailer_parameters p;
    dd_trailer_defaults(&p);
    p.mass = 420;
    p.axle_count = 2;
    p.axles[0] = (dd_axle){4.1, 900, NAN};
    p.axles[1] = (dd_axle){4.85, 900, NAN};
    dd_support *keel = &p.supports[p.support_count++];
    dd_support_defaults(keel, DD_SUPPORT_KEEL_ROLLER);
    snprintf(keel->name, sizeof keel->name, "front keel roller");
    keel->behind_coupling = 2.2;
    keel->above_ground = 0.62;
    add_cradle(&p, "middle cradle", 4.0, 0.5);
    add_cradle(&p, "rear cradle", 6.0, 0.5);
    p.winch.behind_coupling = 1.1;
    p.winch.above_ground = 1.2;
    p.bow_stop.behind_coupling = 1.3;
    p.bow_stop.above_ground = 1.15;
    return p;
}

void reference_rig(dd_vehicle_parameters *v, dd_trailer_parameters *t)
{
    *v = test_vehicle_parameters();
    *t = test_trailer_parameters();
    v->mass = 1800;
    v->wheelbase = 2.7;
    v->centre_behind_front_axle = 1.25;
    v->centre_height = 0.6;
    v->coupling_behind_rear_axle = 1.1;
    v->coupling_height = t->coupling_height = 0.45;
    v->rear_suspension_squash = 1e-6;
    t->mass = 1500;
    t->axle_count = 1;
    t->axles[0] = (dd_axle){4.5, 1500, NAN};
    t->centre_behind_coupling = 4.5 - 0.315;
    t->centre_above_ground = 1.0;
    t->tyre_squash = 0;
    t->spring_squash = 1e-6;
    t->rolling_resistance = 0;
}

dd_ramp *test_ramp_of(const dd_ramp_parameters *parameters)
{
    dd_ramp *ramp;
    dd_error error = {0};
    CHECK_OK(dd_ramp_create(parameters, &ramp, &error), &error);
    return ramp;
}

dd_rig *test_rig_of(const dd_vehicle_parameters *vehicle, const dd_trailer_parameters *trailer)
{
    dd_rig *rig;
    dd_error error = {0};
    CHECK_OK(dd_rig_create(vehicle, trailer, &rig, &error), &error);
    return rig;
}
