/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hull's topsides, side guides, the hull on the ground and lines that only pull, against closed forms. */
#include "tests/unit/force/contact_fixture.h"
#include "lib/force/contact.h"
#include "lib/force/line.h"
#include "tests/unit/force/whole.h"

/* --- topsides --------------------------------------------------------------------------------------------------- */

/* A prism whose side flares from 0.8 m at 0.3 m to 1.0 m at 1.1 m: y = 0.8 + (z - 0.3) / 4, to rounding (closed form). */
static void flared_side_is_a_plane(void **state)
{
    (void)state;
    const double y[3] = {0, 0.8, 1.0}, z[3] = {0, 0.3, 1.1}, slope = 0.25, length = sqrt(1 + slope * slope);
    dd_hull *hull = prism(0, 5, 3, y, z, 900, dd_vec(2, 0, 0.5));
    for (double height = 0.35; height < 1.06; height += 0.1) {
        dd_topside_point t = dd_hull_topside(hull, 2.2, height);
        CHECK_NEAR(t.y, 0.8 + slope * (height - 0.3), 1e-14, "half-breadth");
        CHECK_NEAR(t.yz, slope, 1e-14, "flare");
        CHECK_NEAR(fabs(t.yx) + fabs(t.yxx) + fabs(t.yxz), 0, 1e-13, "prism");
        CHECK_NEAR(t.cover, 1, 0, "cover");
        for (int side = -1; side <= 1; side += 2) {
            dd_nearest n = dd_nearest_topside(hull, side, dd_vec(2.2, side * 1.2, height), 1);
            CHECK_NEAR(n.distance, (1.2 - t.y) / length, 1e-13, "distance");
            CHECK_NEAR(n.normal.y, side / length, 1e-13, "normal");
            CHECK_NEAR(n.normal.z, -slope / length, 1e-13, "normal");
        }
    }
    CHECK_NEAR(dd_hull_topside(hull, 2.2, 0.3).cover, 0.5, 1e-14, "cover at the chine");
    CHECK_NEAR(dd_hull_topside(hull, 2.2, 0.28).cover, 0, 0, "cover under the chine");
    CHECK_NEAR(dd_hull_topside(hull, 5, 0.6).cover, 0, 0, "cover at the end");
    CHECK_NEAR(dd_hull_topside(hull, 2.2, 0.6).chine, 0.3, 1e-15, "chine");
    dd_hull_free(hull);
}

/* Slopes of a curved hull against five-point differences: 1e-9 (closed form: the derivative of the function itself). */
static void topside_slopes_are_exact(void **state)
{
    (void)state;
    dd_hull *hull = whole_hull();
    const double h = 1e-4;
    for (int i = 0; i < 40; i++) {
        const double x = 0.4 + 0.09 * i, z = dd_hull_topside(hull, x, 0).chine + 0.012 + 0.006 * (i % 7);
        dd_topside_point t = dd_hull_topside(hull, x, z), a[4], b[4];
        const double steps[4] = {h, -h, 2 * h, -2 * h};
        for (int k = 0; k < 4; k++) a[k] = dd_hull_topside(hull, x + steps[k], z), b[k] = dd_hull_topside(hull, x, z + steps[k]);
#define SLOPE(p, field) ((8 * (p[0].field - p[1].field) - (p[2].field - p[3].field)) / (12 * h))
        CHECK_NEAR(t.yx, SLOPE(a, y), 1e-9, "yx");
        CHECK_NEAR(t.yz, SLOPE(b, y), 1e-9, "yz");
        CHECK_NEAR(t.yxx, SLOPE(a, yx), 1e-8, "yxx");
        CHECK_NEAR(t.yxz, SLOPE(b, yx), 1e-8, "yxz");
        CHECK_NEAR(t.cover_x, SLOPE(a, cover), 1e-6, "cover x"); /* its curvature jumps at the fade's ends */
        CHECK_NEAR(t.cover_z, SLOPE(b, cover), 1e-6, "cover z");
#undef SLOPE
    }
    dd_hull_free(hull);
}

/* --- guides ----------------------------------------------------------------------------------------------------- */

enum { PLACES = 5 }; /* of a post 0.4 m high, 0.1 m apart */
enum { OF_A_GUIDE = 5 }; /* channels */
static const double reach = 1.2, radius = 0.03;

typedef struct stand {
    dd_hull *hull;
    dd_rig rig;
    fixture_force force;
} stand;

/* An upright-sided hull (half-breadth 1 m from 0.2 m to 1.4 m) between two posts whose tops stand 1 m over its keel. */
static void open_stand(stand *s, double stiffness, double damping, double friction)
{
    const double y[3] = {0, 1, 1}, z[3] = {0, 0.2, 1.4};
    memset(s, 0, sizeof *s);
    s->hull = prism(0, 5, 3, y, z, 1000, dd_vec(2, 0, 0.5));
    fixture_rig(&s->rig);
    for (int side = 1; side >= -1; side -= 2)
        s->rig.guides[s->rig.guide_count++] = (dd_guide){.side = side, .top = dd_vec(3, -side * (reach + radius), 1), .radius = radius,
                                                         .height = 0.4, .stiffness = stiffness, .damping = damping, .friction = friction};
    s->force = fixture_prepare(&dd_force_guide, s->hull, &s->rig);
}
static void close_stand(stand *s)
{
    s->force.kind->free(s->force.instance);
    dd_hull_free(s->hull);
}

/* The hull lying straight, its origin at boat X 2 from the posts, `offset` to the boat's port, sinking by `rise` < 0. */
static fixture_state lying(double offset, double rise)
{
    fixture_state s;
    memset(&s, 0, sizeof s);
    s.pose = (dd_pose){.position = dd_vec(5, -offset, rise), .attitude = {0, 0, 0, 1}};
    return s;
}

/* Five places at squash d carry 5 k d^1.5; gap and height over the chine are those of the drawing: 1e-12 (closed form). */
static void guide_load_is_the_sum_of_its_places(void **state)
{
    (void)state;
    stand s;
    const double k = 4e5, d = 0.007;
    open_stand(&s, k, 0, 0);
    for (int side = -1; side <= 1; side += 2) {
        double channels[2 * OF_A_GUIDE];
        fixture_state at = lying(side * (reach - 1 + d), 0);
        fixture_result r = fixture_evaluate(&s.force, &at);
        fixture_channels(&s.force, &at, channels);
        const double load = PLACES * k * d * sqrt(d);
        CHECK_NEAR(r.load.hull[1], -side * load, 1e-11 * load, "sideways");
        CHECK_NEAR(r.load.hull[5], -side * 2 * load, 1e-11 * load, "yaw"); /* 2 m ahead of the origin */
        CHECK_NEAR(r.load.energy, PLACES * 0.4 * k * d * d * sqrt(d), 1e-11 * load, "energy");
        const double *own = channels + (side > 0 ? 0 : OF_A_GUIDE), *other = channels + (side > 0 ? OF_A_GUIDE : 0);
        CHECK_NEAR(own[0], load, 1e-11 * load, "load");
        CHECK_NEAR(own[4], load / PLACES, 1e-11 * load, "load of one place");
        CHECK_NEAR(own[2], -d, 1e-12, "gap");
        CHECK_NEAR(other[2], 2 * (reach - 1) + d, 1e-12, "gap on the other side");
        CHECK_NEAR(own[3], 1 + radius - 0.2, 1e-12, "top over the chine");
        CHECK_NEAR(other[0] + own[1] + other[1], 0, 0, "nothing else");
    }
    close_stand(&s);
}

/* Closed form, 1e-11: a side that flares by the angle f is borne at right angles to it, so that a sideways load F asks N = F / cos f of the
   post and lifts the hull by F tan f. The post is upright: each place below its top is that much less deep, by sin f. */
static void flared_side_is_lifted_by_its_guide(void **state)
{
    (void)state;
    const double y[3] = {0, 0.8, 1.0}, z[3] = {0, 0.3, 1.1}, flare = atan(0.25), k = 4e5, apart = 0.1;
    for (int side = -1; side <= 1; side += 2)
        for (double deep = 0.007; deep < 0.06; deep *= 2) {
            stand s;
            memset(&s, 0, sizeof s);
            s.hull = prism(0, 5, 3, y, z, 1000, dd_vec(2, 0, 0.5));
            fixture_rig(&s.rig);
            const double top = 0.9, beside = 0.8 + 0.25 * (top - 0.3) + (radius - deep) / cos(flare);
            s.rig.guides[s.rig.guide_count++] = (dd_guide){.side = side, .top = dd_vec(3, -side * beside, top), .radius = radius, .height = 0.4, .stiffness = k};
            s.force = fixture_prepare(&dd_force_guide, s.hull, &s.rig);
            const fixture_state at = lying(0, 0);
            double channels[OF_A_GUIDE], load = 0, turning = 0, energy = 0;
            const fixture_result r = fixture_evaluate(&s.force, &at);
            fixture_channels(&s.force, &at, channels);
            for (int i = 0; i < PLACES; i++) {
                const double d = fmax(0, deep - apart * i * sin(flare)), each = k * d * sqrt(d);
                load += each, energy += 0.4 * each * d;
                turning += each * (beside * sin(flare) + (top - apart * i) * cos(flare)); /* about the keel, by its lever */
            }
            CHECK_NEAR(channels[0], load, 1e-11 * load, "load");
            CHECK_NEAR(channels[2], -deep, 1e-12, "gap");
            CHECK_NEAR(r.load.hull[1], -side * load * cos(flare), 1e-11 * load, "sideways");
            CHECK_NEAR(channels[0], fabs(r.load.hull[1]) / cos(flare), 1e-11 * load, "N = F / cos");
            CHECK_NEAR(r.load.hull[2], fabs(r.load.hull[1]) * tan(flare), 1e-11 * load, "lift");
            CHECK_NEAR(r.load.hull[3], side * turning, 1e-11 * load, "heel");
            CHECK_NEAR(r.load.energy, energy, 1e-11 * load, "energy");
            close_stand(&s);
        }
}

/* Sideways motion of a mass against a post, by Runge and Kutta's rule; ends when it is clear again. */
typedef struct drift {
    double deepest, speed, time, impulse;
} drift;
static drift drift_against(stand *s, double mass, double speed, double step)
{
    drift r = {0};
    double y = reach - 1, v = speed;
    for (int i = 0; i < 4000000; i++) {
        double dy[4], dv[4];
        for (int k = 0; k < 4; k++) {
            const double part = k == 0 ? 0 : k == 3 ? step : 0.5 * step;
            const double at = y + (k ? part * dy[k - 1] : 0), now = v + (k ? part * dv[k - 1] : 0);
            fixture_state state = lying(at, 0);
            state.twist[1] = now;
            dy[k] = now;
            dv[k] = fixture_evaluate(&s->force, &state).load.hull[1] / mass;
        }
        const double before = v;
        y += step * (dy[0] + 2 * dy[1] + 2 * dy[2] + dy[3]) / 6;
        v += step * (dv[0] + 2 * dv[1] + 2 * dv[2] + dv[3]) / 6;
        r.time += step;
        r.impulse += mass * (v - before);
        r.deepest = fmax(r.deepest, y - (reach - 1));
        if (y < reach - 1) break;
    }
    r.speed = v;
    return r;
}

/* m v^2 / 2 = 2/5 n k d^2.5 at the deepest; contact lasts 2.9432 d / v; it leaves at -v with the impulse -2 m v. 2e-4: the
   step (closed form). A hundred times as stiff: d falls by 100^-0.4, so that it becomes a wall. */
static void drifting_hull_rebounds(void **state)
{
    (void)state;
    const double mass = 1000, speed = 0.3;
    double last = 0;
    for (int stiffer = 0; stiffer < 2; stiffer++) {
        stand s;
        const double k = stiffer ? 4e7 : 4e5;
        open_stand(&s, k, 0, 0);
        const double d = pow(1.25 * mass * speed * speed / (PLACES * k), 0.4);
        drift r = drift_against(&s, mass, speed, 2.9432 * d / speed / 2000);
        CHECK_NEAR(r.deepest, d, 2e-4 * d, "deepest");
        CHECK_NEAR(r.speed, -speed, 2e-4 * speed, "leaves");
        CHECK_NEAR(r.impulse, -2 * mass * speed, 2e-4 * mass * speed, "impulse");
        CHECK_NEAR(r.time, 2.9432 * d / speed, 2e-3 * r.time, "lasts");
        if (stiffer) CHECK_NEAR(r.deepest / last, pow(100, -0.4), 1e-3, "stiffer");
        last = r.deepest;
        close_stand(&s);
    }
    stand s; /* damped, it leaves slower and gives no pull */
    open_stand(&s, 4e5, 6, 0);
    drift r = drift_against(&s, mass, speed, 1e-4);
    assert_true(r.speed < 0 && r.speed > -0.95 * speed);
    close_stand(&s);
}

/* A bent bristle at its limit: friction mu N along the post, and no more: 1e-9 (closed form). */
static void friction_on_a_guide_has_its_limit(void **state)
{
    (void)state;
    stand s;
    const double k = 4e5, d = 0.004, mu = 0.25, load = PLACES * k * d * sqrt(d);
    open_stand(&s, k, 0, mu);
    fixture_state at = lying(reach - 1 + d, 0);
    at.twist[0] = 0.2;
    at.memory[0] = mu / 500;
    fixture_result r = fixture_evaluate(&s.force, &at);
    CHECK_NEAR(r.load.hull[0], -mu * load, 1e-9 * load, "along");
    CHECK_NEAR(r.load.heat, mu * load * 0.2, 1e-9 * load, "heat");
    CHECK_NEAR(r.rate[0], 0, 1e-12, "slides");
    at.memory[0] *= 0.9; /* differences cannot be taken at the limit itself */
    assert_true(fixture_gradient_error(&s.force, &at) < 1e-6); /* differences */
    close_stand(&s);
}

/* A hull that comes down on posts whose tops stand under its chine is carried by their ends, not by their sides. */
static void hull_comes_down_on_a_guide(void **state)
{
    (void)state;
    stand s;
    const double depth = 0.003, k = 4000 / (0.004 * sqrt(0.004)), rise = 0.2;
    open_stand(&s, 4e5, 0, 0);
    for (int i = 0; i < 2; i++) s.rig.guides[i].top.y = (i == 0 ? -1 : 1) * 0.7;
    double channels[2 * OF_A_GUIDE];
    /* bottom: z = 0.2 y; the round touches it at z = 0.2 y - radius sqrt(1 + 0.04) under it */
    const double touch = 1 - (rise * 0.7 - radius * sqrt(1 + rise * rise));
    fixture_state at = lying(0, touch - depth * sqrt(1 + rise * rise));
    fixture_channels(&s.force, &at, channels);
    fixture_result r = fixture_evaluate(&s.force, &at);
    const double load = k * depth * sqrt(depth);
    for (int i = 0; i < 2; i++) {
        CHECK_NEAR(channels[OF_A_GUIDE * i + 1], load, 1e-9 * load, "on its top");
        CHECK_NEAR(channels[OF_A_GUIDE * i], 0, 0, "not on its side");
        assert_true(channels[OF_A_GUIDE * i + 3] < 0); /* useless: under the chine */
    }
    CHECK_NEAR(r.load.hull[2], 2 * load / sqrt(1 + rise * rise), 1e-9 * load, "upward");
    CHECK_NEAR(r.load.hull[1], 0, 1e-9 * load, "balanced");
    close_stand(&s);
}

/* --- ground ----------------------------------------------------------------------------------------------------- */

typedef struct shore {
    dd_hull *hull;
    dd_ramp *ramp;
    dd_model model;
    whole_force force;
} shore;

static void open_shore(shore *s, double slope)
{
    static dd_ramp_parameters p;
    dd_error error;
    const double y[3] = {0, 1, 1}, z[3] = {0, 0.2, 1.4};
    memset(s, 0, sizeof *s);
    s->hull = prism(0, 5, 3, y, z, 1000, dd_vec(2, 0, 0.5));
    dd_ramp_defaults(&p);
    p.slope = slope;
    p.crest_level = 1;
    if (dd_ramp_create(&p, &s->ramp, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    s->model = (dd_model){.hull = s->hull, .ramp = s->ramp, .gravity = DD_STANDARD_GRAVITY};
    s->force = whole_prepare(&dd_force_ground, &s->model, 0);
}
static void close_shore(shore *s)
{
    whole_release(&s->force);
    dd_hull_free(s->hull);
    dd_ramp_free(s->ramp);
}
static void ground_channels(const shore *s, const whole_state *at, double channels[5])
{
    dd_kinematics k;
    double rate[WHOLE_MEMORY];
    dd_load load;
    memset(&load, 0, sizeof load);
    dd_kinematics_of(&s->model, 0, &at->pose, &at->motion, &k);
    dd_memory memory = {.value = at->memory, .rate = rate};
    s->force.kind->evaluate(s->force.instance, &k, &at->commands, &memory, &load, NULL, channels);
}

/* The keel `depth` into the straight slab along its normal, 20 m out, bow inshore, parallel to the slab. */
static whole_state aground(double slope, double depth)
{
    whole_state s;
    memset(&s, 0, sizeof s);
    const double x = 20, z = 1 - x * tan(slope);
    /* bow inshore: turned half way about up; then trimmed so that the bow (to -x) rises with the slab */
    s.pose.position = dd_vec(x - depth * sin(slope), 0, z - depth * cos(slope));
    s.pose.attitude = dd_quaternion_multiply((dd_quaternion){0, 0, 0, 1}, (dd_quaternion){cos(0.5 * slope), 0, -sin(0.5 * slope), 0});
    s.commands.engine_tilt = 1;
    return s;
}

/* Twelve places of the keel at one depth; the chines 0.2 m higher are clear: 12 k d^1.5 across the slab, nothing along it at
   rest. 1e-9 (closed form). Whole weight on one place at the default squash. */
static void keel_lies_on_the_slab(void **state)
{
    (void)state;
    shore s;
    const double slope = 0.125, d = 0.003, weight = 1000 * DD_STANDARD_GRAVITY, k = weight / pow(0.02, 1.5);
    open_shore(&s, slope);
    whole_state at = aground(slope, d);
    whole_result r = whole_evaluate(&s.force, &at);
    const double load = 12 * k * d * sqrt(d);
    double channels[5];
    ground_channels(&s, &at, channels);
    CHECK_NEAR(r.load.hull[0], 0, 1e-9 * load, "along the keel");
    CHECK_NEAR(r.load.hull[2], load, 1e-9 * load, "across the slab");
    CHECK_NEAR(r.load.hull[4], -2.5 * load, 1e-9 * load, "about the transom"); /* the keel's middle */
    CHECK_NEAR(channels[0], load, 1e-9 * load, "load");
    CHECK_NEAR(channels[2], load / 12, 1e-9 * load, "at the transom");
    CHECK_NEAR(channels[3], 0, 0, "skeg up");
    CHECK_NEAR(channels[4], 1e3 * d, 1e-9, "squash");
    at = aground(slope, -0.001);
    r = whole_evaluate(&s.force, &at);
    for (int i = 0; i < 6; i++) CHECK_NEAR(r.load.hull[i], 0, 0, "clear");
    close_shore(&s);
}

/* Sliding, friction is mu N whatever the speed, both ways and athwart; below the break-away share of its limit a bristle
   holds: what it carries follows the hull's move alone (closed form, 1e-9). */
static void hull_aground_holds_and_slides(void **state)
{
    (void)state;
    shore s;
    const double slope = 0.125, d = 0.003, mu = 0.55;
    open_shore(&s, slope);
    for (int way = 0; way < 2; way++)
        for (int sign = -1; sign <= 1; sign += 2) {
            whole_state at = aground(slope, d);
            at.motion.twist[way] = sign * 0.3;
            for (int m = way; m < 4; m += 2) at.memory[m] = sign * mu / 500;
            double channels[5];
            ground_channels(&s, &at, channels);
            whole_result r = whole_evaluate(&s.force, &at);
            CHECK_NEAR(r.load.hull[way], -sign * mu * channels[0], 1e-9 * channels[0], "slides");
            CHECK_NEAR(channels[1], mu * channels[0], 1e-9 * channels[0], "friction");
            CHECK_NEAR(r.load.heat, 0.3 * mu * channels[0], 1e-9 * channels[0], "heat");
            at.motion.twist[way] = sign * 1e-6;
            for (int m = way; m < 4; m += 2) at.memory[m] = sign * 0.5 * mu / 500;
            r = whole_evaluate(&s.force, &at);
            for (int m = way; m < 4; m += 2) CHECK_NEAR(r.rate[m], sign * 1e-6, 1e-15, "holds");
        }
    close_shore(&s);
}

/* --- lines ------------------------------------------------------------------------------------------------------ */

/* Chain: nothing until its slack is used up, then rating x stretch / (stretch at rating x length); 1e-9 (closed form; beyond
   the half millimetre of its toe). */
static void chain_pulls_beyond_its_slack(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(0.35);
    dd_rig rig;
    fixture_rig(&rig);
    rig.trailer.chain = (dd_chain_parameters){.slack_at_home = 0.1, .above_ground = 1.1, .rating = 10000, .stretch_at_rating = 0.01};
    fixture_force force = fixture_prepare(&dd_force_chain, hull, &rig);
    const double length = (1.1 - 0.9) + 0.5 + 0.1; /* stop's face behind the post, eye behind the stem, and the slack */
    for (double stretch = -0.05; stretch < 0.02; stretch += 0.007) {
        fixture_state s;
        memset(&s, 0, sizeof s);
        s.pose = (dd_pose){.position = dd_vec(0.9 + length + stretch + 5.5, 0, 1.1 - 0.45 - 0.7), .attitude = {0, 0, 0, 1}};
        s.commands.chain_hooked = 1;
        double channels[2], expected = stretch > 0 ? 10000 / 0.01 / length * stretch : 0;
        fixture_channels(&force, &s, channels);
        CHECK_NEAR(channels[0], expected, 1e-9 * (1 + expected), "tension");
        CHECK_NEAR(channels[1], -stretch, 1e-12, "slack");
        CHECK_NEAR(fixture_evaluate(&force, &s).load.hull[0], expected, 1e-9 * (1 + expected), "inshore");
        s.commands.chain_hooked = 0;
        CHECK_NEAR(fixture_evaluate(&force, &s).load.hull[0], 0, 0, "off");
    }
    force.kind->free(force.instance);
    dd_hull_free(hull);
}

/* Ties made fast have their pretension, each, and pull the hull down with both: 1e-9 (closed form; upright ties). Lifted by h
   each adds rigidity / free length times h. */
static void ties_have_their_pretension(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(0.35);
    dd_rig rig;
    fixture_rig(&rig);
    rig.trailer.ties = (dd_ties_parameters){.behind_coupling = 6.6, .half_spacing = 0.9, .above_ground = 0.3, .pretension = 400,
                                            .rating = 5000, .stretch_at_rating = 0.07};
    fixture_force force = fixture_prepare(&dd_force_ties, hull, &rig);
    fixture_state s;
    memset(&s, 0, sizeof s);
    s.pose = (dd_pose){.position = dd_vec(6.6, 0, 0.2), .attitude = {0, 0, 0, 1}};
    s.commands.ties_hooked = 1;
    dd_model still = force.model;
    still.rig = NULL;
    dd_kinematics k;
    const dd_motion rest = {{0}, {0}};
    dd_kinematics_of(&still, 0, &s.pose, &rest, &k);
    dd_lines_fasten(force.instance, &k, s.memory);
    double channels[4];
    fixture_channels(&force, &s, channels);
    CHECK_NEAR(channels[0], channels[2], 1e-9, "alike");
    CHECK_NEAR(channels[0], 400, 1e-9 * 400, "pretension");
    CHECK_NEAR(fixture_evaluate(&force, &s).load.hull[2], -800, 1e-9 * 800, "downward on the hull");
    const double h = 0.01, stiffness = 5000 / 0.07 / s.memory[0];
    s.pose.position.z += h;
    CHECK_NEAR(fixture_evaluate(&force, &s).load.hull[2], -800 - 2 * stiffness * h, 1e-9 * 800, "lifted");
    force.kind->free(force.instance);
    dd_hull_free(hull);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(flared_side_is_a_plane),          cmocka_unit_test(topside_slopes_are_exact),
        cmocka_unit_test(guide_load_is_the_sum_of_its_places), cmocka_unit_test(flared_side_is_lifted_by_its_guide), cmocka_unit_test(drifting_hull_rebounds),
        cmocka_unit_test(friction_on_a_guide_has_its_limit), cmocka_unit_test(hull_comes_down_on_a_guide),
        cmocka_unit_test(keel_lies_on_the_slab),           cmocka_unit_test(hull_aground_holds_and_slides),
        cmocka_unit_test(chain_pulls_beyond_its_slack),    cmocka_unit_test(ties_have_their_pretension),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
