/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trailer's frame under keel and stem: what a boat that lies on it weighs there, friction, where it misses, and its energy. */
#include "tests/unit/force/contact_fixture.h"
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>
#include <string.h>

enum { LOAD, FRICTION, GAP, CHANNELS };
static const double top = 0.05, squash = 0.01, edge = 0.02; /* of the frame over the coupling; the force's defaults, m */
static const double width = 0.1, length = 6;                /* of the drawbar; of the wedge, m */

typedef struct stand {
    dd_hull *hull;
    dd_rig rig;
    fixture_force frame, roller, water; /* water: without an instance, none */
    dd_strips *strips;
    double weight;
    dd_vec3 centre; /* of mass, boat axes */
} stand;

/* A straight keel 6 m long over keel rollers at those places whose tops stand `over` above the frame; a roller `wide` at its first. */
static void open_stand(stand *s, int count, const double *x, double wide, double over)
{
    memset(s, 0, sizeof *s);
    s->hull = fixture_wedge(0.3);
    assert_non_null(s->hull);
    fixture_rig(&s->rig);
    dd_trailer_parameters *t = &s->rig.trailer;
    t->frame_height = t->coupling_height + top;
    t->drawbar_width = width;
    t->track = 1.85;
    t->tyre_width = 0.165;
    for (int i = 0; i < count; i++) {
        dd_roller *r = fixture_add_roller(&s->rig, 0, x[i], 0, top + over, 0);
        r->support = i;
        r->width = i == 0 ? wide : 0;
        t->supports[t->support_count++] = (dd_support){.kind = DD_SUPPORT_KEEL_ROLLER, .behind_coupling = x[i]};
    }
    s->frame = fixture_prepare(&dd_force_bow_on_frame, s->hull, &s->rig);
    s->roller = fixture_prepare(&dd_force_roller, s->hull, &s->rig);
    s->weight = dd_hull_mass(s->hull)->mass * DD_STANDARD_GRAVITY;
    s->centre = dd_hull_mass(s->hull)->centre;
}
static void close_stand(stand *s)
{
    s->frame.kind->free(s->frame.instance);
    s->roller.kind->free(s->roller.instance);
    if (s->water.instance != NULL) s->water.kind->free(s->water.instance);
    dd_strips_free(s->strips);
    dd_hull_free(s->hull);
}

/* The transom's keel at that place of the trailer, bow down by `pitch`. */
static fixture_state lying(double x, double y, double z, double pitch)
{
    fixture_state s;
    memset(&s, 0, sizeof s);
    s.pose.position = dd_vec(x, y, z);
    s.pose.attitude = dd_quaternion_multiply((dd_quaternion){cos(0.5 * pitch), 0, -sin(0.5 * pitch), 0}, (dd_quaternion){0, 0, 0, 1});
    return s;
}

/* Lift and moment about the transom's keel, in the trailer's upright plane, of frame, rollers, water and weight. */
static void balance(const stand *s, const fixture_state *at, double out[2])
{
    const dd_mat3 turn = dd_rotation_of(at->pose.attitude);
    const fixture_result f = fixture_evaluate(&s->frame, at), r = fixture_evaluate(&s->roller, at);
    double wrench[6] = {0};
    dd_wrench_add(wrench, dd_scale(-s->weight, dd_apply_transposed(&turn, dd_vec(0, 0, 1))), s->centre);
    for (int i = 0; i < 6; i++) wrench[i] += f.load.hull[i] + r.load.hull[i];
    if (s->water.instance != NULL) {
        const fixture_result w = fixture_evaluate(&s->water, at);
        for (int i = 0; i < 6; i++) wrench[i] += w.load.hull[i];
    }
    out[0] = dd_apply(&turn, dd_vec(wrench[0], wrench[1], wrench[2])).z;
    out[1] = wrench[4];
}

/* Where it comes to rest at x and y, its height and pitch by Newton's method. */
static fixture_state at_rest(const stand *s, double x, double y, double z, double pitch)
{
    const double h = 1e-7;
    for (int i = 0; i < 60; i++) {
        double now[2], higher[2], lower[2], down[2], up[2];
        fixture_state at = lying(x, y, z, pitch), a = lying(x, y, z + h, pitch), b = lying(x, y, z - h, pitch), c = lying(x, y, z, pitch + h),
                      d = lying(x, y, z, pitch - h);
        balance(s, &at, now), balance(s, &a, higher), balance(s, &b, lower), balance(s, &c, down), balance(s, &d, up);
        const double kzz = (higher[0] - lower[0]) / (2 * h), kmz = (higher[1] - lower[1]) / (2 * h), kzp = (down[0] - up[0]) / (2 * h),
                     kmp = (down[1] - up[1]) / (2 * h), whole = kzz * kmp - kzp * kmz;
        if (fabs(now[0]) + fabs(now[1]) < 1e-10 * s->weight) break;
        double dz = -(kmp * now[0] - kzp * now[1]) / whole, dp = -(kzz * now[1] - kmz * now[0]) / whole;
        const double most = fmax(fabs(dz) / 0.004, fabs(dp) / 0.001);
        if (!(most < 1)) dz /= most, dp /= most;
        z += dz, pitch += dp;
    }
    const fixture_state at = lying(x, y, z, pitch);
    double left[2];
    balance(s, &at, left);
    assert_near(left[0], 0, 1e-7 * s->weight);
    assert_near(left[1], 0, 1e-7 * s->weight);
    return at;
}

/* A boat that has come down beside its front roller lies on the cross member under it and on its rear roller: neither has friction at
   rest, both push at right angles to the keel, so each bears by its lever about the other's axle; what holds the boat from sliding down
   its keel acts at the transom, along the trailer. 1e-6 of the weight times 1 m: what is left of the balance. Grade: closed form. */
static void loads_of_member_and_roller_are_by_levers(void **state)
{
    (void)state;
    for (int side = -1; side <= 1; side += 2) {
        stand s;
        double seen[CHANNELS];
        open_stand(&s, 2, (double[]){3, 5.5}, 0.1, 0.06);
        const fixture_state at = at_rest(&s, 6.3, 0.2 * side, top + 0.07, 0.024);
        const dd_mat3 turn = dd_rotation_of(at.pose.attitude);
        const dd_vec3 roller = s.rig.rollers[1].centre, bar = dd_vec(3, 0, top - edge), aft = dd_apply(&turn, dd_vec(-1, 0, 0));
        const dd_vec3 centre = dd_add(at.pose.position, dd_apply(&turn, s.centre));
        const double apart = dd_dot(dd_sub(roller, bar), aft), hold = s.weight * aft.z / aft.x;
        const fixture_result on_roller = fixture_evaluate(&s.roller, &at);
        fixture_channels(&s.frame, &at, seen);
        assert_near(seen[LOAD] * apart, s.weight * (roller.x - centre.x) - hold * (at.pose.position.z - roller.z), 1e-6 * s.weight);
        assert_near(on_roller.load.hull[2] * apart, s.weight * (centre.x - bar.x) + hold * (at.pose.position.z - bar.z), 1e-6 * s.weight);
        assert_true(seen[LOAD] > 0.2 * s.weight);
        /* and it gives way by what its stiffness says */
        const double depth = squash * pow(seen[LOAD] / s.weight, 2.0 / 3);
        const dd_vec3 keel = dd_apply_transposed(&turn, dd_sub(bar, at.pose.position));
        assert_near(keel.z, -(edge - depth), 1e-8);
        close_stand(&s);
    }
}

/* A bow that comes down on the drawbar, its stern on a roller: the drawbar bears by the lever of the place under the forefoot, which is
   pressed in over less than 0.4 m. Grade: closed form (levers, within that length). */
static void bow_bears_on_the_drawbar_by_its_lever(void **state)
{
    (void)state;
    stand s;
    double seen[CHANNELS];
    open_stand(&s, 1, (double[]){5.5}, 0, 0.06);
    const fixture_state at = at_rest(&s, 6.3, 0, top + 0.07, 0.013);
    fixture_channels(&s.frame, &at, seen);
    const double moment = s.weight * (5.5 - (6.3 - s.centre.x)), lever = 5.5 - (6.3 - length);
    assert_true(seen[LOAD] >= 0.999 * moment / lever && seen[LOAD] <= moment / (lever - 0.4));
    assert_true(seen[GAP] < 0 && seen[GAP] > -squash); /* no deeper than a bar under the whole weight */
    close_stand(&s);
}

/* Fresh water of that level over the coupling, and a V of that deadrise in it, its forefoot over a cross member 2 m behind the coupling. */
static void open_afloat(stand *s, double deadrise, double member_top, double level)
{
    dd_error error = {0};
    memset(s, 0, sizeof *s);
    s->hull = fixture_wedge(deadrise);
    assert_non_null(s->hull);
    fixture_rig(&s->rig);
    fixture_add_roller(&s->rig, 0, 5.5, 0, -2, 0); /* far below */
    s->rig.trailer.frame_height = NAN;
    s->rig.trailer.cross_member_count = 1;
    s->rig.trailer.cross_members[0] = (dd_cross_member){2, s->rig.trailer.coupling_height + member_top, 1};
    s->frame = fixture_prepare(&dd_force_bow_on_frame, s->hull, &s->rig);
    s->roller = fixture_prepare(&dd_force_roller, s->hull, &s->rig);
    assert_int_equal(dd_strips_create(s->hull, 0, &s->strips, &error), DD_OK);
    s->water = (fixture_force){.kind = &dd_force_buoyancy, .model = {.hull = s->hull, .strips = s->strips, .gravity = DD_STANDARD_GRAVITY}};
    dd_water_defaults(&s->water.model.water);
    s->water.model.water.level = level;
    s->water.model.water.density = 1000;
    assert_int_equal(dd_water_complete(&s->water.model.water, &error), DD_OK);
    assert_int_equal(s->water.kind->prepare(&s->water.model, NULL, &s->water.instance, &error), DD_OK);
    s->weight = dd_hull_mass(s->hull)->mass * DD_STANDARD_GRAVITY;
    s->centre = dd_hull_mass(s->hull)->centre;
}

/* A boat whose stern floats, its forefoot on a member: what the member bears by moments about the centre of buoyancy, which is a V's in
   closed form: at the keel's depth t = a - b x over the whole length its section is t^2 / tan(deadrise), its centre 2/3 t over the keel. What
   holds it from sliding down the keel acts at the transom, along the trailer. 1e-6 of the weight x 1 m: what is left of the balance. */
static void bow_bears_on_a_member_while_the_stern_floats(void **state)
{
    (void)state;
    const double deadrise = 0.5, member_top = -0.2;
    for (double level = -0.06; level < 0.01; level += 0.03) {
        stand s;
        double seen[CHANNELS];
        open_afloat(&s, deadrise, member_top, level);
        const fixture_state at = at_rest(&s, 7.5, 0, level - 0.38, -0.02);
        fixture_channels(&s.frame, &at, seen);
        const dd_mat3 turn = dd_rotation_of(at.pose.attitude);
        const dd_vec3 keel = dd_apply(&turn, dd_vec(1, 0, 0)), over = dd_apply(&turn, dd_vec(0, 0, 1));
        const double a = (level - at.pose.position.z) / over.z, b = keel.z / over.z, end = a - b * length;
        assert_true(b > 0.002 && end > 0.02 && a < 0.9 * tan(deadrise)); /* bow up, all of the keel under water, the chines out of it */
        const double volume = (pow(a, 3) - pow(end, 3)) / (3 * b) / tan(deadrise);
        const double x = ((pow(a, 4) - a * pow(end, 3)) / 3 - (pow(a, 4) - pow(end, 4)) / 4) / (b * b) / tan(deadrise) / volume;
        const double z = (pow(a, 4) - pow(end, 4)) / (6 * b) / tan(deadrise) / volume;
        const double floats = -(x * keel.x + z * over.x), weighs = -(s.centre.x * keel.x + s.centre.z * over.x); /* forward of the transom */
        const dd_vec3 bar = dd_sub(dd_vec(2, 0, member_top - edge), at.pose.position);
        const double bears = dd_dot(bar, keel), load = s.weight * (weighs - floats) / (bears + floats * keel.x);
        print_message("level %+.2f m: the member bears %.1f N of %.0f, closed form %.1f N; water %.1f N\n", level, seen[LOAD], s.weight, load,
                      1000 * DD_STANDARD_GRAVITY * volume);
        assert_true(seen[LOAD] > 0.02 * s.weight);
        assert_near(seen[LOAD], load, 1e-6 * s.weight);
        assert_near(1000 * DD_STANDARD_GRAVITY * volume, s.weight - load * -keel.x, 1e-6 * s.weight);
        close_stand(&s);
    }
}

/* A keel that lies flat on the drawbar is borne along it: k d^1.5 for each 0.1 m, to one place of the twenty. Beside the drawbar, or high
   over it, nothing. Grade: closed form. */
static void a_keel_lies_along_the_drawbar(void **state)
{
    (void)state;
    stand s;
    double seen[CHANNELS];
    const double d = 0.004, k = 1200 * DD_STANDARD_GRAVITY / (squash * sqrt(squash)), bow = 0.4;
    open_stand(&s, 1, (double[]){2}, 0, 0.06);
    fixture_state at = lying(bow + length, 0, top - d, 0);
    fixture_result r = fixture_evaluate(&s.frame, &at);
    fixture_channels(&s.frame, &at, seen);
    const double whole = k * d * sqrt(d) * ((2 - bow) / 0.1 + 1); /* with its end, which is the member under the roller */
    assert_near(seen[LOAD], whole, 0.06 * whole);
    assert_near(r.load.hull[2], seen[LOAD], 1e-9 * whole);
    assert_near(r.load.energy, 0.4 * d * seen[LOAD], 1e-9 * whole);
    assert_near(seen[GAP], -d, 1e-12);
    at = lying(bow + length, 0, top + 0.03, 0);
    fixture_channels(&s.frame, &at, seen);
    assert_true(seen[LOAD] == 0);
    assert_near(seen[GAP], 0.03, 1e-12);
    at = lying(bow + length, 0.5 * width + 0.031, top - d, 0); /* off the drawbar, still on the member under the roller */
    fixture_channels(&s.frame, &at, seen);
    assert_near(seen[LOAD], k * d * sqrt(d), 1e-9 * whole);
    at = lying(bow + length, 0.9, top - d, 0); /* outboard of the members, which end at the wheels */
    fixture_channels(&s.frame, &at, seen);
    assert_true(seen[LOAD] == 0);
    close_stand(&s);
}

/* A member that is given bears as far out as it is long, at its own height, whether the frame's height is given or not. Grade: closed form. */
static void a_given_member_is_as_long_as_it_is(void **state)
{
    (void)state;
    const double d = 0.004, k = 1200 * DD_STANDARD_GRAVITY / (squash * sqrt(squash)), member_top = 0.03, off[2] = {0.29, 0.34};
    for (int i = 0; i < 4; i++) {
        stand s;
        double seen[CHANNELS];
        open_stand(&s, 1, (double[]){5}, 0, 0.5);
        s.rig.trailer.frame_height = i < 2 ? NAN : 0.2;
        s.rig.trailer.cross_member_count = 1;
        s.rig.trailer.cross_members[0] = (dd_cross_member){3, s.rig.trailer.coupling_height + member_top, 0.6};
        s.frame.kind->free(s.frame.instance);
        s.frame = fixture_prepare(&dd_force_bow_on_frame, s.hull, &s.rig);
        const fixture_state at = lying(7, off[i % 2], member_top - d, 0);
        fixture_channels(&s.frame, &at, seen);
        assert_near(seen[LOAD], i % 2 == 0 ? k * d * sqrt(d) : 0, 1e-9 * s.weight);
        close_stand(&s);
    }
}

/* Sliding steadily either way along it, friction is its share of the load against the motion, and all of its power is heat. 1e-9.
   Grade: closed form. */
static void friction_is_its_share_of_the_load(void **state)
{
    (void)state;
    stand s;
    open_stand(&s, 1, (double[]){2}, 0, 0.06);
    for (int way = -1; way <= 1; way += 2) {
        double seen[CHANNELS];
        const double share = 0.4, speed = 0.2; /* the force's default */
        fixture_state at = lying(6.4, 0, top - 0.004, 0);
        at.twist[0] = way * speed;
        at.memory[0] = way * share / 500; /* a bristle at its limit: 500 per m */
        const fixture_result r = fixture_evaluate(&s.frame, &at);
        fixture_channels(&s.frame, &at, seen);
        assert_near(r.load.hull[0], -way * share * seen[LOAD], 1e-9 * seen[LOAD]);
        assert_near(seen[FRICTION], share * seen[LOAD], 1e-9 * seen[LOAD]);
        assert_near(r.load.heat, share * seen[LOAD] * speed, 1e-9 * seen[LOAD]);
        assert_near(r.rate[0], 0, 1e-12);
    }
    close_stand(&s);
}

/* Energy gives the force, no power is made, port and starboard are alike, in every regime: 1e-6, 1e-7 and 1e-9. Grade: closed form. */
static void energy_power_and_mirror(void **state)
{
    (void)state;
    stand s;
    open_stand(&s, 2, (double[]){2.6, 4.2}, 0.1, 0.06);
    fixture_random random = {5};
    for (const dd_regime *regime = dd_force_bow_on_frame.regimes; regime->name != NULL; regime++)
        for (int draw = 0; draw < 60; draw++) {
            fixture_state at = fixture_draw(&s.frame, regime, &random);
            assert_true(fixture_power_error(&s.frame, &at) < 1e-6);
            static const double across[6] = {1, -1, 1, -1, 1, -1};
            fixture_state image = at;
            image.pose.position.y = -at.pose.position.y;
            image.pose.attitude.x = -at.pose.attitude.x;
            image.pose.attitude.z = -at.pose.attitude.z;
            for (int i = 0; i < 6; i++) image.twist[i] *= across[i];
            image.memory[1] = -at.memory[1];
            const fixture_result seen = fixture_evaluate(&s.frame, &image), now = fixture_evaluate(&s.frame, &at);
            for (int i = 0; i < 6; i++) assert_near(seen.load.hull[i], across[i] * now.load.hull[i], 1e-9 * s.weight);
            memset(at.memory, 0, sizeof at.memory);
            assert_true(fixture_energy_error(&s.frame, &at) < 1e-6);
        }
    close_stand(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(loads_of_member_and_roller_are_by_levers), cmocka_unit_test(bow_bears_on_the_drawbar_by_its_lever),
        cmocka_unit_test(bow_bears_on_a_member_while_the_stern_floats),
        cmocka_unit_test(a_keel_lies_along_the_drawbar),            cmocka_unit_test(friction_is_its_share_of_the_load),
        cmocka_unit_test(a_given_member_is_as_long_as_it_is),
        cmocka_unit_test(energy_power_and_mirror),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
