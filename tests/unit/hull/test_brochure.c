/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Boats by brochure figures: estimates, form, mass; and what is refused. */
#include <drawdock/status.h>
#include "lib/hull/lines.h"
#include "tests/unit/hull/hulls.h"

static const double gravity = 9.80665;

static void five_metre_boat(dd_hull_parameters *p)
{
    dd_hull_defaults(p);
    p->length = 5;
    p->length_of = DD_LENGTH_OF_HULL;
    p->beam = 2.1;
    p->transom_deadrise = 18 * DEGREE;
    p->mass = 620;
    p->mass_of = DD_MASS_OF_BARE_HULL;
    p->engine_power = 66e3;
}

/* A number in [low, high) from a fixed sequence. */
static double draw(unsigned long long *seed, double low, double high)
{
    *seed = *seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return low + (high - low) * (double)(*seed >> 11) / 9007199254740992.0;
}

/* Low <= likely <= high for every estimate; sources are named. */
static void check_estimates(const dd_hull_estimates *e)
{
    const dd_estimate *all = (const dd_estimate *)e;
    assert_int_equal(sizeof *e % sizeof *all, 0);
    for (size_t i = 0; i < sizeof *e / sizeof *all; i++) {
        if (!(all[i].low <= all[i].likely && all[i].likely <= all[i].high))
            fail_msg("estimate %d: %g %g %g", (int)i, all[i].low, all[i].likely, all[i].high);
        assert_non_null(all[i].source);
        if (all[i].given)
            assert_true(all[i].low == all[i].high);
    }
}

/* 400 boats of 3 to 9 m: each makes a closed hull that floats upright and trims little, of the mass asked for. */
static void test_random_boats(void **state)
{
    (void)state;
    unsigned long long seed = 20240521;
    double worst_trim = 0;
    for (int n = 0; n < 400; n++) {
        dd_hull_parameters *p = malloc(sizeof *p);
        assert_non_null(p);
        five_metre_boat(p);
        p->length = draw(&seed, 3, 9);
        p->beam = fmin(p->length * draw(&seed, 0.33, 0.48), 3);
        p->transom_deadrise = draw(&seed, 0, 25) * DEGREE;
        p->mass = draw(&seed, 18, 36) * p->length * p->length; /* kg: 450 to 900 at 5 m */
        p->mass_of = (int)draw(&seed, 0, 3);
        p->engine_power = draw(&seed, 0, 250e3) * (p->length - 2.5) / 6.5;
        dd_hull_estimates e;
        dd_error error;
        if (dd_hull_estimate(p, &e, &error) != DD_OK)
            fail_msg("boat %d: %s: %s", n, error.place, error.message);
        check_estimates(&e);
        dd_hull *hull = create(p);
        CHECK_NEAR(dd_hull_mass(hull)->mass, e.total_mass.likely, 1e-12 * e.total_mass.likely, "mass");
        CHECK_NEAR(dd_hull_length(hull), p->length, 1e-12, "length");
        dd_floating f;
        if (dd_hull_float(hull, 1025, gravity, 0.05, 0, &f, &error) != DD_OK)
            fail_msg("boat %d, %.2f x %.2f m, %.0f kg: %s", n, p->length, p->beam, p->mass, error.message);
        CHECK_NEAR(f.heel, 0, 1e-9, "upright");
        CHECK_NEAR(f.trim, 0, 3 * DEGREE, "trim"); /* sanity: no boat of usual figures stands on its nose */
        worst_trim = fmax(worst_trim, fabs(f.trim));
        /* Freeboard at the transom. */
        assert_true(f.waterplane.level / f.waterplane.up.z < e.transom_sheer_height.likely);
        dd_hull_free(hull);
        free(p);
    }
    print_message("largest trim of 400 boats: %.2f deg\n", worst_trim / DEGREE);
}

/* What was given appears in the lines: deadrise at the transom, at half length and at 0.8, beams, heights. 1e-9. */
static void test_form(void **state)
{
    (void)state;
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    five_metre_boat(p);
    p->chine_beam = 1.8;
    p->midships_deadrise = 21 * DEGREE;
    p->bow_deadrise = 38 * DEGREE;
    p->keel_rise = 0.6;
    p->transom_sheer_height = 0.8;
    p->midships_sheer_height = 0.86;
    p->bow_sheer_height = 1.1;
    dd_hull *hull = create(p);
    double y[DD_STRAKES + 3], z[DD_STRAKES + 3], widest = 0, chine = 0;
    const double places[3] = {0, 2.5, 4}, deadrise[3] = {18, 21, 38};
    for (int i = 0; i < 3; i++) {
        assert_int_equal(dd_hull_section(hull, places[i], y, z), 3);
        CHECK_NEAR(atan2(z[1] - z[0], y[1]), deadrise[i] * DEGREE, 1e-9, "deadrise");
        if (i < 2)
            CHECK_NEAR(z[2], i ? 0.86 : 0.8, 1e-9, "sheer height");
    }
    for (int i = 0; i <= 1000; i++) { /* closed, fair: breadths not below 0, chine within the sheer, keel never falling */
        double before = z[0];
        dd_hull_section(hull, 5 * i / 1000.0, y, z);
        widest = fmax(widest, 2 * y[2]);
        chine = fmax(chine, 2 * y[1]);
        assert_true(y[1] >= -1e-12 && y[2] >= y[1] - 1e-12 && z[2] > z[1] && z[1] > z[0]);
        if (i)
            assert_true(z[0] >= before - 1e-12);
    }
    CHECK_NEAR(widest, 2.1, 1e-9, "beam");
    CHECK_NEAR(chine, 1.8, 1e-9, "chine beam");
    CHECK_NEAR(z[0], 0.6, 1e-9, "keel rise");
    CHECK_NEAR(z[2], 1.1, 1e-9, "bow sheer height");
    CHECK_NEAR(y[1] + y[2], 0, 1e-12, "closed at the bow");
    /* The bow eye stands on the stem. */
    const dd_vec3 eye = dd_hull_bow_eye(hull);
    CHECK_NEAR(dd_hull_keel(hull, eye.x).z, eye.z, 1e-9, "bow eye");
    dd_hull_free(hull);
    free(p);
}

/* Engine masses by power against the published table, lb to kg by 0.45359237; grade: published. */
static void test_engines(void **state)
{
    (void)state;
    table t = table_read("outboard_weights.csv");
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    for (int row = 1; row <= t.rows; row++) {
        const char *range = table_text(&t, row, "hp_range");
        const double ends[2] = {strtod(range, NULL), strtod(strchr(range, '-') + 1, NULL)};
        for (int k = 0; k < 2; k++) {
            dd_hull_estimates e;
            dd_error error;
            five_metre_boat(p);
            p->engine_power = ends[k] * 745.69987158227022;
            p->engine_power *= k ? 1 - 1e-12 : 1 + 1e-12;
            assert_int_equal(dd_hull_estimate(p, &e, &error), DD_OK);
            const double pound = 0.45359237, running = pound * table_number(&t, row, "running_lb");
            CHECK_NEAR(e.engine_mass.low, pound * table_number(&t, row, "dry_lb"), 1e-9, range);
            CHECK_NEAR(e.engine_mass.likely, running, 1e-9, range);
            const double outfit = pound * (table_number(&t, row, "controls_lb") + table_number(&t, row, "battery_dry_lb"));
            CHECK_NEAR(e.total_mass.likely, 620 + running + outfit, 1e-9, range);
            assert_string_equal(e.engine_mass.source, "outboard weights");
        }
    }
    assert_int_equal(t.rows, 14);
    table_free(&t);
    free(p);
}

/* Mass, centre and inertia with things aboard: parallel axes, 1e-12. Grade: elementary mechanics. */
static void test_mass(void **state)
{
    (void)state;
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    five_metre_boat(p);
    p->mass = 900;
    p->mass_of = DD_MASS_READY_TO_GO;
    p->centre_from_transom = 2;
    p->centre_height = 0.5;
    p->roll_radius = 0.7;
    p->pitch_radius = 1.2;
    p->yaw_radius = 1.3;
    p->item_count = 3;
    p->items[0] = item_of("fuel", 60, 3, dd_vec(1, 0.2, 0.3));
    p->items[1] = item_of("ice box", 40, 3, dd_vec(3, -0.5, 0.6));
    p->items[2] = item_of("gear", 100, 0, dd_vec(0, 0, 0));
    dd_hull *hull = create(p);
    const dd_mass_properties *m = dd_hull_mass(hull);
    const double cx = (1000 * 2 + 60 * 1 + 40 * 3) / 1100.0, cy = (60 * 0.2 - 40 * 0.5) / 1100, cz = (1000 * 0.5 + 60 * 0.3 + 40 * 0.6) / 1100;
    CHECK_NEAR(m->mass, 1100, 1e-10, "mass");
    CHECK_NEAR(m->centre.x, cx, 1e-13, "centre");
    CHECK_NEAR(m->centre.y, cy, 1e-13, "centre");
    CHECK_NEAR(m->centre.z, cz, 1e-13, "centre");
    /* About the origin first, then carried back to the centre: another way than the code's. */
    const double at[4][4] = {{900, 2, 0, 0.5}, {60, 1, 0.2, 0.3}, {40, 3, -0.5, 0.6}, {100, 2, 0, 0.5}};
    double xx = 0, yy = 0, zz = 0, xy = 0, xz = 0, yz = 0;
    for (int i = 0; i < 4; i++) {
        xx += at[i][0] * at[i][1] * at[i][1];
        yy += at[i][0] * at[i][2] * at[i][2];
        zz += at[i][0] * at[i][3] * at[i][3];
        xy += at[i][0] * at[i][1] * at[i][2];
        xz += at[i][0] * at[i][1] * at[i][3];
        yz += at[i][0] * at[i][2] * at[i][3];
    }
    xx -= 1100 * cx * cx, yy -= 1100 * cy * cy, zz -= 1100 * cz * cz, xy -= 1100 * cx * cy, xz -= 1100 * cx * cz, yz -= 1100 * cy * cz;
    const double expected[3][3] = {{900 * 0.49 + yy + zz, -xy, -xz}, {-xy, 900 * 1.44 + xx + zz, -yz}, {-xz, -yz, 900 * 1.69 + xx + yy}};
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            CHECK_NEAR(m->inertia[i][j], expected[i][j], 1e-9, "inertia"); /* 1e-12 of 1e3 */
    dd_hull_free(hull);
    free(p);
}

/* Water aboard a box: amidships it sinks it by mass / (rho Awp); aft it trims it by m a / (Delta GM_L) besides. Closed form: the
   first to 1e-9 m, the angle to 1 % (the box's own trim is small, 0.02 rad). By default it lies at 0.15 of the length, 2/3 up its
   depth in the V: formula, 1e-12 m. */
static void test_water_aboard(void **state)
{
    (void)state;
    const double density = 1025, g = 9.80665, length = 6, breadth = 2, wet = 300;
    dd_hull_parameters *p = calloc(1, sizeof *p);
    dd_floating dry, full;
    dd_error error = {0};
    assert_non_null(p);
    for (int aft = 0; aft < 2; aft++) {
        dd_floating *each[2] = {&dry, &full};
        double metacentric = 0;
        for (int i = 0; i < 2; i++) {
            dd_hull_defaults(p);
            p->lines = DD_LINES_STRAIGHT;
            set_mass(p, 1500, dd_vec(length / 2, 0, 0.4));
            p->station_count = 2;
            for (int s = 0; s < 2; s++)
                p->stations[s] = (dd_station){.at = s * length, .chine_half_breadth = breadth / 2, .sheer_half_breadth = breadth / 2,
                                              .sheer_height = 1};
            if (i == 1) p->water_aboard = (dd_water_aboard){wet, aft ? 1 : length / 2, 0.1};
            dd_hull *hull = create(p);
            CHECK_NEAR(dd_hull_mass(hull)->mass, 1500 + i * wet, 1e-9, "mass");
            if (dd_hull_float(hull, density, g, 0, 0, each[i], &error) != DD_OK) fail_msg("%s", error.message);
            metacentric = each[i]->metacentric_height_longitudinal;
            dd_hull_free(hull);
        }
        CHECK_NEAR(full.hydrostatics.volume - dry.hydrostatics.volume, wet / density, 1e-9, "volume");
        if (!aft) CHECK_NEAR(full.waterplane.level - dry.waterplane.level, wet / (density * length * breadth), 1e-9, "immersion");
        if (aft) {
            const double trim = -atan(wet * (length / 2 - 1) / ((1500 + wet) * metacentric));
            print_message("300 kg 2 m aft: trim %.5f rad, closed form %.5f rad\n", full.trim, trim);
            CHECK_NEAR(full.trim, trim, 0.01 * fabs(trim), "trim");
        }
    }
    five_metre_boat(p);
    p->water_aboard.mass = wet;
    dd_item all[DD_ABOARD + 1];
    const int count = dd_hull_aboard(p, all);
    assert_int_equal(count, p->item_count + 1);
    const double l = dd_brochure_length(p), depth = sqrt(wet / 1000 * tan(p->transom_deadrise) / (0.3 * l));
    CHECK_NEAR(all[count - 1].at[0], 0.15 * l, 1e-12, "place");
    CHECK_NEAR(all[count - 1].at[2], 2 * depth / 3, 1e-12, "height");
    free(p);
}

/* A pod counted in an overall length is taken off; stations need no brochure figures. */
static void test_lengths(void **state)
{
    (void)state;
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    five_metre_boat(p);
    p->length = 5.6;
    p->length_of = DD_LENGTH_OVERALL;
    p->platform_length = 0.6;
    dd_hull *hull = create(p);
    CHECK_NEAR(dd_hull_length(hull), 5, 1e-12, "length");
    dd_hull_free(hull);
    synthetic_chine_parameters(p);
    p->mass = 1200;
    p->mass_of = DD_MASS_READY_TO_GO;
    p->engine_power = 60e3;
    p->length = 5.6;
    p->length_of = DD_LENGTH_OF_HULL;
    p->beam = 2.2;
    hull = create(p);
    const dd_hull_estimates *e = dd_hull_figures(hull);
    check_estimates(e);
    CHECK_NEAR(e->chine_beam.likely, 1.9, 1e-12, "chine beam");
    CHECK_NEAR(e->keel_rise.likely, 0.64, 1e-12, "keel rise");
    CHECK_NEAR(e->roll_radius.likely, 0.35 * 2.16, 1e-12, "roll radius");
    CHECK_NEAR(e->centre_from_transom.likely, 0.4 * 5.5, 1e-12, "centre");
    assert_true(dd_hull_bow_eye(hull).x > 5 && dd_hull_bow_eye(hull).x <= 5.5);
    dd_hull_free(hull);
    free(p);
}

typedef void (*spoil)(dd_hull_parameters *p);
static void no_cookie(dd_hull_parameters *p) { p->cookie = 0; }
static void no_mass(dd_hull_parameters *p) { p->mass = NAN; }
static void no_mass_of(dd_hull_parameters *p) { p->mass_of = -1; }
static void no_power(dd_hull_parameters *p) { p->engine_power = NAN; }
static void no_length(dd_hull_parameters *p) { p->length = NAN; }
static void no_length_of(dd_hull_parameters *p) { p->length_of = -1; }
static void no_beam(dd_hull_parameters *p) { p->beam = NAN; }
static void no_deadrise(dd_hull_parameters *p) { p->transom_deadrise = NAN; }
static void negative_mass(dd_hull_parameters *p) { p->mass = -1; }
static void endless_beam(dd_hull_parameters *p) { p->beam = INFINITY; }
static void broad_chine(dd_hull_parameters *p) { p->chine_beam = 2.2; }
static void steep_deadrise(dd_hull_parameters *p) { p->transom_deadrise = 95 * DEGREE; }
static void high_keel(dd_hull_parameters *p) { p->keel_rise = 1.2, p->bow_sheer_height = 1.1; }
static void higher_keel_than_estimate(dd_hull_parameters *p) { p->keel_rise = 1.9; }
static void low_transom(dd_hull_parameters *p) { p->transom_sheer_height = 0.1; }
static void low_midships(dd_hull_parameters *p) { p->midships_sheer_height = 0.2; }
static void eye_ahead(dd_hull_parameters *p) { p->bow_eye_from_transom = 5.4; }
static void centre_astern(dd_hull_parameters *p) { p->centre_from_transom = -0.2; }
static void platform_of_hull(dd_hull_parameters *p) { p->platform_length = 0.5; }
static void long_platform(dd_hull_parameters *p) { p->length_of = DD_LENGTH_OVERALL, p->platform_length = 4; }
static void two_lengths(dd_hull_parameters *p) { p->item_count = 1, p->items[0] = item_of("fuel", 60, 2, dd_vec(1, 0, 0)); }
static void item_without_mass(dd_hull_parameters *p) { p->item_count = 1, p->items[0] = item_of("fuel", NAN, 0, dd_vec(0, 0, 0)); }
static void one_station(dd_hull_parameters *p) { p->station_count = 1, p->stations[0] = (dd_station){.sheer_height = 1, .sheer_half_breadth = 1}; }
static void three_choices(dd_hull_parameters *p) { p->lines = 2; }

static void test_refused_brochures(void **state)
{
    (void)state;
    const struct {
        spoil change;
        dd_status status;
        const char *place, *message;
    } cases[] = {
        {no_cookie, DD_ERROR_ARGUMENT, "dd_hull_create", "dd_hull_defaults"},
        {no_mass, DD_ERROR_UNSET, "mass", "not set"},
        {no_mass_of, DD_ERROR_UNSET, "mass of", "not set"},
        {no_power, DD_ERROR_UNSET, "engine power", "not set"},
        {no_length, DD_ERROR_UNSET, "length", "not given"},
        {no_length_of, DD_ERROR_UNSET, "length of", "not given"},
        {no_beam, DD_ERROR_UNSET, "beam", "not given"},
        {no_deadrise, DD_ERROR_UNSET, "transom deadrise", "not given"},
        {negative_mass, DD_ERROR_ARGUMENT, "mass", "found -1"},
        {endless_beam, DD_ERROR_ARGUMENT, "beam", "inf"},
        {broad_chine, DD_ERROR_ARGUMENT, "chine beam", "at most the beam of 2.1 m"},
        {steep_deadrise, DD_ERROR_ARGUMENT, "transom deadrise", "found"},
        {high_keel, DD_ERROR_ARGUMENT, "keel rise", "below the bow sheer height"},
        {higher_keel_than_estimate, DD_ERROR_ARGUMENT, "bow sheer height", "above the end of the keel line"},
        {low_transom, DD_ERROR_ARGUMENT, "transom sheer height", "above the chine"},
        {low_midships, DD_ERROR_ARGUMENT, "midships sheer height", "above the chine"},
        {eye_ahead, DD_ERROR_ARGUMENT, "bow eye from transom", "within the hull, 0 to 5 m"},
        {centre_astern, DD_ERROR_ARGUMENT, "centre from transom", "within the hull"},
        {platform_of_hull, DD_ERROR_ARGUMENT, "platform length", "overall length only"},
        {long_platform, DD_ERROR_ARGUMENT, "platform length", "less than half"},
        {two_lengths, DD_ERROR_ARGUMENT, "items", "expected 3"},
        {item_without_mass, DD_ERROR_ARGUMENT, "items", "item 1 (fuel): no mass given"},
        {one_station, DD_ERROR_ARGUMENT, "stations", "at least 2"},
        {three_choices, DD_ERROR_ARGUMENT, "lines", "found 2"},
    };
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        dd_error error = {0};
        dd_hull *hull = (dd_hull *)1;
        five_metre_boat(p);
        cases[i].change(p);
        if (dd_hull_create(p, &hull, &error) != cases[i].status || !strstr(error.place, cases[i].place) ||
            !strstr(error.message, cases[i].message))
            fail_msg("case %d (%s): status %d, %s: %s", (int)i, cases[i].place, (int)error.status, error.place, error.message);
        assert_null(hull);
        assert_int_equal(dd_hull_create(p, &hull, NULL), cases[i].status);
    }
    free(p);
}

static void order(dd_hull_parameters *p) { p->stations[3].at = 1.5; }
static void unset_chine(dd_hull_parameters *p) { p->stations[2].chine_height = NAN; }
static void odd_strakes(dd_hull_parameters *p) { p->stations[2].strake_half_breadth_count = p->stations[2].strake_height_count = 1; }
static void half_strake(dd_hull_parameters *p) { p->stations[0].strake_half_breadth_count = 1; }
static void chine_above_sheer(dd_hull_parameters *p) { p->stations[1].chine_height = 1.0; }
static void negative_breadth(dd_hull_parameters *p) { p->stations[1].chine_half_breadth = -0.1; }
static void form_twice(dd_hull_parameters *p) { p->keel_rise = 0.5; }
static void wrong_length(dd_hull_parameters *p) { p->length = 7, p->length_of = DD_LENGTH_OF_HULL; }
static void wrong_beam(dd_hull_parameters *p) { p->beam = 1.1; }
static void wrong_deadrise(dd_hull_parameters *p) { p->transom_deadrise = 30 * DEGREE; }
static void flat_hull(dd_hull_parameters *p)
{
    for (int i = 0; i < p->station_count; i++)
        p->stations[i].chine_half_breadth = p->stations[i].sheer_half_breadth = 0;
}
static void crossing(dd_hull_parameters *p)
{
    for (int i = 0; i < p->station_count; i++) { /* the strake lies beyond the side */
        dd_station *s = &p->stations[i];
        s->strake_half_breadth_count = s->strake_height_count = 2;
        s->strake_half_breadth[0] = 0.9, s->strake_height[0] = 0.5;
        s->strake_half_breadth[1] = 0.1, s->strake_height[1] = 0.5;
        s->chine_half_breadth = 0.5, s->chine_height = 0.1;
    }
}
static void swinging(dd_hull_parameters *p) { p->stations[6].chine_half_breadth = 0, p->stations[5].chine_half_breadth = 0.9; }

static void test_refused_stations(void **state)
{
    (void)state;
    const struct {
        spoil change;
        dd_status status;
        const char *message;
    } cases[] = {
        {order, DD_ERROR_ARGUMENT, "station 4 at 1.5 m"},
        {unset_chine, DD_ERROR_UNSET, "chine"},
        {odd_strakes, DD_ERROR_ARGUMENT, "station 3 has 1 strakes"},
        {half_strake, DD_ERROR_ARGUMENT, "1 strake half breadths but 0 strake heights"},
        {chine_above_sheer, DD_ERROR_ARGUMENT, "station 2"},
        {negative_breadth, DD_ERROR_ARGUMENT, "found -0.1"},
        {form_twice, DD_ERROR_ARGUMENT, "one of the two"},
        {wrong_length, DD_ERROR_ARGUMENT, "span 5.5 m"},
        {wrong_beam, DD_ERROR_ARGUMENT, "2.16 m broad"},
        {wrong_deadrise, DD_ERROR_ARGUMENT, "14.9"},
        {flat_hull, DD_ERROR_ARGUMENT, "without breadth"},
        {crossing, DD_ERROR_ARGUMENT, "crosses itself"},
        {swinging, DD_ERROR_ARGUMENT, "swings to a half-breadth"},
    };
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        dd_error error = {0};
        dd_hull *hull = (dd_hull *)1;
        synthetic_chine_parameters(p);
        set_mass(p, 1200, (dd_vec3){2, 0, 0.6});
        cases[i].change(p);
        if (dd_hull_create(p, &hull, &error) != cases[i].status || !strstr(error.message, cases[i].message))
            fail_msg("case %d (%s): status %d, %s: %s", (int)i, cases[i].message, (int)error.status, error.place, error.message);
        assert_null(hull);
    }
    dd_hull_free(NULL);
    free(p);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_random_boats), cmocka_unit_test(test_form),    cmocka_unit_test(test_engines),
        cmocka_unit_test(test_mass),         cmocka_unit_test(test_lengths), cmocka_unit_test(test_refused_brochures),
        cmocka_unit_test(test_water_aboard), cmocka_unit_test(test_refused_stations),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
