/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strakes given beside the lines: their course between points, and what is refused of them. Closed forms, 1e-12 m. */
#include "lib/hull/lines.h"
#include "tests/unit/hull/hulls.h"

static dd_rail rail_of(int count, const double *at, const double *half_breadth, double width)
{
    dd_rail r = {.name = "inner", .at_count = count, .half_breadth_count = count, .width = width, .height = 0.02};
    for (int i = 0; i < count; i++) {
        r.at[i] = at[i];
        r.half_breadth[i] = half_breadth[i];
    }
    return r;
}

static void straight_between_its_points(void **state)
{
    (void)state;
    const dd_rail r = rail_of(3, (double[]){0.5, 2, 5}, (double[]){0.6, 0.6, 0.3}, 0.04);
    CHECK_NEAR(dd_rail_middle(&r, 0.5), 0.6, 1e-12, "aft end");
    CHECK_NEAR(dd_rail_middle(&r, 1), 0.6, 1e-12, "parallel");
    CHECK_NEAR(dd_rail_middle(&r, 2), 0.6, 1e-12, "where it begins to run in");
    CHECK_NEAR(dd_rail_middle(&r, 4), 0.4, 1e-12, "two thirds in");
    CHECK_NEAR(dd_rail_middle(&r, 5), 0.3, 1e-12, "fore end");
    assert_true(isnan(dd_rail_middle(&r, 0.49)) && isnan(dd_rail_middle(&r, 5.01)));
}

static void expect_refusal(const dd_rail *rails, int count, const char *words)
{
    char message[256] = "";
    if (dd_rails_check(rails, count, message, sizeof message)) fail_msg("taken, expected: %s", words);
    if (strstr(message, words) == NULL) fail_msg("%s, expected: %s", message, words);
}

/* What is wrong in itself, or of two together. */
static void refused_of_themselves(void **state)
{
    (void)state;
    char message[256];
    dd_rail r = rail_of(2, (double[]){0, 4}, (double[]){0.6, 0.4}, 0.04);
    assert_true(dd_rails_check(&r, 1, message, sizeof message));
    r.half_breadth_count = 1;
    expect_refusal(&r, 1, "2 points along it with 1 half breadths");
    r.at_count = r.half_breadth_count = 1;
    expect_refusal(&r, 1, "1 points");
    r = rail_of(2, (double[]){4, 4}, (double[]){0.6, 0.4}, 0.04);
    expect_refusal(&r, 1, "forward of point 1 at 4 m");
    r = rail_of(2, (double[]){0, 4}, (double[]){0.6, 0.019}, 0.04);
    expect_refusal(&r, 1, "its inner edge outside the keel");
    dd_rail both[2] = {rail_of(2, (double[]){0, 4}, (double[]){0.3, 0.3}, 0.04), rail_of(2, (double[]){1, 5}, (double[]){0.5, 0.34}, 0.04)};
    snprintf(both[1].name, sizeof both[1].name, "outer");
    assert_true(dd_rails_check(both, 2, message, sizeof message)); /* 40 mm apart at 5 m, 80 mm at 4 m */
    both[1].half_breadth[1] = 0.3;
    assert_true(dd_rails_check(both, 2, message, sizeof message)); /* 0.35 m at 4 m, where the other ends */
    both[0].at[1] = 5;
    expect_refusal(both, 2, "strakes inner and outer overlap at 5 m");
    both[1].half_breadth[1] = 0.1; /* crosses between the points */
    expect_refusal(both, 2, "overlap");
}

/* 4 m, chine 1 m out at the transom, as given at 2 m, and then running in to 0.1 m. */
static dd_status made_with(dd_rail rail, double middle_chine, dd_error *error)
{
    const double at[] = {0, 2, 4}, chine[] = {1, middle_chine, 0.1};
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    dd_hull_defaults(p);
    set_mass(p, 500, dd_vec(1.5, 0, 0.4));
    p->lines = DD_LINES_STRAIGHT;
    p->station_count = 3;
    for (int i = 0; i < 3; i++)
        p->stations[i] = (dd_station){.at = at[i], .chine_half_breadth = chine[i], .chine_height = 0.3 * chine[i], .sheer_half_breadth = 1.1, .sheer_height = 1};
    p->rail_count = 1;
    p->rails[0] = rail;
    dd_hull *hull = NULL;
    const dd_status status = dd_hull_create(p, &hull, error);
    dd_hull_free(hull);
    free(p);
    return status;
}

static void expect_misfit(dd_rail rail, const char *place, const char *words)
{
    dd_error error = {.status = DD_OK};
    assert_int_equal(made_with(rail, 1, &error), DD_ERROR_ARGUMENT);
    if (strstr(error.place, place) == NULL || strstr(error.message, words) == NULL)
        fail_msg("%s: %s; expected %s: %s", error.place, error.message, place, words);
}

/* Against the hull: beyond its ends, beyond its chine at a point, and between two points that both lie inside it. */
static void refused_of_this_hull(void **state)
{
    (void)state;
    dd_error error;
    assert_int_equal(made_with(rail_of(3, (double[]){0, 2, 3.5}, (double[]){0.9, 0.9, 0.2}, 0.04), 1, &error), DD_OK);
    expect_misfit(rail_of(2, (double[]){-0.1, 2}, (double[]){0.5, 0.5}, 0.04), "strakes[1] inner: at", "-0.1 m, expected within the hull, 0 to 4 m");
    expect_misfit(rail_of(2, (double[]){0, 4.1}, (double[]){0.5, 0.1}, 0.04), "strakes[1] inner: at", "4.1 m");
    expect_misfit(rail_of(2, (double[]){0, 2}, (double[]){0.5, 0.99}, 0.04), "half breadths", "1.01 m from the middle at 2 m, expected inside the chine at 1 m");
    expect_misfit(rail_of(2, (double[]){0, 3}, (double[]){0.9, 0.6}, 0.04), "half breadths", "inside the chine at 0.55 m");
    const dd_rail chord = rail_of(2, (double[]){0, 4}, (double[]){0.9, 0.06}, 0.04); /* 0.48 m at 2 m */
    assert_int_equal(made_with(chord, 0.6, &error), DD_OK);
    assert_int_equal(made_with(chord, 0.4, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.message, "0.5 m from the middle at 2 m, expected inside the chine at 0.4 m"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(straight_between_its_points), cmocka_unit_test(refused_of_themselves), cmocka_unit_test(refused_of_this_hull)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
