/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What seat says of the strength of post, clamps, arms and cross-members: by hand from its own loads, trends, what is not given, and
   input that cannot be. Grade: closed form; tolerance at each check. */
#include "tests/unit/study/reports.h"

#define ARM "trailer.supports[front cradle].strength.arm."
#define CLAMP "trailer.supports[rear rocker].strength.clamp."

static double used(const char *check, const char *override)
{
    dd_report *report = seated_with(BARE, (const char *[]){override, NULL});
    const double value = check_needed(report, check)->value;
    dd_report_free(report);
    return value;
}

/* Braking at 0.8 g: the stop bears that of the boat, and the post's foot that at the stop's height over it, less what the slack strap
   pulls: the weight from the supports' loads standing. By hand, within 5 % (the stop's push is square to a stem that rakes). */
static void post_by_hand(void **state)
{
    (void)state;
    dd_report *report = seated_with(BARE, NULL);
    const double stop = number_at(report, "restraint", "braking 0.8 g", "stop"), strap = number_at(report, "restraint", "braking 0.8 g", "strap");
    const double moment = number_at(report, "strength", "winch post", "moment"), lever = 1.22 - (1.22 - 0.75);
    assert_true(fabs(strap) < 1e-6);
    assert_true(fabs(moment - 1e3 * stop * lever) < 0.05 * moment);
    /* 75 x 100 x 5 box: W by hand */
    const double modulus = (75 * 1e6 - 65 * 729000.0) / 12 / 50 * 1e-9;
    assert_true(fabs(number_at(report, "strength", "winch post", "bending") - 1e-6 * moment / modulus) < 1e-3 * 1e-6 * moment / modulus);
    assert_true(check_needed(report, "winch post: post")->limit == 350);
    assert_true(fabs(check_needed(report, "winch post: post")->value - number_at(report, "strength", "winch post", "combined")) < 1e-9);
    dd_report_free(report);
}

/* Rearward 0.5 g with a strap that stretches much and a chain that hangs just taut: both pull the post aft, each with its own arm over
   the foot, and the boat is off its stop. By hand from the table of the road; the strap's pull taken along (both lines all but level). 0.2 %. */
static void chain_on_the_post(void **state)
{
    (void)state;
    static const char *const heights[] = {"1100 mm", "1250 mm"};
    double part[2];
    for (int i = 0; i < 2; i++) {
        char chain[160];
        snprintf(chain, sizeof chain, "trailer.safety chain={above ground: %s, slack at home: 0 mm, rating: 30 kN, break strength: 60 kN}", heights[i]);
        dd_report *report = seated_with(BARE, (const char *[]){chain, "trailer.winch.strap stretch at rating=50 %", "trailer.bow stop.above ground=1.1 m", NULL});
        const double strap = number_at(report, "restraint", "rearward 0.5 g", "strap"), pulls = number_at(report, "restraint", "rearward 0.5 g", "chain");
        const double foot = 1.22 - 0.75;
        assert_true(fabs(number_at(report, "restraint", "rearward 0.5 g", "stop")) < 1e-6);
        part[i] = strap * 0.75 + pulls * ((i == 0 ? 1.1 : 1.25) - foot);
        assert_true(pulls > 2);
        assert_string_equal(cell_at(report, "strength", "winch post", "decides")->text, "rearward 0.5 g");
        assert_true(fabs(number_at(report, "strength", "winch post", "moment") - 1e3 * part[i]) < 0.002 * 1e3 * part[i]);
        dd_report_free(report);
    }
}

/* Longer, thinner, one bolt for two, more on the road: more of what it bears is used; twice the arm twice its moment. 1e-9. */
static void trends(void **state)
{
    (void)state;
    const char *arm = "front cradle: arm", *slips = "rear rocker: clamp slips";
    const double as_given = used(arm, NULL);
    assert_true(as_given > 1);
    assert_true(used(arm, ARM "length=300 mm") > 1.5 * as_given);
    assert_true(used(arm, ARM "wall=3 mm") > 1.2 * as_given);
    assert_true(used(arm, ARM "offset=100 mm") > as_given);
    assert_true(used(arm, "seating.road factor=3") > 1.1 * as_given);
    assert_true(used("rear rocker: cross-member", "trailer.supports[rear rocker].strength.cross member.offset=200 mm") > 1.05 * used("rear rocker: cross-member", NULL));
    assert_true(used("winch post: post", "trailer.winch.post.length=900 mm") > used("winch post: post", NULL));
    dd_report *two = seated_with(BARE, NULL), *one = seated_with(BARE, (const char *[]){CLAMP "bolts=1", CLAMP "face diameter=40 mm", NULL});
    const dd_check *of_two = check_needed(two, slips), *of_one = check_needed(one, slips);
    assert_true(fabs(of_one->limit - 0.5 * of_two->limit) < 1e-9 && of_one->value > of_two->value);
    /* 2 x 2 faces x 0.2 x 200 / (0.2 x 0.016) */
    assert_true(fabs(of_two->limit - 0.8 * 200 / 0.0032 / 1e3) < 1e-9);
    dd_report_free(two);
    dd_report_free(one);
}

#define SECTION "section: box, depth: 80 mm, width: 50 mm, wall: 4 mm, yield strength: 250 MPa"
#define EXACT "seating.height tolerance=0 mm", "seating.road factor=3"

/* Heights exact, three times what stands: an arm under one keel roller bears it upright; a skid's post bears square to a panel of 16.699 degrees,
   and one post what two share; a side of a cradle half of what the cradle bears. 1e-4, of the cradle 1 % (its rollers' panels differ). */
static void supports_by_hand(void **state)
{
    (void)state;
    static const char skids[] = "trailer.supports[side skids].strength={posts: %d, post: {" SECTION ", length: 300 mm, offset: 50 mm}}";
    double load[2];
    for (int posts = 1; posts <= 2; posts++) {
        char text[256];
        snprintf(text, sizeof text, skids, posts);
        dd_report *report = seated_with("tests/unit/study/prism.yaml", (const char *[]){EXACT, "trailer.supports[rear keel roller].strength={arm: {" SECTION ", length: 200 mm}}", text, NULL});
        const double stands = number_at(report, "supports", "rear keel roller", "load");
        assert_string_equal(cell_at(report, "strength", "rear keel roller", "decides")->text, "heights at worst x road factor");
        assert_true(fabs(number_at(report, "strength", "rear keel roller", "load") - 3 * stands) < 1e-4 * stands);
        assert_true(fabs(number_at(report, "strength", "rear keel roller", "moment") - 1e3 * 3 * stands * 0.2) < 1e-4 * 600 * stands);
        const double angle = 16.699 * 3.14159265358979323846 / 180;
        load[posts - 1] = number_at(report, "strength", "side skids", "load");
        const double moment = 1e3 * load[posts - 1] * (sin(angle) * 0.3 + cos(angle) * 0.05);
        assert_true(fabs(number_at(report, "strength", "side skids", "moment") - moment) < 1e-4 * moment);
        dd_report_free(report);
    }
    assert_true(fabs(load[0] - 2 * load[1]) < 1e-9 * load[0]);
    dd_report *report = seated_with(BARE, (const char *[]){EXACT, NULL});
    const double half = 1.5 / 2 * number_at(report, "supports", "front cradle", "load"); /* two posts a side (its file) */
    print_message("front cradle: %g of %g kN; winch post by %s\n", number_at(report, "strength", "front cradle", "load"), half,
                  cell_at(report, "strength", "winch post", "decides")->text);
    assert_true(fabs(number_at(report, "strength", "front cradle", "load") - half) < 0.01 * half);
    dd_report_free(report);
    /* The post by what strap and stop bear on a ramp, where a factor makes that the worst: in proportion to the factor. */
    double moments[2];
    for (int i = 0; i < 2; i++) {
        report = seated_with(BARE, (const char *[]){i == 0 ? "seating.road factor=4" : "seating.road factor=5", "trailer.winch.pretension=6 kN", NULL});
        assert_string_equal(cell_at(report, "strength", "winch post", "decides")->text, "on a ramp x road factor");
        moments[i] = number_at(report, "strength", "winch post", "moment");
        dd_report_free(report);
    }
    assert_true(fabs(moments[1] - 1.25 * moments[0]) < 1e-9 * moments[0]);
}

/* Without a figure it says which; with no sections it says of which supports; never passed silently. A yield too low breaks. */
static void missing_and_broken(void **state)
{
    (void)state;
    dd_report *report = seated_with("scenarios/rigs/six-skid-launch.yaml", NULL);
    const dd_check *check = check_needed(report, "strength of posts and arms and cross-members");
    assert_true(check->outcome == DD_CHECK_NOT_CHECKED && strstr(check->words, "winch post") != NULL);
    dd_report_free(report);
    report = seated_with(BARE, (const char *[]){"trailer.supports[rear rocker].strength.clamp.bolts=1", ARM "yield strength=20 MPa", NULL});
    check = check_needed(report, "rear rocker: clamp slips");
    assert_true(check->outcome == DD_CHECK_NOT_CHECKED && strstr(check->words, "face diameter") != NULL);
    assert_int_equal(check_needed(report, "front cradle: arm")->outcome, DD_CHECK_BROKEN);
    dd_report_free(report);
}

static void impossible_walls(void **state)
{
    (void)state;
    char text[2000];
    refusal_of(BARE, ARM "wall=30 mm", text, sizeof text);
    assert_non_null(strstr(text, "front cradle, strength: arm: wall: found 30 mm, expected less than half its width of 50 mm"));
    refusal_of(BARE, "trailer.winch.post.wall=50 mm", text, sizeof text);
    assert_non_null(strstr(text, "post: wall: found 50 mm, expected less than half its depth of 100 mm"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(post_by_hand), cmocka_unit_test(chain_on_the_post), cmocka_unit_test(trends), cmocka_unit_test(supports_by_hand), cmocka_unit_test(missing_and_broken), cmocka_unit_test(impossible_walls)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
