/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The weighbridge and the run agree: coupling and axle loads with the boat at home on level ground, by the forces of a run and by
   the road's statics. Closed form: within 1e-6 of the trailer's weight (the run's balance stops there); 0.5 % was asked. */
#include "tests/property/scenarios.h"
#include "lib/force/force.h"
#include "lib/rig/road.h"
#include "lib/study/observe.h"
#include "lib/study/yard.h"

static double channel(const dd_study_model *m, const dd_force_kind *force, int unit, const char *name)
{
    const int i = dd_system_channel(m->system, force, unit, name);
    assert_true(i >= 0);
    return m->workspace->channels[i];
}

static void agree(const char *name, const char *const *overrides)
{
    dd_case *scenario = scenario_read(name, overrides);
    dd_study_model *m = NULL;
    dd_equilibrium home;
    dd_road_loads r;
    MUST(dd_yard_create(scenario, 0, &m, error));
    MUST(dd_study_home(m, 0, DD_FRICTION_NONE, m->memory, &home, error));
    const dd_mass_properties *boat = dd_hull_mass(m->hull);
    const dd_placement placed = {.origin = home.pose.position, .to_trailer = dd_rotation_of(home.pose.attitude)};
    MUST(dd_road_statics(&scenario->vehicle, &scenario->trailer, boat->mass, dd_placed_point(&placed, boat->centre), scenario->gravity, &r,
                         error));
    const double weight = r.aggregate_mass * scenario->gravity;
    NEAR(r.coupling / weight, channel(m, &dd_force_coupling, 0, "coupling_load_N") / weight, 1e-6, "coupling");
    for (int i = 0; i < scenario->trailer.axle_count; i++)
        NEAR(r.axle[i] / weight, channel(m, &dd_force_axles, i, "axle_load_N") / weight, 1e-6, "axle");
    NEAR(-r.trailer_pitch, home.pose.rig[DD_RIG_PITCH], 1e-7, "pitch");
    NEAR(r.vehicle_front / weight, channel(m, &dd_force_wheels, 1, "normal_load_N") / weight, 1e-5, "front axle of the vehicle");
    NEAR(r.vehicle_rear / weight, channel(m, &dd_force_wheels, 2, "normal_load_N") / weight, 1e-5, "rear axle of the vehicle");
    dd_study_model_free(m);
    free(scenario);
}

static void test_agree(void **state)
{
    (void)state;
    const char *const low[] = {"vehicle.coupling height=330 mm", NULL}, *const torsion[] = {"trailer.suspension=torsion", NULL},
                *const beam[] = {"trailer.suspension=rocking beam", "trailer.beam arm ratio=1.2", NULL};
    agree("launch", NULL);
    agree("rigs/six-rocker-launch", NULL);
    agree("rigs/six-rocker-launch", low);
    agree("rigs/seven-multi-roller-launch", torsion);
    agree("rigs/six-rocker-launch", beam);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_agree)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
