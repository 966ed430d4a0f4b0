/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `depth`: closed forms on a plane ramp, trends, and what it refuses. */
#include "lib/crew/actions.h"
#include "lib/force/smooth.h"
#include "lib/force/wheels_look.h"
#include "lib/study/depth.h"
#include "tests/unit/study/reports.h"

static double hub(const dd_depth_place *place) { return place->look.seen.v[DD_SEEN_HUB_DEPTH]; }

static void found(const dd_case *scenario, double level, dd_depth *d, dd_depth_band *band)
{
    dd_error error;
    if (dd_depth_open(scenario, level, NULL, d, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    if (dd_depth_find(d, band, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
}

/* On a plane slab a higher level shifts everything inshore by the rise over the slope, and changes no depth: but for the end that the toe
   makes (closed form). */
static void a_level_shifts_the_rig_along_a_plane_ramp(void **state)
{
    (void)state;
    static dd_depth low, high;
    static dd_depth_band at_low, at_high;
    dd_case_file *file = scenario_with("scenarios/launch.yaml", NULL);
    found(dd_case_of(file), 1.0, &low, &at_low);
    found(dd_case_of(file), 1.16, &high, &at_high);
    assert_true(at_low.works && at_high.works);
    NEAR(hub(&at_high.least), hub(&at_low.least), 2e-3);
    NEAR(hub(&at_high.most), hub(&at_low.most), 2e-3);
    NEAR(hub(&at_high.best), hub(&at_low.best), 2e-3);
    NEAR(at_low.best.look.x - at_high.best.look.x, 0.16 * 8, 0.01);
    assert_int_equal(at_low.most.binds, DD_END_EXHAUST);
    dd_depth_close(&low);
    dd_depth_close(&high);
    dd_case_free(file);
}

/* A hub that stands so deep by the geometry of the slab: rear axle at x on a plane 1:8 whose crest stands 3 m up (closed form; the tyres'
   and springs' squash is that of the load, within 60 mm). */
static void hub_depth_follows_the_slab(void **state)
{
    (void)state;
    static dd_depth d;
    dd_case_file *file = scenario_with("scenarios/launch.yaml", NULL);
    const dd_case *c = dd_case_of(file);
    dd_error error;
    assert_int_equal(dd_depth_open(c, 1.2, NULL, &d, &error), DD_OK);
    const double slope = 0.125, behind = c->vehicle.coupling_behind_rear_axle + d.m->rig->axle[0].x, radius = c->trailer.tyre_radius;
    for (int i = 0; i < 8; i++) {
        /* along the slab behind the rear wheels' contact, and the radius across it */
        const double length = sqrt(1 + slope * slope), x = d.look[i].x + behind / length;
        const double expected = 1.2 - (3.0 - slope * x + radius / length);
        NEAR(d.look[i].seen.v[DD_SEEN_HUB_DEPTH], expected, 0.06);
        if (i > 0) NEAR(d.look[i].seen.v[DD_SEEN_HUB_DEPTH] - d.look[i - 1].seen.v[DD_SEEN_HUB_DEPTH], slope * (d.look[i].x - d.look[i - 1].x), 0.004);
    }
    /* What is not in the water yet pulls no less: winding in takes weight times slope and friction, the strap pulls a little down */
    dd_depth_look look;
    dd_depth_slide slide;
    assert_int_equal(dd_depth_slide_at(&d, d.look[0].x, &look, &slide, &error), DD_OK);
    assert_true(slide.pull > d.weight * slope / sqrt(1 + slope * slope));
    dd_depth_close(&d);
    dd_case_free(file);
}

static double best_of(const char *path, const char *const *overrides, dd_depth *d, dd_depth_band *band)
{
    dd_case_file *file = scenario_with(path, overrides);
    found(dd_case_of(file), dd_case_of(file)->water.level, d, band);
    dd_case_free(file);
    return hub(&band->best);
}

/* Bands of practice, grade practice: none is tuned to. */
static void practice(void **state)
{
    (void)state;
    static dd_depth d;
    static dd_depth_band band;
    /* P300, P62: the least that will do: multi-rollers, keel rollers, skids. The advised place is another thing: of keel rollers it is the shallower
       of the first two, since the hindmost of four in a row lets go first: DEVELOPERS.md, Where we differ. */
    const char *const slab[] = {"ramp=ramps/mangrove-slab.yaml", "water.level=1.2 m", NULL};
    const double roller = best_of("scenarios/launch.yaml", slab, &d, &band), least_roller = hub(&band.least);
    dd_depth_close(&d);
    const double skid = best_of("scenarios/rigs/five-skid-launch.yaml", slab, &d, &band), least_skid = hub(&band.least);
    assert_true(band.works);
    /* P50: at the advised depth the bow still lies on */
    assert_true(band.best.look.seen.v[DD_SEEN_STOP_LOAD] + band.best.look.seen.v[DD_SEEN_SUPPORT_LOAD] > 0.01 * d.weight);
    dd_depth_close(&d);
    const double keel = best_of("scenarios/rigs/five-keel-roller-stream-launch.yaml", slab, &d, &band), least_keel = hub(&band.least);
    dd_depth_close(&d);
    print_message("best: multi-roller %.3f, keel rollers %.3f, skids %.3f m; least %.3f, %.3f, %.3f m\n", roller, keel, skid, least_roller, least_keel, least_skid);
    assert_true(least_roller < least_keel && least_keel < least_skid);
    assert_true(roller < skid && keel < skid);
    /* P323: on 2 % the vehicle would be deep in the water before the boat is off */
    const char *const flat[] = {"ramp.slope=2 %", "ramp.toe level=-3 m", "ramp.crest level=2 m", NULL};
    (void)best_of("scenarios/launch.yaml", flat, &d, &band);
    assert_true(!band.works || band.least.look.seen.v[DD_SEEN_VEHICLE_WHEEL_DEPTH] > 0);
    dd_depth_close(&d);
}

/* Share of a skid's length under water with the boat at home there. */
static double wet_share(dd_depth *d, double x)
{
    enum { PARTS = 400 };
    dd_settle branch;
    dd_depth_look look;
    dd_error error;
    int wet = 0;
    const dd_skid *skid = &d->m->rig->skids[0];
    assert_int_equal(dd_depth_look_at(d, x, &look, &branch, &error), DD_OK);
    for (int i = 0; i < PARTS; i++) {
        const dd_vec3 at = dd_add(skid->rear, dd_scale(skid->length * (i + 0.5) / PARTS, skid->along));
        wet += dd_study_depth(d->m, &d->m->workspace->kinematics, dd_trailer_point(&d->m->workspace->kinematics, at)) > 0;
    }
    dd_settle_end(&branch);
    return (double)wet / PARTS;
}

/* P302: of bunks of 3.6 m, which reach under two thirds of the hull, half to seven tenths are wet at the places advised. Of the shipped skids of 2.6 m,
   which end under the transom as well, it is nine tenths: the same 2.4 m. P325 and P63: a hull of 5 m on rollers off a beach has its transom 0.35 to
   0.45 m deep as it comes free. Grade: practice. */
static void practice_of_bunks_and_beaches(void **state)
{
    (void)state;
    static dd_depth d;
    static dd_depth_band band;
    const char *const bunks[] = {"ramp=ramps/mangrove-slab.yaml", "water.level=1.2 m", "trailer.supports[skids].length=3.6 m", "trailer.supports[skids].behind coupling=4.34 m", NULL};
    (void)best_of("scenarios/rigs/five-skid-launch.yaml", bunks, &d, &band);
    const double least = wet_share(&d, band.least.look.x), best = wet_share(&d, band.best.look.x);
    dd_depth_close(&d);
    const char *const beach[] = {"ramp=ramps/sand-beach.yaml", "water.level=1.2 m", "procedure[push off].force=160 N", NULL}; /* 120 N leave it on its rollers */
    (void)best_of("scenarios/launch.yaml", beach, &d, &band);
    assert_true(band.works);
    const double draft = band.best.slide.most.v[DD_SEEN_TRANSOM_DRAFT];
    dd_depth_close(&d);
    print_message("bunks wet: %.2f to %.2f; transom off the beach %.3f m deep\n", least, best, draft);
    assert_true(least >= 0.5 && best <= 0.7);
    assert_true(draft >= 0.35 && draft <= 0.45);
}

/* P301: the vehicle's rear tyres at the best place go from wet to dry as the slope rises, near 12 to 15 %. */
static void the_car_is_dry_on_steeper_ramps(void **state)
{
    (void)state;
    static dd_depth d;
    static dd_depth_band band;
    const char *const slopes[] = {"ramp.slope=10 %", "ramp.slope=12 %", "ramp.slope=15 %"};
    double wet[3];
    for (int i = 0; i < 3; i++) {
        const char *const with[] = {slopes[i], "ramp.toe level=-3 m", NULL};
        (void)best_of("scenarios/launch.yaml", with, &d, &band);
        wet[i] = band.best.look.seen.v[DD_SEEN_VEHICLE_WHEEL_DEPTH];
        dd_depth_close(&d);
    }
    print_message("rear tyres at 10, 12, 15 %%: %.3f, %.3f, %.3f m in the water\n", wet[0], wet[1], wet[2]);
    assert_true(wet[0] > wet[1] && wet[1] > wet[2] && wet[0] > 0 && wet[2] < 0);
}

/* How fast a boat runs where water comes to carry a quarter of it: that lies between two places of a slide, and the speed there falls steadily as
   the rig stands deeper, whichever places those are (closed form: the roots of a steady function; a stride of 0.12 m took steps of a seventh). */
static void the_speed_of_a_boat_that_runs_is_steady(void **state)
{
    (void)state;
    static dd_depth d;
    dd_error error;
    dd_depth_look look;
    dd_depth_slide slide;
    double before = NAN;
    dd_case_file *file = scenario_with("scenarios/launch.yaml", NULL);
    assert_int_equal(dd_depth_open(dd_case_of(file), 1.2, NULL, &d, &error), DD_OK);
    for (double x = 14.0; x < 14.201; x += 0.02) {
        assert_int_equal(dd_depth_slide_at(&d, x, &look, &slide, &error), DD_OK);
        assert_true(isnan(before) || (slide.speed < before && before - slide.speed < 0.06 * before));
        before = slide.speed;
    }
    dd_depth_close(&d);
    dd_case_free(file);
}

/* Rows lie 0.4 m of ramp apart, a border of its surfaces is passed in 0.3 m: wherever the rig stands between two rows its wheels have no less grip to
   spare than at the rows about there, for some row stands where they have least (closed form: a minimum is a minimum). */
static void rows_stand_where_wheels_slip(void **state)
{
    (void)state;
    static dd_depth d;
    dd_error error;
    dd_depth_look look;
    int between = 0;
    dd_case_file *file = scenario_with("scenarios/launch.yaml", NULL);
    for (double level = 0.01; level < 0.05; level += 0.01) {
        assert_int_equal(dd_depth_open(dd_case_of(file), level, NULL, &d, &error), DD_OK);
        for (int i = 1; i < d.count && d.look[i].seen.v[DD_SEEN_TOE_DISTANCE] > 0; i++) {
            between += d.row_for[i] == DD_ROW_SLIPS;
            assert_true(d.look[i].x > d.look[i - 1].x);
            const double rows = fmin(dd_depth_kept_home(&d, DD_END_HOLD, &d.look[i - 1]), dd_depth_kept_home(&d, DD_END_HOLD, &d.look[i]));
            for (double on = 0.15; on < 0.9; on += 0.2) {
                assert_int_equal(dd_depth_look_at(&d, d.look[i - 1].x + on * (d.look[i].x - d.look[i - 1].x), &look, NULL, &error), DD_OK);
                assert_true(dd_depth_kept_home(&d, DD_END_HOLD, &look) > rows - 2e-3);
            }
        }
        dd_depth_close(&d);
    }
    assert_true(between > 0);
    dd_case_free(file);
}

/* Bow over frame, a support's rating, the coupling's lift and an engine's thrust are each at their worst between two places of a slide, where supports let
   go or take hold or the stop ends: a fourth of the stride finds the same ends of the band (closed form: a least is a least; 2 mm of depth, of which
   the search leaves 1). */
static void ends_do_not_hang_on_the_stride(void **state)
{
    (void)state;
    static dd_depth d;
    static dd_depth_band usual, fine;
    static const struct {
        const char *file;
        dd_depth_end shallow, deep;
        const char *with;
    } rigs[] = {{"six-rocker-launch", DD_END_RUNS, DD_END_BOW_FRAME, NULL}, {"seven-keel-roller-launch", DD_END_ROLLER, DD_END_ACTUATOR, NULL},
                {"five-rocker-stream-retrieve", DD_END_COUPLING_LIFT, DD_END_FLOAT_OFF, "trailer.winch.hand force limit=150 N"}, {"six-skid-launch", DD_END_THRUST, DD_END_EXHAUST, NULL}};
    for (size_t i = 0; i < sizeof rigs / sizeof rigs[0]; i++) {
        char path[100];
        dd_error error;
        snprintf(path, sizeof path, "scenarios/rigs/%s.yaml", rigs[i].file);
        dd_case_file *file = scenario_with(path, (const char *[]){rigs[i].with, NULL});
        const dd_case *c = dd_case_of(file);
        found(c, c->water.level, &d, &usual);
        dd_depth_close(&d);
        assert_int_equal(dd_depth_open(c, c->water.level, NULL, &d, &error), DD_OK);
        d.stride *= 0.25;
        assert_int_equal(dd_depth_find(&d, &fine, &error), DD_OK);
        dd_depth_close(&d);
        print_message("%s: %.4f to %.4f m, with a fourth of the stride %.4f to %.4f m\n", rigs[i].file, hub(&usual.least), hub(&usual.most), hub(&fine.least), hub(&fine.most));
        assert_int_equal(usual.least.binds, rigs[i].shallow);
        assert_int_equal(usual.most.binds, rigs[i].deep);
        NEAR(hub(&usual.least), hub(&fine.least), 2e-3);
        NEAR(hub(&usual.most), hub(&fine.most), 2e-3);
        dd_case_free(file);
    }
}

/* Wherever the rig stands in the band every limit is kept: seven metres on keel rollers load one beyond its rating over 10 mm of depth alone, which
   lie between two rows (closed form: the definition). */
static void a_band_has_no_gap(void **state)
{
    (void)state;
    static dd_depth d;
    static dd_depth_band band;
    static dd_depth_place place;
    static const char *const slope[] = {"ramp.slope=1:6.5", "ramp.slope=1:7", "ramp.slope=1:7.2"};
    dd_error error;
    for (size_t i = 0; i < sizeof slope / sizeof slope[0]; i++) {
        const char *const with[] = {slope[i], NULL};
        dd_case_file *file = scenario_with("scenarios/rigs/seven-keel-roller-retrieve.yaml", with);
        found(dd_case_of(file), dd_case_of(file)->water.level, &d, &band);
        assert_true(band.works && band.width > 0.1);
        for (double x = band.least.look.x; x <= band.most.look.x; x += 0.02) {
            double kept;
            assert_int_equal(dd_depth_judge(&d, x, 0, &place, &kept, &error), DD_OK);
            if (!(kept >= -1e-3)) fail_msg("%s, hub %.4f m deep: %s kept by %.4f", slope[i], hub(&place), dd_depth_end_words(place.binds), kept);
        }
        dd_depth_close(&d);
        dd_case_free(file);
    }
}

/* The best place is where the stern carries its least share, not where a straight line between rows has it, and keeps every limit: of seven metres on keel
   rollers not where one roller carries too much (closed forms: the definitions; the load to what it changes by over 8 mm of ramp). */
static void the_best_place_is_what_it_is_told_to_be(void **state)
{
    (void)state;
    static dd_depth d;
    static dd_depth_band band;
    static dd_depth_candidate c;
    static dd_depth_place place;
    dd_depth_look look[2];
    dd_error error;
    double kept;
    dd_case_file *file = scenario_with("scenarios/launch.yaml", NULL);
    found(dd_case_of(file), dd_case_of(file)->water.level, &d, &band);
    NEAR(band.best.look.x, d.stern_lifts, 1e-9);
    for (int i = 0; i < 2; i++) assert_int_equal(dd_depth_look_at(&d, band.best.look.x + (i == 0 ? -0.008 : 0.008), &look[i], NULL, &error), DD_OK);
    const double share = d.m->scenario.limits.stern_lift_share * d.weight;
    assert_true(look[0].seen.v[DD_SEEN_REAR_LOAD] > share && look[1].seen.v[DD_SEEN_REAR_LOAD] < share);
    dd_depth_close(&d);
    dd_case_free(file);
    file = scenario_with("scenarios/rigs/seven-keel-roller-retrieve.yaml", NULL);
    found(dd_case_of(file), dd_case_of(file)->water.level, &d, &band);
    assert_int_equal(dd_depth_try(&d, &c, &error), DD_OK);
    assert_true(c.good);
    const double broken = band.least.look.x - 0.03; /* the roller's few millimetres of depth end the band */
    assert_int_equal(dd_depth_judge(&d, broken, 0, &place, &kept, &error), DD_OK);
    assert_true(kept < 0);
    band.width += 0.2, band.least.look.x -= 0.2 * (band.most.look.x - band.least.look.x) / (band.width - 0.2); /* as if they had been missed */
    assert_int_equal(dd_depth_find_best(&d, &c, broken, &band, &error), DD_OK);
    assert_true(band.best.look.x > broken && band.best.look.x < broken + 0.06);
    assert_int_equal(dd_depth_judge(&d, band.best.look.x, 0, &place, &kept, &error), DD_OK);
    assert_true(kept >= 0);
    dd_depth_close(&d);
    dd_case_free(file);
}

/* Supports take hold and let go as the rig goes down: where that turns a limit round between two rows and may break it, one stands where it is kept least
   (closed form: a minimum is a minimum). */
static void rows_stand_where_limits_turn(void **state)
{
    (void)state;
    static dd_depth d;
    dd_error error;
    dd_depth_look look;
    int turns = 0;
    dd_case_file *file = scenario_with("scenarios/rigs/seven-multi-roller-drive-on-retrieve.yaml", NULL);
    assert_int_equal(dd_depth_open(dd_case_of(file), 2.35, NULL, &d, &error), DD_OK);
    for (int i = 1; i < d.count; i++) {
        const double rows[2] = {dd_depth_kept_home(&d, DD_END_FLOAT_OFF, &d.look[i - 1]), dd_depth_kept_home(&d, DD_END_FLOAT_OFF, &d.look[i])};
        turns += d.row_for[i] == DD_ROW_LEAST && rows[1] < rows[0];
        for (double on = 0.1; on < 0.95 && fmin(rows[0], rows[1]) >= 0; on += 0.1) {
            assert_int_equal(dd_depth_look_at(&d, d.look[i - 1].x + on * (d.look[i].x - d.look[i - 1].x), &look, NULL, &error), DD_OK);
            assert_true(dd_depth_kept_home(&d, DD_END_FLOAT_OFF, &look) >= 0);
        }
    }
    assert_true(turns > 0);
    dd_depth_close(&d);
    dd_case_free(file);
}

/* As it is wound on, strap, friction and the engine that is left on hold the boat by themselves: nothing is left along its keel for what holds it where it is
   looked at, where before friction was (closed form: the sum of forces). Out of two supports an engine that can drives it, and the strap hangs. */
static void what_winds_it_on_balances(void **state)
{
    (void)state;
    static const struct {
        const char *path;
        double by, hold; /* from home, m; share of the engine's thrust */
        bool driven;
    } asked[] = {{"scenarios/rigs/six-skid-retrieve.yaml", 1.0, 0, false}, {"scenarios/rigs/five-rocker-stream-retrieve.yaml", 0.5, 0, false},
                 {"scenarios/rigs/five-skid-drive-on-retrieve.yaml", 0.3, 0.15, false}, {"scenarios/rigs/five-skid-drive-on-retrieve.yaml", 2.2, 0, true}};
    for (size_t i = 0; i < sizeof asked / sizeof asked[0]; i++) {
        static dd_depth d;
        static dd_depth_band band;
        dd_settle s;
        dd_depth_look look;
        dd_error error;
        double load[DD_COORDINATES], distance;
        dd_case_file *file = scenario_with(asked[i].path, NULL);
        found(dd_case_of(file), dd_case_of(file)->water.level, &d, &band);
        dd_plan *plan = &d.m->workspace->plan;
        NEAR(d.way.hold, asked[i].driven ? 0.15 : asked[i].hold, 1e-12);
        assert_int_equal(dd_depth_look_at(&d, band.best.look.x, &look, &s, &error), DD_OK);
        s.free = (DD_FREE_RIG & ~DD_FREE_REACH) | DD_FREE_HULL_SINKAGE | DD_FREE_HULL_TRIM;
        plan->set.strap_hooked = 0;
        if (d.way.engine) plan->engine_tilt.from = plan->engine_tilt.to = 0;
        for (double on = 0.1; on < asked[i].by + 0.05; on += 0.1) {
            s.at.pose.position.x += 0.1;
            if (dd_depth_lie(&d, &s, NULL, &error) != DD_OK) fail_msg("%s %.1f m: %s", asked[i].path, on, error.message);
        }
        const double friction = dd_depth_friction_along(&s), needs = dd_depth_pull_of(d.m, friction + dd_depth_drive_along(&s), &distance);
        dd_unbalanced(d.m->workspace, load);
        assert_true(friction > 0.01 * d.weight);
        assert_true(fabs(load[DD_HULL_COORDINATE]) < 2e-3 * d.weight);
        if (asked[i].driven) {
            NEAR(plan->set.strap_pull, 0, 1e-12);
            assert_true(plan->throttle.to > 0.01 && plan->throttle.to <= d.way.throttle);
        } else {
            NEAR(plan->set.strap_pull, needs, 1e-3 * d.weight);
            assert_true(plan->set.strap_pull > friction);
            NEAR(plan->throttle.to, asked[i].hold, 1e-12);
        }
        dd_settle_end(&s);
        dd_depth_close(&d);
        dd_case_free(file);
    }
}

/* The driver's law of a start by Euler's steps of 20 us: another path to the same, whatever holds or slips. Seaward; friction turns no way round. */
static dd_depth_start by_small_steps(const dd_depth *d, const dd_wheels_parameters *driver, double mass, double along, double rolling, double brake)
{
    static const double step = 2e-5;
    const double takes = dd_speed_change(d->way.acceleration, 0, d->way.out_speed);
    dd_depth_start start = {.rolls = 0, .most = along + rolling};
    double way = 0, speed = 0, correction = 0;
    for (int i = 0; i * step < fmax(takes, dd_brake_movement) + 1.5; i++) {
        const double t = i * step, off = dd_smooth_step(t / dd_brake_movement).value, wanted = -d->way.out_speed * dd_smooth_step(t / takes).value;
        const double given = mass * off / driver->response_time * (wanted - speed + correction), free = along + given, holds = (1 - off) * brake + rolling;
        correction += step * (off * (wanted - speed) / driver->correction_time - (1 - off) * correction / driver->response_time);
        start.most = fmax(start.most, -given);
        if (speed == 0 && fabs(free) <= holds) continue;
        const double next = speed + step / mass * (free - copysign(holds, speed != 0 ? speed : free));
        speed = next * speed < 0 ? 0 : next;
        start.rolls = fmax(start.rolls, way += step * speed);
    }
    return start;
}

/* A start on slopes on which it sets off up at once, rolls back first, and that its brake does not hold. */
static void a_start_is_followed_in_time(void **state)
{
    (void)state;
    static const double mass = 3500, rolling = 600, slopes[] = {0.01, 0.05, 0.12, 0.2, 0.3}, brakes[] = {20000, 6000};
    static const char *const paths[] = {"scenarios/retrieve.yaml", "scenarios/rigs/four-multi-roller-retrieve.yaml"};
    for (size_t i = 0; i < sizeof paths / sizeof paths[0]; i++) {
        static dd_depth d;
        dd_error error;
        dd_depth_start start = {0, 0};
        dd_case_file *file = scenario_with(paths[i], NULL);
        assert_int_equal(dd_depth_open(dd_case_of(file), dd_case_of(file)->water.level, NULL, &d, &error), DD_OK);
        const dd_wheels_instance *wheels = dd_system_find(d.m->system, &dd_force_wheels)->instance;
        for (int j = 0; j < 10; j++) {
            const double along = slopes[j / 2] * mass * 9.81, brake = brakes[j % 2];
            const dd_depth_start same = by_small_steps(&d, &wheels->parameters, mass, along, rolling, brake);
            assert_int_equal(dd_depth_start_up(&d, mass, along, rolling, brake, &start, &error), DD_OK);
            print_message("  slope %.2f, brake %.0f N: rolls back %.5f m (%.5f), wants %.1f N (%.1f)\n", slopes[j / 2], brake, start.rolls, same.rolls, start.most, same.most);
            if (slopes[j / 2] < 0.03 || slopes[j / 2] > 0.1) assert_true(slopes[j / 2] < 0.1 ? start.rolls < 1e-9 : start.rolls > 0.02);
            NEAR(start.rolls, same.rolls, 5e-5 + 2e-4 * same.rolls);
            NEAR(start.most, same.most, 2e-4 * same.most);
        }
        dd_depth_close(&d);
        dd_case_free(file);
    }
}

/* The engine, which has no energy to descend on, is in the balance of a boat that is driven off: where it lies at home its balance was lost wherever the
   descent stopped short of it, and told as a boat that tips. How hard it is to send off changes steadily there (closed form: a steady function). */
static void a_boat_that_is_driven_off_lies_where_it_lay(void **state)
{
    (void)state;
    static dd_depth d;
    dd_error error;
    dd_depth_look look;
    dd_depth_slide slide;
    double before = NAN;
    dd_case_file *file = scenario_with("scenarios/rigs/seven-multi-roller-launch.yaml", NULL);
    assert_int_equal(dd_depth_open(dd_case_of(file), 0.362, NULL, &d, &error), DD_OK);
    for (double x = 19.97; x < 20.075; x += 0.01) {
        assert_int_equal(dd_depth_slide_at(&d, x, &look, &slide, &error), DD_OK);
        if (!isnan(slide.lost_at)) fail_msg("x %.2f m: tips %.3f m from home", x, slide.lost_at);
        assert_true(isnan(before) || fabs(slide.push - before) < 2e-4 * d.weight);
        before = slide.push;
    }
    dd_depth_close(&d);
    dd_case_free(file);
}

typedef struct flat { /* in the rig's own plane */
    double x, z;
} flat;
static flat across(double slope) { return (flat){-slope / sqrt(1 + slope * slope), 1 / sqrt(1 + slope * slope)}; }
static double moment(flat arm, flat force) { return arm.x * force.z - arm.z * force.x; }
static flat from_to(dd_vec3 a, dd_vec3 b) { return (flat){b.x - a.x, b.z - a.z}; }

/* Past a break of slope the trailer stands on another plane than the wheels that hold or draw it. By statics of two bodies: what the trailer's wheels and
   weight leave at the ball, and with it the vehicle's two axles (closed form; 1e-3 of the weight: springs squash, and the ball bears on the vehicle where it stands unloaded). */
static void grip_past_a_break_of_slope(void **state)
{
    (void)state;
    static dd_depth d;
    static const double slopes[][2] = {{0.06, 0.18}, {0.18, 0.06}, {0.12, 0.12}};
    for (size_t i = 0; i < sizeof slopes / sizeof slopes[0]; i++) {
        char ramp[200];
        snprintf(ramp, sizeof ramp, "ramp={points: [{x: -40 m, z: %g m}, {x: 0 m, z: 0 m}, {x: 40 m, z: %g m}], point curve: 0.5 m}", 40 * slopes[i][0], -40 * slopes[i][1]);
        /* the hub of the first row comes to stand 4 m past the break, the rear axle 1.7 m before it, all of it dry */
        char level[60];
        snprintf(level, sizeof level, "water.level=%g m", -4 * slopes[i][1]);
        const char *const with[] = {ramp, level, "vehicle.drive=rear", "vehicle.centre height=0.6 m", NULL};
        dd_case_file *file = scenario_with("scenarios/retrieve.yaml", with);
        dd_error error = {.status = DD_OK};
        if (dd_depth_open(dd_case_of(file), dd_case_of(file)->water.level, NULL, &d, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
        dd_depth_look look;
        dd_settle branch;
        assert_int_equal(dd_depth_look_at(&d, d.look[0].x, &look, &branch, &error), DD_OK);
        const dd_kinematics *k = &d.m->workspace->kinematics;
        const dd_rig *rig = d.m->rig;
        const double g = d.m->model.gravity, boat = d.weight, bare = rig->trailer.mass * g, own = rig->vehicle.mass * g;
        const dd_vec3 hub = dd_chassis_point(k, dd_study_rearmost_hub(rig)), rear = {look.x, 0, dd_ramp_at(d.m->ramp, look.x).z};
        assert_true(look.x < -0.5 && hub.x > 0.5 && look.seen.v[DD_SEEN_BUOYANCY] == 0);
        const flat weight = {0, -1}, n1 = across(-slopes[i][0]), n2 = across(-slopes[i][1]), up = {-n1.z, n1.x};
        const double turning = boat * moment(from_to(k->coupling, dd_hull_point(k, dd_hull_mass(d.m->hull)->centre)), weight) +
                               bare * moment(from_to(k->coupling, dd_chassis_point(k, rig->trailer_centre)), weight);
        const double axle = -turning / moment(from_to(k->coupling, hub), n2);
        const flat ball = {axle * n2.x, axle * n2.z - boat - bare}, all = {ball.x, ball.z - own};
        const dd_vec3 front = {dd_vehicle_on_profile(&rig->vehicle, d.m->ramp, look.x).front_x, 0, dd_ramp_at(d.m->ramp, dd_vehicle_on_profile(&rig->vehicle, d.m->ramp, look.x).front_x).z};
        const double along = -(all.x * up.x + all.z * up.z), pressed = -(all.x * n1.x + all.z * n1.z);
        const double on_front = -(own * moment(from_to(rear, k->vehicle.centre), weight) + moment(from_to(rear, k->vehicle.ball), ball)) / moment(from_to(rear, front), n1);
        const double rolling = look.pull - along - (rig->vehicle.mass + rig->trailer.mass + boat / g) * d.way.acceleration;
        print_message("%g then %g %%: along %.1f N, axle %.1f and %.1f, front %.1f and %.1f, rear %.1f and %.1f N, rolling %.1f N\n", 100 * slopes[i][0], 100 * slopes[i][1], along,
                      axle, look.seen.v[DD_SEEN_AXLE_LOAD], on_front, look.seen.v[DD_SEEN_FRONT_WHEELS], pressed - on_front, look.seen.v[DD_SEEN_REAR_WHEELS], rolling);
        NEAR(look.seen.v[DD_SEEN_AXLE_LOAD], axle, 1e-3 * own);
        NEAR(look.seen.v[DD_SEEN_FRONT_WHEELS], on_front, 1e-3 * own);
        NEAR(look.seen.v[DD_SEEN_REAR_WHEELS], pressed - on_front, 1e-3 * own);
        NEAR(look.hold_needed, along / pressed, 1e-3);
        dd_settle_end(&branch);
        dd_depth_close(&d);
        dd_case_free(file);
    }
}

/* What ends it and what it takes are told; a road scenario and a ramp that ends above the water are refused or answered with the level. */
static void what_cannot_be_is_told(void **state)
{
    (void)state;
    dd_report *report = NULL;
    dd_error error;
    dd_case_file *file = scenario_with("scenarios/on-the-road.yaml", NULL);
    assert_int_equal(dd_study_ramp_depth(dd_case_of(file), 0, NULL, &report, &error), DD_ERROR_UNSET);
    assert_null(report);
    dd_case_free(file);
    const char *const above[] = {"ramp.toe level=1.5 m", "ramp.bed slope=0 %", NULL};
    file = scenario_with("scenarios/launch.yaml", above);
    const dd_status status = dd_study_ramp_depth(dd_case_of(file), 0, NULL, &report, &error);
    assert_int_equal(status, DD_ERROR_ARGUMENT);
    assert_string_equal(error.place, "water");
    assert_non_null(strstr(error.message, "1.200 m, leaves the ramp dry"));
    dd_case_free(file);
    const char *const over[] = {"water.level=4 m", NULL}; /* the crest stands at 3 m */
    file = scenario_with("scenarios/launch.yaml", over);
    assert_int_equal(dd_study_ramp_depth(dd_case_of(file), 0, NULL, &report, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.message, "4.000 m, drowns the ramp: the ground before the crest stands at 3.000 m"));
    dd_case_free(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_level_shifts_the_rig_along_a_plane_ramp), cmocka_unit_test(hub_depth_follows_the_slab), cmocka_unit_test(practice), cmocka_unit_test(practice_of_bunks_and_beaches),
        cmocka_unit_test(the_car_is_dry_on_steeper_ramps),
        cmocka_unit_test(the_speed_of_a_boat_that_runs_is_steady), cmocka_unit_test(rows_stand_where_wheels_slip),
        cmocka_unit_test(ends_do_not_hang_on_the_stride), cmocka_unit_test(a_band_has_no_gap), cmocka_unit_test(rows_stand_where_limits_turn),
        cmocka_unit_test(what_winds_it_on_balances), cmocka_unit_test(a_start_is_followed_in_time), cmocka_unit_test(what_cannot_be_is_told), cmocka_unit_test(grip_past_a_break_of_slope), cmocka_unit_test(a_boat_that_is_driven_off_lies_where_it_lay), cmocka_unit_test(the_best_place_is_what_it_is_told_to_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
