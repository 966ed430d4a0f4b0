/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A boat held on its trailer on the road: by hand on a box, and what the report of seat says of it. Tolerances and grades stand at
   each check; published figures: tests/reference/road/restraint.csv. */
#include "lib/study/restraint.h"
#include "tests/unit/study/reports.h"

static const double g = 9.81, mass = 900, tight = 1e-9, strap_angle = 0.3, stop_height = 1.0, half_track = 0.6, guide_gap = 0.004;

/* A box of 900 kg, its centre midway between two supports 4 m apart and `height` over them, a contact each side of each; a bow stop and
   a strap at the bow. Boat X forward, trailer X aft. */
static dd_restraint *box(double height, double exponent)
{
    dd_restraint *r = calloc(1, sizeof *r);
    assert_non_null(r);
    r->weight = mass * g;
    r->to_trailer = (dd_mat3){{{-1, 0, 0}, {0, -1, 0}, {0, 0, 1}}};
    r->model.bending_stiffness = INFINITY;
    r->model.up = dd_vec(0, 0, 1);
    r->model.hold = 1e-8 * r->weight; /* what it holds back is below the tolerance */
    for (int i = 0; i < 4; i++)
        r->model.contacts[r->model.contact_count++] = (dd_seat_contact){.support = i / 2, .roller = i, .at = {i / 2 == 0 ? 1 : 5, i % 2 ? -half_track : half_track, 0},
                                                                      .push = {0, 0, 1}, .gap = -pow(r->weight / 4 / 3e6, 1 / exponent), .stiffness = 3e6, .exponent = exponent};
    r->model.contacts[r->model.contact_count++] = (dd_seat_contact){.support = -1, .roller = -1, .at = {6, 0, stop_height}, .push = {-1, 0, 0}, .stiffness = 3e6, .exponent = exponent};
    r->model.lines[r->model.line_count++] = (dd_seat_line){.at = {6, 0, stop_height}, .pull = {cos(strap_angle), 0, -sin(strap_angle)}, .stiffness = 4e5};
    for (int i = 0; i < DD_LINE_KINDS; i++) r->line[i] = i == DD_LINE_STRAP ? 0 : -1;
    r->model.masses[r->model.mass_count++] = (dd_seat_mass){mass, {3, 0, height}};
    return r;
}

static dd_held_loads loads_in(const dd_restraint *r, int which)
{
    static dd_held_loads standing, l;
    assert_int_equal(dd_restraint_loads(r, NULL, 2, dd_road_case_at(DD_ROAD_STANDING), g, NULL, &standing, NULL), DD_OK);
    assert_int_equal(dd_restraint_loads(r, NULL, 2, dd_road_case_at(which), g, &standing, &l, NULL), DD_OK);
    assert_true(l.closure < tight);
    return l;
}

static double published(const char *what)
{
    char line[300], name[40];
    double input, expected;
    FILE *file = fopen(SOURCE_DIR "/tests/reference/road/restraint.csv", "r");
    assert_non_null(file);
    while (fgets(line, sizeof line, file) != NULL)
        if (sscanf(line, "%39[^,],%lf,%lf", name, &input, &expected) == 3 && strcmp(name, what) == 0) {
            fclose(file);
            return expected;
        }
    fail_msg("no row %s", what);
    return NAN;
}

/* Braking: the stop bears all of it, the fore support gains by the couple of stop and centre. Pushed aft: the strap bears it over the
   cosine of its angle and pulls the bow down by its sine. A bump: 0.8 of the weight. Closed form, 1e-9 of the weight; the forces L01, L02
   as published to 0.1 N. */
static void along_and_up(void **state)
{
    (void)state;
    const double height = 0.8, w = mass * g;
    for (int law = 0; law < 2; law++) {
        dd_restraint *r = box(height, law ? 1.5 : 1);
        dd_held_loads l = loads_in(r, DD_ROAD_FORWARD);
        assert_true(l.hold == DD_HOLD_HELD && fabs(l.stop - 0.8 * w) < tight * w && l.tension[DD_LINE_STRAP] == 0);
        assert_true(fabs(l.stop - published("forward")) < 0.1);
        assert_true(fabs(l.support[1] - (2 * w + 0.8 * w * (height - stop_height)) / 4) < tight * w && fabs(l.normal - w) < tight * w);
        l = loads_in(r, DD_ROAD_FORWARD_WORK);
        assert_true(fabs(l.stop - published("forward working")) < 0.1);
        l = loads_in(r, DD_ROAD_REARWARD);
        const double pull = 0.5 * w / cos(strap_angle);
        assert_true(l.hold == DD_HOLD_HELD && l.stop == 0 && fabs(l.tension[DD_LINE_STRAP] - pull) < tight * w);
        assert_true(fabs(l.tension[DD_LINE_STRAP] * cos(strap_angle) - published("rearward")) < 0.1);
        assert_true(fabs(l.normal - w - pull * sin(strap_angle)) < tight * w);
        l = loads_in(r, DD_ROAD_UP);
        const double down = l.tension[DD_LINE_STRAP] * sin(strap_angle); /* the strap holds what rises */
        assert_true(fabs(l.normal - down - 0.8 * w) < tight * w && l.lifts_off == 0);
        assert_true(fabs(w + down - l.normal - published("down")) < 0.1);
        free(r);
    }
}

/* Sideways on level rollers only friction holds: coefficient 0.5, the lee side bears W/2 + 0.5 W h / (2 b), shared evenly fore and aft;
   with its centre over b / 0.5 it tips; a guide holds it with no friction. Closed form, 1e-9 of the weight; the force as published. */
static void across(void **state)
{
    (void)state;
    const double w = mass * g, height = 0.8;
    dd_restraint *r = box(height, 1);
    dd_held_loads l = loads_in(r, DD_ROAD_PORT);
    assert_true(l.hold == DD_HOLD_FRICTION && fabs(l.friction - 0.5) < tight && fabs(l.friction * l.normal - published("sideways")) < 0.1);
    assert_true(fabs(l.roller[0] - 0.5 * (w / 2 + 0.5 * w * height / (2 * half_track))) < tight * w);
    l = loads_in(r, DD_ROAD_STARBOARD_WORK);
    assert_true(fabs(l.friction - 0.25) < tight && fabs(l.friction * l.normal - published("sideways working")) < 0.1);
    free(r);
    /* A spring that holds as weakly as seat's comes to rest with the hull far away: that is no hold. It takes 2e-9 of the rest: 1e-8. */
    r = box(height, 1);
    r->model.hold = 1e-6 * r->weight;
    r->model.lines[0].pull = dd_vec(1, 0, 0);
    l = loads_in(r, DD_ROAD_PORT);
    assert_true(l.hold == DD_HOLD_FRICTION && fabs(l.friction - 0.5) < 1e-8);
    free(r);
    r = box(1.5, 1);
    r->model.lines[0].pull = dd_vec(1, 0, 0); /* else it holds the hull down */
    l = loads_in(r, DD_ROAD_PORT);
    assert_int_equal(l.hold, DD_HOLD_TIPS);
    free(r);
    r = box(height, 1);
    for (int i = 0; i < 2; i++)
        r->model.contacts[r->model.contact_count++] = (dd_seat_contact){.support = 2, .roller = -1, .at = {i ? 1 : 5, half_track, height}, .push = {0, -1, 0}, .gap = guide_gap,
                                                                      .stiffness = 1e6, .exponent = 1};
    dd_held_loads standing;
    assert_int_equal(dd_restraint_loads(r, NULL, 3, dd_road_case_at(DD_ROAD_STANDING), g, NULL, &standing, NULL), DD_OK);
    assert_int_equal(dd_restraint_loads(r, NULL, 3, dd_road_case_at(DD_ROAD_PORT), g, &standing, &l, NULL), DD_OK);
    assert_true(l.hold == DD_HOLD_HELD && l.friction == 0 && fabs(l.support[2] - 0.5 * w) < tight * w);
    assert_true(fabs(l.moved - (guide_gap + 0.25 * w / 1e6)) < 1e-6);
    free(r);
}

/* A stop 3.6 m over the boat's centre turns the bow up when braking: the hull leaves its fore support and hangs in a line there that pulls
   down with (0.8 3.6 - 2) W / 4. Closed form, 1e-9 of the weight. */
static void it_lifts_off(void **state)
{
    (void)state;
    const double w = mass * g;
    dd_restraint *r = box(0.4, 1);
    r->model.contacts[4].at.z = 4;
    r->line[DD_LINE_CHAIN] = r->model.line_count;
    r->model.lines[r->model.line_count++] = (dd_seat_line){.at = {5, 0, 0}, .pull = {0, 0, -1}, .stiffness = 1e6};
    dd_held_loads l = loads_in(r, DD_ROAD_FORWARD);
    assert_true(l.lifted[1] && !l.lifted[0] && l.lifts_off == 1 && !l.all_off && l.support[1] == 0);
    assert_true(fabs(l.tension[DD_LINE_CHAIN] - (0.8 * 3.6 - 2) * w / 4) < tight * w && fabs(l.stop - 0.8 * w) < tight * w);
    l = loads_in(r, DD_ROAD_UP);
    assert_true(l.lifts_off == 0);
    free(r);
}

/* A stop on a stem that leans by 30 degrees pushes aft with what brakes the hull and up with tan 30 of that: the fore support, 4 m ahead of
   the rear one, keeps (2 + a h - a 1.0 - 5 a tan 30) / 4 of the weight, and the bow rides up at the braking a where that is none. Closed
   form: 1e-9 of the weight; the braking by halving, 0.8 / 4096. */
static void it_rides_up_a_raked_stem(void **state)
{
    (void)state;
    const double w = mass * g, height = 0.8, rake = M_PI / 6, braking = 0.435, most = 2 / (1 - height + 5 * tan(rake));
    dd_restraint *r = box(height, 1);
    assert_true(fabs(dd_restraint_stop_lift(r)) < tight);
    r->model.contacts[4].push = dd_vec(-cos(rake), 0, sin(rake));
    assert_true(fabs(dd_restraint_stop_lift(r) - 0.5) < tight);
    dd_held_loads l = loads_in(r, DD_ROAD_FORWARD_WORK), standing;
    assert_true(l.hold == DD_HOLD_HELD && fabs(l.stop - braking * w / cos(rake)) < tight * w);
    assert_true(fabs(l.support[1] - (2 + braking * (height - 1 - 5 * tan(rake))) * w / 4) < tight * w);
    assert_int_equal(loads_in(r, DD_ROAD_FORWARD).hold, DD_HOLD_RUNS);
    double held = NAN;
    assert_int_equal(dd_restraint_loads(r, NULL, 2, dd_road_case_at(DD_ROAD_STANDING), g, NULL, &standing, NULL), DD_OK);
    assert_int_equal(dd_restraint_held_to(r, NULL, 2, 0.8, g, &standing, &held, NULL), DD_OK);
    assert_true(fabs(held - most) < 0.8 / 4096);
    r->model.contact_count = 4;
    assert_true(isnan(dd_restraint_stop_lift(r)));
    free(r);
}

/* 49 CFR 393.110(b), L05: exact. */
static void number_of_tie_downs(void **state)
{
    (void)state;
    const double foot = 0.3048, pound = 0.45359237;
    assert_int_equal(dd_least_tie_downs(5 * foot, 1100 * pound), 1);
    assert_int_equal(dd_least_tie_downs(5 * foot, 1101 * pound), 2);
    assert_int_equal(dd_least_tie_downs(5.1 * foot, 100), 2);
    assert_int_equal(dd_least_tie_downs(10 * foot, 900), 2);
    assert_int_equal(dd_least_tie_downs(10.1 * foot, 900), 3);
    assert_int_equal(dd_least_tie_downs(20 * foot, 900), 3);
    assert_int_equal(dd_least_tie_downs(20.1 * foot, 900), 4);
}

/* The sum of L04: half of what strap (910 kg, 395 of 790 kg count half) and ties may bear against half the weight; exact. Ratings that are
   not given are not checked; breaking strength and working load stand side by side; a strap too weak breaks its check. */
static void ratings_decide(void **state)
{
    (void)state;
    const char *given[] = {"trailer.winch.strap rating=18 kN", "trailer.winch.strap break strength=27 kN", NULL};
    dd_report *report = seated_with(RATED, given);
    const dd_check *sum = check_needed(report, "working load limits of the tie-downs in sum");
    assert_true(fabs(sum->value - 0.5 * (18 + 2 * 6)) < 1e-9);
    const dd_check *breaking = check_needed(report, "winch strap on the road: breaking strength"), *working = check_needed(report, "winch strap on the road: working load limit");
    assert_true(breaking->outcome == DD_CHECK_GOOD && breaking->limit == 27 && working->limit == 18);
    assert_true(breaking->value >= working->value - 1e-9 && working->value > 1);
    assert_true(check_needed(report, "port tie on the road: breaking strength")->limit == 15 && check_needed(report, "safety chain on the road: breaking strength")->limit == 40);
    const double strap = number_at(report, "restraint", "rearward 0.5 g", "strap");
    assert_true(fabs(strap - working->value) < 1e-9 && number_at(report, "restraint", "standing", "strap") < strap);
    /* the boat's ties at their pretension while it stands: the default 200 N */
    assert_true(fabs(number_at(report, "restraint", "standing", "tie") - 0.2) < 1e-6);
    dd_report_free(report);
    const char *weak[] = {"trailer.winch.strap rating=5 kN", "trailer.winch.strap break strength=6 kN", "trailer.winch.strap stretch at rating=1 %", NULL};
    report = seated_with(RATED, weak);
    assert_int_equal(check_needed(report, "winch strap on the road: breaking strength")->outcome, DD_CHECK_BROKEN);
    assert_int_equal(check_needed(report, "winch strap on the road: working load limit")->outcome, DD_CHECK_BROKEN);
    dd_report_free(report);
    const char *loose[] = {"trailer=trailers/rocker-six.yaml", NULL};
    report = seated_with(BARE, loose);
    assert_int_equal(check_needed(report, "winch strap on the road: breaking strength")->outcome, DD_CHECK_NOT_CHECKED);
    assert_int_equal(check_needed(report, "hold of the tie-downs downward")->outcome, DD_CHECK_CAUTION);
    assert_true(check_named(report, "port tie on the road: working load limit") == NULL);
    dd_report_free(report);
}

/* Chain and ties without a rating: they stretch as those of 10 and 5 kN, exactly, and are not held against these figures. */
static void unrated_lines_are_not_checked(void **state)
{
    (void)state;
    static const char *const limits[] = {"safety chain on the road: working load limit", "port tie on the road: working load limit",
                                         "starboard tie on the road: working load limit"};
    dd_case_file *file = scenario_with(RATED, NULL);
    dd_case c = *dd_case_of(file);
    dd_report *rated, *unrated;
    c.trailer.chain.rating = 10000, c.trailer.ties.rating = 5000;
    assert_int_equal(dd_study_seat(&c, &rated, NULL), DD_OK);
    c.trailer.chain.rating = c.trailer.ties.rating = NAN;
    assert_int_equal(dd_study_seat(&c, &unrated, NULL), DD_OK);
    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
        const dd_check *with = check_needed(rated, limits[i]), *without = check_needed(unrated, limits[i]);
        assert_true(with->limit == (i == 0 ? 10 : 5) && with->outcome != DD_CHECK_NOT_CHECKED);
        assert_true(without->value == with->value && isnan(without->limit) && without->outcome == DD_CHECK_NOT_CHECKED);
        assert_non_null(strstr(without->words, "working load limit is not given"));
    }
    assert_int_equal(check_needed(unrated, "working load limits of the tie-downs in sum")->outcome, DD_CHECK_NOT_CHECKED);
    assert_int_equal(check_needed(unrated, "hold of the tie-downs downward")->outcome, DD_CHECK_NOT_CHECKED);
    dd_trailer_parameters given;
    dd_trailer_defaults(&given);
    assert_true(isnan(given.chain.rating) && isnan(given.ties.rating));
    dd_report_free(rated);
    dd_report_free(unrated);
    dd_case_free(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(along_and_up), cmocka_unit_test(across), cmocka_unit_test(it_lifts_off), cmocka_unit_test(it_rides_up_a_raked_stem),
                                       cmocka_unit_test(number_of_tie_downs), cmocka_unit_test(ratings_decide),
                                       cmocka_unit_test(unrated_lines_are_not_checked)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
