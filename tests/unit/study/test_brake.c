/* SPDX-License-Identifier: GPL-3.0-or-later */
/* brake: holding, pulling out, swing, heat by closed forms; what each system changes, on the shipped rig; refusals. */
#include "lib/study/brake.h"
#include "lib/study/depth.h"
#include "tests/unit/study/reports.h"
#include <drawdock/rules.h>

#define G 9.81

static dd_report *braked_with(const char *const *overrides) { return reported_with(dd_study_brake, BARE, overrides); }

static void worked_rig(dd_vehicle_parameters *v, dd_trailer_parameters *t)
{
    dd_vehicle_defaults(v);
    dd_trailer_defaults(t);
    v->mass = 1800, v->wheelbase = 2.7, v->centre_behind_front_axle = 1.25, v->centre_height = 0.6;
    v->coupling_behind_rear_axle = 1.1, v->coupling_height = 0.45;
    t->mass = 1500, t->centre_behind_coupling = 4.185, t->centre_above_ground = 1.0, t->axle_count = 1, t->axles[0].behind_coupling = 4.5;
}

/* Standing and pulling out on a ramp: road statics C09 and C10 (grade: formula, derived): 0.1 N and 1e-4. */
static void ramp_statics(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    worked_rig(&v, &t);
    const struct {
        double slope, coupling, pull, front, rear, need[3];
    } rows[] = {{0.12, 808.4, 1753.2, 8326.4, 10014.3, {0.4632, 0.3852, 0.2103}}, {0.15, 751.9, 2182.8, 8125.9, 10088.6, {0.5910, 0.4760, 0.2636}}};
    for (int i = 0; i < 2; i++) {
        const dd_standing z = dd_stand_on(&v, &t, G, atan(rows[i].slope), 0, NAN);
        NEAR(z.coupling, rows[i].coupling, 0.1);
        NEAR(z.pull, rows[i].pull, 0.1);
        NEAR(z.front, rows[i].front, 0.1);
        NEAR(z.rear, rows[i].rear, 0.1);
        for (int axles = 0; axles < 3; axles++) NEAR(dd_friction_needed(&z, axles), rows[i].need[axles], 1e-4);
    }
}

/* Holding with the rear wheels alone or all four, coupling loaded, bare and lifted (practice rows P131 and P132): as printed, 0.02. */
static void holding(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    char line[256];
    int rows = 0;
    worked_rig(&v, &t);
    v.mass = 2000, v.wheelbase = 2.8, v.centre_behind_front_axle = 0.45 * 2.8;
    FILE *file = fopen(SOURCE_DIR "/tests/reference/road/holding.csv", "r");
    assert_non_null(file);
    while (fgets(line, sizeof line, file)) {
        double slope, coupling, rear, four;
        const int read = sscanf(line, "%lf,%lf,%lf,%lf", &slope, &coupling, &rear, &four);
        if (read < 3) continue;
        const dd_standing z = dd_stand_on(&v, &t, G, atan(slope), 0, coupling * G);
        NEAR(dd_friction_needed(&z, 1), rear, 0.02);
        if (read == 4) NEAR(dd_friction_needed(&z, 2), four, 0.02);
        rows++;
    }
    fclose(file);
    assert_int_equal(rows, 6);
}

/* A trailer behind a vehicle that nothing moves: I t'' + C l^2/U t' + C l t = 0 about the ball, so frequency sqrt(C l / I) and damping
   l sqrt(C l / I) / (2 U) (closed form); 1e-4 for a vehicle 1e7 times heavier. */
static void swing_of_one_axle(void **state)
{
    (void)state;
    dd_error error;
    double damping, frequency;
    dd_swing_rig rig = {.mass = 1e10, .inertia = 1e10, .front = 1, .rear = 1, .ball = 2, .front_stiffness = 1e5, .rear_stiffness = 1e5,
                        .trailer_mass = 1000, .trailer_inertia = 1500, .centre = 4, .axle_count = 1, .axle = {4.2}, .stiffness = {9e4}};
    const double about_ball = 1500 + 1000 * 16, expected = sqrt(9e4 * 4.2 / about_ball);
    for (double speed = 10; speed < 60; speed += 10) {
        assert_int_equal(dd_swing_mode(&rig, speed, &damping, &frequency, &error), DD_OK);
        NEAR(frequency, expected, 1e-4 * expected);
        NEAR(damping, 4.2 * expected / (2 * speed), 1e-4);
    }
    rig.yaw_damping = 5000; /* adds to C l^2/U */
    assert_int_equal(dd_swing_mode(&rig, 20, &damping, &frequency, &error), DD_OK);
    NEAR(damping, (9e4 * 4.2 * 4.2 / 20 + 5000) / (2 * about_ball * expected), 1e-4);
}

/* What moves the swing: a tail-heavy trailer of great yaw inertia swings on from a lower speed than a nose-heavy one, and damping falls with
   speed and crosses nought at the critical speed. */
static void swing_trends(void **state)
{
    (void)state;
    dd_error error;
    double damping, frequency, critical[2];
    dd_swing_rig rig = {.mass = 1500, .inertia = 2500, .front = 1.3, .rear = 1.4, .ball = 2.5, .front_stiffness = 8e4, .rear_stiffness = 9e4,
                        .trailer_mass = 1800, .trailer_inertia = 6000, .centre = 4.1, .axle_count = 1, .axle = {4.2}, .stiffness = {1.2e5}};
    for (int i = 0; i < 2; i++) {
        rig.centre = i == 0 ? 4.1 : 3.9;
        assert_int_equal(dd_swing_critical(&rig, &critical[i], &error), DD_OK);
        print_message("centre %.1f m behind the ball: %.1f m/s\n", rig.centre, critical[i]);
    }
    assert_true(critical[0] < critical[1]);
    assert_true(critical[0] < 60);
    rig.centre = 4.1;
    assert_int_equal(dd_swing_mode(&rig, critical[0], &damping, &frequency, &error), DD_OK);
    NEAR(damping, 0, 1e-6);
    assert_int_equal(dd_swing_mode(&rig, 0.8 * critical[0], &damping, &frequency, &error), DD_OK);
    assert_true(damping > 0.01);
}

/* The lump of iron: no cooling, q t / (m c); for long, q / h (closed forms); half way by the differential equation. */
static void warming(void **state)
{
    (void)state;
    dd_brake_heat heat = {.iron = 5, .cooling = 0, .cooling_by_speed = 0, .fades_from = 520, .fades_to = 720};
    NEAR(dd_brake_warm(&heat, 3000, 20, 290, 290, 60), 290 + 3000 * 60 / (5 * 480.0), 1e-9);
    heat.cooling = 5, heat.cooling_by_speed = 0.5;
    NEAR(dd_brake_warm(&heat, 3000, 20, 290, 290, 1e6), 290 + 3000 / 15.0, 1e-6);
    double t = 290;
    for (int i = 0; i < 100000; i++) t += 1e-3 * (3000 - 15 * (t - 290)) / (5 * 480.0);
    NEAR(dd_brake_warm(&heat, 3000, 20, 290, 290, 100), t, 0.01);
    NEAR(dd_brake_fade(&heat, 0.6, 500), 1, 1e-12);
    NEAR(dd_brake_fade(&heat, 0.6, 800), 0.6, 1e-12);
    NEAR(dd_brake_fade(&heat, 0.6, 620), 0.8, 1e-12);
}

/* The shipped rig on one page: trailer brakes shorten the stop, dry and wet; an overrun brake works only once the vehicle slows; the energy closes;
   the page names what each does on a hill and in reverse. */
static void every_system(void **state)
{
    (void)state;
    static const char *const names[] = {"none", "overrun", "electric", "electric-hydraulic *"};
    dd_report *r = braked_with(NULL);
    for (int i = 1; i < 4; i++)
        for (int wet = 0; wet < 2; wet++)
            assert_true(number_at(r, "stops", names[i], wet ? "wet" : "dry") < number_at(r, "stops", "none", wet ? "wet" : "dry") - 10);
    for (int i = 0; i < 4; i++) assert_true(number_at(r, "stops", names[i], "wet") > number_at(r, "stops", names[i], "dry"));
    assert_true(number_at(r, "stop_details", "overrun, dry", "engages") > 0.03);
    assert_true(isnan(number_at(r, "stop_details", "none, dry", "engages")));
    assert_true(number_at(r, "stops", "electric", "push dry") < number_at(r, "stops", "none", "push dry"));
    const dd_report_table *energy = table_named(r, "energy");
    for (int i = 0; i < energy->row_count; i++) NEAR(energy->cells[(i + 1) * energy->column_count - 1].value, 0, 1e-6);
    assert_true(number_at(r, "hills", "overrun", "pushed back") > number_at(r, "hills", "none", "pushed back"));
    NEAR(number_at(r, "hills", "electric", "pushed back"), number_at(r, "hills", "none", "pushed back"), 1e-9);
    assert_string_equal(cell_at(r, "hold", "park brake, coupling lifted", "verdict")->text, "slides");
    assert_true(number_at(r, "hold", "park brake, coupling lifted", "friction needed") > number_at(r, "hold", "park brake", "friction needed"));
    assert_true(number_at(r, "hold", "foot brake", "friction needed") < number_at(r, "hold", "park brake", "friction needed"));
    assert_true(number_at(r, "descent", "none", "vehicle at the end") > number_at(r, "descent", "overrun", "vehicle at the end"));
    /* What moves the swing: more load on the ball and the boat forward damp it, the boat aft does not. */
    const double as_is = number_at(r, "swing_moves", "as it stands", "damping asked");
    assert_true(number_at(r, "swing_moves", "boat 0.2 m forward", "damping asked") > as_is);
    assert_true(number_at(r, "swing_moves", "boat 0.2 m aft", "damping asked") < as_is);
    assert_true(number_at(r, "swing_moves", "coupling load a quarter more", "damping asked") > as_is);
    /* An empty tank: as the rig whose file says so, to what the boat's place on softer supports does. Grade: the other path. */
    static const char *const empty[] = {"aboard[1].fill=0", NULL};
    const double damping = number_at(r, "swing_moves", "fuel: empty", "damping asked"), period = number_at(r, "swing_moves", "fuel: empty", "period");
    NEAR(number_at(r, "swing_moves", "fuel: full", "damping asked"), as_is, 1e-12); /* full as it stands */
    assert_true(fabs(damping - as_is) > 5e-3);
    dd_report_free(r);
    r = braked_with(empty);
    NEAR(number_at(r, "swing_moves", "as it stands", "damping asked"), damping, 5e-4);
    NEAR(number_at(r, "swing_moves", "as it stands", "period"), period, 2e-3);
    dd_report_free(r);
}

static bool is_told(const dd_report *r, const char *words)
{
    for (int i = 0; i < r->note_count; i++)
        if (strstr(r->notes[i], words) != NULL) return true;
    return false;
}

/* Breaking away, closed forms: battery over current; twice the torque slows twice as much, by which a slope holds on which sin is that over g; grip
   ends both. Chains that are taut before the cable pulls keep the brakes off, and are told. */
static void breaking_away(void **state)
{
    (void)state;
    static const char *const weak[] = {"trailer.brake figures.electric.torque=400 N m", "trailer.brake figures.battery=6", "trailer.brake figures.electric.current=2.5",
                                       "trailer.brake figures.chain slack=0.3 m", "trailer.brake figures.breakaway delay=0.4 s", NULL};
    static const char *const strong[] = {"trailer.brake figures.electric.torque=800 N m", NULL};
    static const char *const most[] = {"trailer.brake figures.electric.torque=9000 N m", "trailer.brake figures.electric-hydraulic.effective radius=200 mm",
                                       "trailer.brake figures.electric-hydraulic.piston area=20 cm2", NULL};
    dd_report *r = braked_with(weak);
    const double slow = number_at(r, "breakaway", "electric", "slows");
    NEAR(number_at(r, "breakaway", "electric", "lasts"), 60 * 6 / (4 * 2.5), 1e-9); /* min; two axles, a magnet a wheel */
    NEAR(number_at(r, "breakaway", "electric", "commanded after"), 0.4, 1e-12);
    assert_string_equal(cell_at(r, "breakaway", "electric", "acts first")->text, "chains");
    assert_true(is_told(r, "chains are taut before"));
    NEAR(number_at(r, "hills", "electric", "breaks away holds"), 100 * tan(asin(slow / DD_STANDARD_GRAVITY)), 1e-7);
    dd_report_free(r);
    r = braked_with(strong);
    NEAR(number_at(r, "breakaway", "electric", "slows"), 2 * slow, 1e-9);
    assert_string_equal(cell_at(r, "breakaway", "electric", "acts first")->text, "cable");
    assert_false(is_told(r, "chains are taut before"));
    dd_report_free(r);
    r = braked_with(most);
    NEAR(number_at(r, "breakaway", "electric", "slows"), number_at(r, "breakaway", "electric-hydraulic", "slows"), 1e-9); /* both at the grip */
    dd_report_free(r);
}

/* A park brake on the rear wheels alone fails first: on weed under them, and where the coupling lifts; all wheels, and chocks, still hold. */
static void park_brake_fails_first(void **state)
{
    (void)state;
    const char *const ways[] = {"park brake", "park brake, coupling lifted"};
    const char *dry[] = {"vehicle.park lock=rear", "vehicle.braking.park deceleration=9 m/s2", "braking.hold grade=8 %", "braking.hold friction rear=0.6", NULL};
    const char *weed[] = {"vehicle.park lock=rear", "vehicle.braking.park deceleration=9 m/s2", "braking.hold grade=8 %", "braking.hold friction rear=0.2", NULL};
    dd_report *r = braked_with(dry);
    assert_string_equal(cell_at(r, "hold", ways[0], "verdict")->text, "holds");
    const double loaded = number_at(r, "hold", ways[0], "margin");
    assert_true(number_at(r, "hold", ways[1], "margin") < loaded);
    dd_report_free(r);
    r = braked_with(weed);
    assert_string_equal(cell_at(r, "hold", ways[0], "verdict")->text, "slides");
    assert_true(number_at(r, "hold", ways[1], "margin") < number_at(r, "hold", ways[0], "margin"));
    assert_string_equal(cell_at(r, "hold", "foot brake", "verdict")->text, "holds");
    dd_report_free(r);
}

/* Cautions: on every report how far to trust it; a trailer that pushes hard, and one whose wheels stand, by name. */
static void cautions(void **state)
{
    (void)state;
    const char *locks[] = {"trailer.brakes={fitted: overrun, axles: 2}", NULL};
    dd_report *r = braked_with(locks);
    assert_true(is_told(r, "real rig") && is_told(r, "maker's instructions") && is_told(r, "local law"));
    assert_true(is_told(r, "dry road, without brakes: the trailer pushes with") && is_told(r, "jack-knife"));
    assert_true(is_told(r, "wet road, with overrun brakes: wheels of the trailer stand"));
    dd_report_free(r);
    r = braked_with(NULL);
    assert_false(is_told(r, "wheels of the trailer stand"));
    dd_report_free(r);
}

/* A yes to "does it stop" wants a check of stopping: with brakes that are not stated limits may hold, and the answer stays open; the push
   of an unbraked trailer leads, by the table's figure and the weight. Once stated, the push is a check, and a rig that runs on breaks a limit. */
static void stopping_is_asked(void **state)
{
    (void)state;
    const char *const none[] = {"trailer.brakes.fitted=none", NULL}, *const runs_on[] = {"trailer.brakes.fitted=none", "braking.grade=-30 %", "braking.pedal=10 %", NULL};
    dd_report *r = reported_with(dd_study_brake, "scenarios/launch.yaml", NULL);
    assert_int_equal(r->verdict, DD_VERDICT_UNCHECKED);
    assert_string_equal(r->word, "stopping was not checked");
    assert_int_equal(check_needed(r, "foot brake on a ramp of 12.5 %")->outcome, DD_CHECK_GOOD);
    assert_int_equal(check_needed(r, "how it stops with brakes of its own")->outcome, DD_CHECK_NOT_CHECKED);
    assert_null(check_named(r, "push of the trailer in a stop on the dry road"));
    char push[32];
    snprintf(push, sizeof push, "pushes with %.0f N", number_at(r, "stops", "none", "push dry"));
    assert_non_null(strstr(r->headline, push));
    assert_non_null(strstr(r->headline, "jack-knife"));
    dd_report_free(r);
    r = reported_with(dd_study_brake, "scenarios/launch.yaml", none);
    assert_int_equal(r->verdict, DD_VERDICT_WITHIN);
    const dd_check *check = check_needed(r, "push of the trailer in a stop on the dry road");
    assert_int_equal(check->outcome, DD_CHECK_CAUTION);
    NEAR(check->value, number_at(r, "stops", "none *", "push dry"), 1e-9);
    assert_null(check_named(r, "comes to rest on the dry road"));
    assert_non_null(strstr(r->headline, "Without brakes"));
    dd_report_free(r);
    r = reported_with(dd_study_brake, "scenarios/launch.yaml", runs_on);
    assert_int_equal(r->verdict, DD_VERDICT_BROKEN);
    assert_int_equal(check_needed(r, "comes to rest on the dry road")->outcome, DD_CHECK_BROKEN);
    dd_report_free(r);
}

/* The coupling's plate is for a load that stands: compared with what is held on the ramp, not with what passes in a stop, which is told. */
static void coupling_plate(void **state)
{
    (void)state;
    const char *const weak[] = {"trailer.coupling rating=500 N", NULL};
    dd_report *r = braked_with(NULL);
    const dd_report_table *hold = table_named(r, "hold");
    double most = 0;
    for (int i = 0; i < hold->row_count; i++) most = fmax(most, hold->cells[i * hold->column_count + 5].value);
    assert_true(most > 500 && number_at(r, "stops", "none", "ball most") > most);
    NEAR(check_needed(r, "coupling load on a ramp of 12.5 %")->value, most, 1e-9);
    dd_report_free(r);
    r = braked_with(weak);
    assert_int_equal(check_needed(r, "coupling load on a ramp of 12.5 %")->outcome, DD_CHECK_BROKEN);
    assert_true(is_told(r, "more than the coupling's plate (500 N)"));
    dd_report_free(r);
}

/* Pushed back up a slope an overrun brake is put on by gravity; its lever frees it: P = W (sin + c cos) then, and what B = r (P - threshold) gives
   without (closed form, r as its figures give it). */
static void reversing(void **state)
{
    (void)state;
    const char *lever[] = {"trailer.brake figures.overrun.reverse=lock-out lever", "trailer.brakes={fitted: overrun, axles: 2}", NULL};
    dd_report *r = braked_with(lever);
    const dd_report_table *t = table_named(r, "hills");
    double off = NAN, on = NAN, none = number_at(r, "hills", "none", "pushed back");
    for (int i = 0; i < t->row_count; i++) {
        const dd_report_cell *row = &t->cells[i * t->column_count];
        if (strncmp(row[0].text, "overrun", 7) != 0) continue;
        if (strcmp(row[6].text, "locked out") == 0)
            on = row[3].value;
        else
            off = row[3].value;
    }
    NEAR(on, none, 1e-9);
    dd_report_free(r);
    dd_case_file *file = scenario_with(BARE, NULL);
    dd_report *weighed_rig = weighed(dd_case_of(file));
    const double w = number_at(weighed_rig, "road", "as given", "trailer") * 9.80665, plain = w * (sin(atan(0.1)) + 0.012 * cos(atan(0.1)));
    NEAR(none, plain, 1e-3 * plain);
    const double rate = 0.49 / 0.08, free_push = (plain - rate * 0.02 * w) / (1 - rate);
    NEAR(off, rate < 1 && free_push < 0.1 * w ? free_push : plain + rate * 0.08 * w, 1e-3 * plain);
    dd_report_free(weighed_rig);
    dd_case_free(file);
}

/* More gain shortens the wet stop until wheels stand, then it is longer. */
static void gain_trend(void **state)
{
    (void)state;
    const char *strong[] = {"trailer.brake figures.electric.torque=3 kN m", "braking.wet slide=55 %", NULL};
    dd_report *r = braked_with(strong);
    const dd_report_table *t = table_named(r, "gain");
    double free_wheels = INFINITY, most = NAN;
    bool locks = false, locked_before = false;
    for (int i = 0; i < t->row_count; i++) {
        const dd_report_cell *row = &t->cells[i * t->column_count];
        if (strncmp(row[0].text, "electric,", 9) != 0) continue;
        locks = strcmp(row[4].text, "yes") == 0;
        if (!locks) {
            assert_false(locked_before); /* more gain never frees them */
            assert_true(row[3].value < free_wheels - 1);
            free_wheels = row[3].value;
        }
        locked_before = locks;
        most = row[3].value;
    }
    assert_true(locks && isfinite(free_wheels));
    assert_true(number_at(r, "best_gain", "electric, wet", "distance") < free_wheels - 0.5);
    free_wheels = number_at(r, "best_gain", "electric, wet", "distance");
    print_message("wet: %.1f m at the best gain without a standing wheel, %.1f m at the most\n", free_wheels, most);
    assert_true(most > free_wheels + 0.5);
    dd_report_free(r);
}

/* With a ramp the pull-out has the loads of the ramp study: at the place it advises each figure is that of `depth` (the other path, 1e-9), the
   coupling is not loaded as on dry ground, and the least grip on the way up is no greater than there. Without one: statics, and said. */
static void pull_out_on_the_ramp(void **state)
{
    (void)state;
    const char *const drives[] = {"front", "rear", "four (fitted)"};
    dd_case_file *file = scenario_with("scenarios/launch.yaml", NULL);
    const dd_case *c = dd_case_of(file);
    dd_error error = {.status = DD_OK};
    dd_report *r = NULL;
    dd_depth *d = calloc(1, sizeof *d);
    dd_depth_band band;
    assert_int_equal(dd_study_brake(c, &r, &error), DD_OK);
    assert_int_equal(dd_depth_open(c, c->water.level, NULL, d, &error), DD_OK);
    assert_int_equal(dd_depth_find(d, &band, &error), DD_OK);
    const double *seen = band.best.look.seen.v;
    const double load[3] = {seen[DD_SEEN_FRONT_WHEELS], seen[DD_SEEN_REAR_WHEELS], seen[DD_SEEN_FRONT_WHEELS] + seen[DD_SEEN_REAR_WHEELS]};
    for (int i = 0; i < 3; i++) {
        NEAR(number_at(r, "pull_out", drives[i], "as it begins"), band.best.look.pull / load[i], 1e-9);
        assert_true(number_at(r, "pull_out", drives[i], "friction needed") / number_at(r, "pull_out", drives[i], "available") >=
                    band.best.look.pull / load[i] / dd_depth_grip_of(&band.best.look, i).likely - 1e-12);
    }
    NEAR(number_at(r, "pull_out", "four (fitted)", "as it begins"), band.best.look.drive_needed, 1e-9);
    assert_non_null(strstr(table_named(r, "pull_out")->note, "depth"));
    assert_string_equal(cell_at(r, "pull_out_surfaces", "weed", "front")->text, "no");
    dd_depth_close(d);
    free(d);
    dd_report_free(r);
    dd_case_free(file);
    r = braked_with(NULL);
    assert_non_null(strstr(table_named(r, "pull_out")->note, "out of the water"));
    assert_true(isnan(number_at(r, "pull_out", "front", "as it begins")));
    dd_report_free(r);
}

static void contradictions(void **state)
{
    (void)state;
    char text[2000];
    refusal_of(BARE, "trailer.brakes={fitted: electric, axles: 2, park brake: yes}", text, sizeof text);
    assert_non_null(strstr(text, "magnets hold only while current flows"));
    refusal_of(BARE, "trailer.brakes={fitted: none, axles: 2}", text, sizeof text);
    assert_non_null(strstr(text, "without brakes"));
    refusal_of(BARE, "braking.speed=140 km/h", text, sizeof text);
    assert_non_null(strstr(text, "130"));
    refusal_of(BARE, "braking.grade=35 %", text, sizeof text);
    assert_non_null(strstr(text, "30"));
    refusal_of(BARE, "trailer.brake figures.overrun.slack=100 mm", text, sizeof text);
    assert_non_null(strstr(text, "never bear"));
    dd_case_file *file = scenario_with(BARE, NULL);
    dd_case *wrong = malloc(sizeof *wrong);
    *wrong = *dd_case_of(file);
    dd_trailer_parameters t = wrong->trailer;
    t.brakes.fitted = DD_FITTED_OVERRUN;
    t.braking.controller.kind = DD_CONTROL_FULL;
    const char *key = "";
    char message[400] = "";
    assert_false(dd_trailer_braking_rules[0].holds(&t, message, sizeof message, &key));
    assert_non_null(strstr(message, "no lever or pedal"));
    dd_report *report = NULL;
    dd_error error = {.status = DD_OK};
    wrong->cookie = 1;
    assert_int_equal(dd_study_brake(wrong, &report, &error), DD_ERROR_ARGUMENT);
    free(wrong);
    dd_case_free(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(ramp_statics),  cmocka_unit_test(holding),   cmocka_unit_test(swing_of_one_axle), cmocka_unit_test(swing_trends),
                                       cmocka_unit_test(warming),       cmocka_unit_test(every_system), cmocka_unit_test(reversing),      cmocka_unit_test(gain_trend),
                                       cmocka_unit_test(pull_out_on_the_ramp), cmocka_unit_test(breaking_away), cmocka_unit_test(park_brake_fails_first), cmocka_unit_test(cautions),
                                       cmocka_unit_test(contradictions), cmocka_unit_test(stopping_is_asked), cmocka_unit_test(coupling_plate)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
