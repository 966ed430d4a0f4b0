/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of practice that belong to weigh and seat, by their ids. Grade: practice; trends unless a check says otherwise. */
#include "lib/study/seat.h"
#include "tests/unit/study/reports.h"

#define KEEL "scenarios/rigs/six-keel-roller-launch.yaml"

static double load_of(const dd_report *report, const char *support) { return number_at(report, "supports", support, "load"); }

/* A line that holds the text, of the headline, the notes or the checks' words. */
static bool says(const dd_report *r, const char *text)
{
    if (strstr(r->headline, text) != NULL) return true;
    for (int i = 0; i < r->note_count; i++)
        if (strstr(r->notes[i], text) != NULL) return true;
    for (int i = 0; i < r->check_count; i++)
        if (strstr(r->checks[i].words, text) != NULL || strstr(r->checks[i].name, text) != NULL) return true;
    return false;
}

/* P159 (a forum): side supports centre a hull, by a force only while the two sides carry unequal load. The shipped hull, pushed sideways by a
   share of its weight that its supports can hold without friction: what they push back across is that share (elementary statics, 1e-6 of
   the weight), the side that it is pushed to bears more, by more the more it is pushed; unpushed they bear alike. */
static void p159_sides_centre_while_unequal(void **state)
{
    (void)state;
    static const double push[] = {0, 0.005, -0.005, 0.01};
    double more[4];
    dd_case_file *file = scenario_with(BARE, NULL);
    dd_seat *s = calloc(1, sizeof *s);
    dd_seat_solution *solution = malloc(sizeof *solution);
    assert_true(s != NULL && solution != NULL);
    assert_int_equal(dd_seat_begin(dd_case_of(file), s, NULL), DD_OK);
    const double g = s->gravity, weight = dd_hull_mass(s->m->hull)->mass * g;
    for (int i = 0; i < 4; i++) {
        assert_int_equal(dd_seat_solve(&s->model, dd_vec(0, push[i] * g, -g), NULL, NULL, solution, NULL), DD_OK);
        double across = 0;
        more[i] = 0;
        for (int c = 0; c < s->model.contact_count; c++) {
            const dd_seat_contact *k = &s->model.contacts[c];
            across += solution->load[c] * k->push.y;
            if (k->roller >= 0) more[i] += (k->at.y > 0 ? 1 : -1) * solution->load[c];
        }
        print_message("pushed by %g: across %g, port more by %g\n", push[i], across / weight, more[i] / weight);
        NEAR(across, -push[i] * weight, 1e-6 * weight);
    }
    NEAR(more[0], 0, 1e-6 * weight);
    NEAR(more[2], -more[1], 1e-6 * weight);
    assert_true(more[1] > 0.001 * weight && more[3] > 1.5 * more[1]);
    dd_study_model_free(s->m);
    free(solution);
    free(s);
    dd_case_free(file);
}

/* P167 (a boat maker's page): keel and transom are what trailers damage most: the most loaded roller leads the page with its support's
   name, the last support's place under the transom is told, and 100 kg more at the transom loads the last keel roller most of all in proportion. */
static void p167_single_rollers_and_the_transom(void **state)
{
    (void)state;
    static const char *const rollers[] = {"rear keel roller", "second keel roller", "third keel roller", "fourth keel roller", "front keel roller"};
    dd_report *as_is = seated_with(KEEL, NULL), *heavy = seated_with(KEEL, (const char *[]){"aboard=[{item: fuel, mass: 100 kg, at: [1.6 m, 0 m, 0.25 m]}, {item: anchor and lines, mass: 30 kg, at: [4.9 m, 0 m, 0.7 m]}, {item: gear, mass: 40 kg, at: [2.4 m, 0 m, 0.4 m]}, {item: engine, mass: 100 kg, at: [0 m, 0 m, 0.8 m]}]", NULL});
    assert_non_null(strstr(as_is->sentence, "first: one roller of fourth keel roller"));
    assert_string_equal(as_is->checks[0].name, "one roller of fourth keel roller");
    assert_non_null(strstr(check_needed(as_is, "transom past the last support")->words, "rear keel roller is the last"));
    const double last = load_of(heavy, rollers[0]) / load_of(as_is, rollers[0]);
    assert_true(last > 1.5);
    for (int i = 1; i < 5; i++) assert_true(last > 1.2 * load_of(heavy, rollers[i]) / load_of(as_is, rollers[i]));
    assert_true(load_of(heavy, rollers[4]) < load_of(as_is, rollers[4]));
    dd_report_free(as_is);
    dd_report_free(heavy);
}

/* P168 (a magazine): trailers as delivered are often wrongly set up: a stop too high or too low, side supports inches away, a support on the
   wrong side of a strake. Each is named, and a trailer set up well has none of it. */
static void p168_what_is_set_up_wrongly(void **state)
{
    (void)state;
    static const struct { const char *path, *wrong, *says; } faults[] = {
        {BARE, "trailer.bow stop.above ground=1.02 m", "bow stop above the bow eye"},
        {KEEL, "trailer.supports[side skids].above ground=800 mm", "does not stand upright on these supports"},
        {BARE, "trailer.supports[front cradle].half spacings=[300 mm, 750 mm]", "beside the strake outer"},
    };
    for (size_t i = 0; i < sizeof faults / sizeof faults[0]; i++) {
        dd_report *well = seated_with(faults[i].path, NULL), *wrong = seated_with(faults[i].path, (const char *[]){faults[i].wrong, NULL});
        if (i == 0) {
            assert_int_equal(check_needed(well, faults[i].says)->outcome, DD_CHECK_GOOD);
            assert_int_not_equal(check_needed(wrong, faults[i].says)->outcome, DD_CHECK_GOOD);
        } else if (!says(wrong, faults[i].says) || says(well, faults[i].says)) {
            fail_msg("%s: '%s' is not told, or of the good one too", faults[i].wrong, faults[i].says);
        }
        dd_report_free(well);
        dd_report_free(wrong);
    }
}

/* P291 (a hull maker): most of the weight on the keel supports, the sides only steady. Skids let down by 3 mm at a time carry less and the
   keel more, over half of it on the shipped trailer; asked for, a share that is not reached is a broken limit. */
static void p291_keel_carries_most(void **state)
{
    (void)state;
    double share = 0, sides = INFINITY;
    for (int i = -2; i <= 1; i++) {
        char height[80];
        snprintf(height, sizeof height, "trailer.supports[side skids].above ground=%d mm", 865 - 3 * i);
        dd_report *r = seated_with(KEEL, (const char *[]){height, "seating.least keel share=85 %", NULL});
        const dd_check *keel = check_needed(r, "keel share");
        assert_true(keel->value > share && load_of(r, "side skids") < sides);
        assert_int_equal(keel->outcome, keel->value < 85 ? DD_CHECK_BROKEN : DD_CHECK_GOOD);
        share = keel->value;
        sides = load_of(r, "side skids");
        if (i == 0) assert_true(share > 50);
        dd_report_free(r);
    }
    assert_true(share > 85);
}

/* P293 (a hull maker): one roller set high makes a hook: 10 mm up, its load rises sharply (here more than twice), and its neighbours unload.
   Ribs between rollers and how far a side support passes the transom are places asked for
   (seating.requirements, unit/study/test_seat_required). */
static void p293_one_roller_high(void **state)
{
    (void)state;
    dd_report *level = seated_with(KEEL, NULL), *high = seated_with(KEEL, (const char *[]){"trailer.supports[second keel roller].above ground=630 mm", NULL});
    assert_true(load_of(high, "second keel roller") > 2 * load_of(level, "second keel roller"));
    assert_true(load_of(high, "third keel roller") < load_of(level, "third keel roller"));
    assert_true(load_of(high, "rear keel roller") < load_of(level, "rear keel roller"));
    dd_report_free(level);
    dd_report_free(high);
}

/* P294 (a hull maker): 5 to 10 % on the ball, weight even across the stern. Both ends stand among the targets, with that share of the
   trailer's mass (1e-6); the shipped rig lies between and bears alike to port and starboard; gear of 40 kg a metre to port loads the port side (without friction
   little: the hull heels and shifts until the sides' loads nearly agree; what wheels bear then is unit/study/test_weigh_ratings'). */
static void p294_ball_and_even_sides(void **state)
{
    (void)state;
    dd_report *r = weighed_with(BARE, NULL);
    const double trailer = number_at(r, "road", "as given", "trailer"), ball = number_at(r, "road", "as given", "coupling");
    NEAR(number_at(r, "coupling", "5 %: boats, on two axles; least of most advice", "load"), 0.05 * trailer, 1e-6 * trailer);
    NEAR(number_at(r, "coupling", "10 %: most for boats, least for trailers in general", "load"), 0.10 * trailer, 1e-6 * trailer);
    assert_true(ball > 0.05 * trailer && ball < 0.10 * trailer);
    dd_report_free(r);
    double cradle[2];
    for (int i = 0; i < 2; i++) {
        r = seated_with(BARE, (const char *[]){i == 0 ? NULL : "aboard[gear].at=[2.4 m, 1 m, 0.4 m]", NULL});
        const dd_report_table *t = table_named(r, "rollers");
        cradle[i] = 0;
        for (int row = 0; row < t->row_count; row++) {
            const dd_report_cell *name = &t->cells[row * t->column_count];
            int load = -1;
            for (int c = 0; c < t->column_count; c++)
                if (strcmp(t->columns[c].name, "load") == 0) load = c;
            assert_true(load > 0);
            cradle[i] += (strstr(name->text, " port ") != NULL ? 1 : -1) * name[load].value;
        }
        dd_report_free(r);
    }
    print_message("port more by %g, then %g\n", cradle[0], cradle[1]);
    assert_true(fabs(cradle[0]) < 1e-3 && cradle[1] > 0.01);
}

/* P295 (two boat makers): the winch line to the bow eye, a separate bow tie-down, and both stern eyes to the trailer. Without transom ties
   the page asks for caution by three measures; with them and the chain their loads stand in the table of the road, and rearward the ties take a
   part that the strap had. */
static void p295_lines_on_the_road(void **state)
{
    (void)state;
    static const char chain[] = "trailer.safety chain={slack at home: 20 mm, rating: 15 kN, break strength: 45 kN}";
    static const char ties[] = "trailer.transom ties={behind coupling: 6.4 m, above ground: 450 mm, half spacing: 700 mm, rating: 10 kN, break strength: 20 kN, pretension: 500 N}";
    dd_report *strap = seated_with(BARE, NULL), *all = seated_with(BARE, (const char *[]){chain, ties, NULL});
    assert_int_equal(check_needed(strap, "number of tie-downs")->outcome, DD_CHECK_CAUTION);
    assert_true(says(strap, "no transom ties are given: tie the stern down before the road"));
    assert_int_equal(check_needed(all, "number of tie-downs")->outcome, DD_CHECK_GOOD);
    assert_true(!says(all, "no transom ties are given"));
    print_message("tie %g\n", number_at(all, "restraint", "rearward 0.5 g", "tie"));
    assert_true(isnan(number_at(strap, "restraint", "rearward 0.5 g", "tie")) && number_at(all, "restraint", "rearward 0.5 g", "tie") > 0.5);
    assert_true(number_at(all, "restraint", "standing", "chain") == 0 && !isnan(number_at(all, "restraint", "rearward 0.5 g", "chain")));
    dd_report_free(strap);
    dd_report_free(all);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(p159_sides_centre_while_unequal), cmocka_unit_test(p167_single_rollers_and_the_transom), cmocka_unit_test(p168_what_is_set_up_wrongly),
                                       cmocka_unit_test(p291_keel_carries_most), cmocka_unit_test(p293_one_roller_high), cmocka_unit_test(p294_ball_and_even_sides),
                                       cmocka_unit_test(p295_lines_on_the_road)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
