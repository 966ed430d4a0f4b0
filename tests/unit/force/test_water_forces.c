/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The water's forces against published and computed figures: transverse current, friction line, natural periods, wave
   damping. */
#include "lib/force/section.h"
#include "tests/unit/force/whole.h"

/* A force on a hull alone with coefficients of the test's own. */
static void *prepare(const dd_force_kind *kind, const dd_model *model, const void *parameters)
{
    void *instance = NULL;
    dd_error error;
    if (kind->prepare(model, parameters, &instance, &error) != DD_OK)
        fail_msg("%s: %s", error.place, error.message);
    assert_non_null(instance);
    return instance;
}

/* Upright hull with its keel `draught` deep in still water of that depth under its origin. */
static dd_kinematics afloat(const dd_model *model, double draught, double water_depth, const double twist[6])
{
    dd_pose pose = {.attitude = {1, 0, 0, 0}, .position = {0, 0, model->water.level - draught}};
    dd_motion motion = {{0}, {0}};
    dd_kinematics k;
    memcpy(motion.twist, twist, sizeof motion.twist);
    dd_kinematics_of(model, 0, &pose, &motion, &k);
    k.water_depth = water_depth;
    return k;
}

static const dd_load none = {{0}, {0}, 0, 0};

/* Table 4-6 of UFC 4-159-03: force of a 1.5 m/s transverse current at five depths, 0.005 MN (grade published). Our hull is a
   box of other size: forces go as rho/2 V^2 L T, so its force is scaled by the published ship's q over its own. */
static void cross_flow_meets_the_published_depths(void **state)
{
    (void)state;
    const double ratio[5] = {0.096, 0.288, 0.576, 0.72, 0.96}, published[5] = {0.55, 0.66, 1.03, 1.30, 1.90};
    table t = table_read("misc_checks.csv");
    double q = 0, deep = 0, expected[5] = {0};
    for (int row = 1, next = 0; row <= t.rows; row++) {
        const char *what = table_text(&t, row, "quantity");
        if (strncmp(what, "fitted q", 8) == 0)
            q = table_number(&t, row, "expected");
        if (strncmp(what, "fitted deep", 11) == 0)
            deep = table_number(&t, row, "expected");
        if (strncmp(what, "force at T/d", 12) == 0)
            expected[next++] = table_number(&t, row, "expected");
    }
    table_free(&t);
    whole w;
    const double length = 6, draught = 0.3, speed = 1.5;
    whole_create(&w, box(0, length, 2.4, 1, 4400, dd_vec(3, 0, 0.5)), 0, 0);
    void *force = prepare(&dd_force_cross_flow, &w.model, (double[]){deep, 3.2});
    for (int i = 0; i < 5; i++) {
        dd_load load = none;
        dd_kinematics k = afloat(&w.model, draught, draught / ratio[i], (double[6]){0, -speed, 0, 0, 0, 0});
        dd_force_cross_flow.evaluate(force, &k, NULL, NULL, &load, NULL, NULL);
        const double scaled = load.hull[1] / (0.5 * w.model.water.density * speed * speed * length * draught) * q;
        CHECK_NEAR(scaled, published[i], 0.005, "published");
        CHECK_NEAR(scaled, expected[i], 1e-5, "formula"); /* digits of the row's q and C0 */
    }
    /* all but aground, aground and dry ground under the origin: bounded by C1, no step */
    double last = 0;
    for (double depth = 0.4; depth > -0.3; depth -= 0.001) {
        dd_load load = none;
        dd_kinematics k = afloat(&w.model, draught, depth, (double[6]){0, -speed, 0, 0, 0, 0});
        dd_force_cross_flow.evaluate(force, &k, NULL, NULL, &load, NULL, NULL);
        const double c = load.hull[1] / (0.5 * w.model.water.density * speed * speed * length * draught);
        assert_true(c <= 3.2 + 1e-12 && c >= last && (last == 0 || c - last < 0.03));
        last = c;
    }
    CHECK_NEAR(last, 3.2, 1e-12, "aground");
    dd_force_cross_flow.free(force);
    whole_free(&w);
}

/* Yaw alone: a box about its middle, integral of rho/2 C T (r x)^2 |x| dx = rho/2 C T r^2 L^4/32. Gauss strips meet the
   kink at the middle between bays: 1e-3. Closed form. */
static void cross_flow_resists_yaw(void **state)
{
    (void)state;
    whole w;
    const double length = 6, rate = 0.4, draught = 0.3;
    whole_create(&w, box(-3, 3, 2.4, 1, 4400, dd_vec(0, 0, 0.5)), 0, 0);
    void *force = prepare(&dd_force_cross_flow, &w.model, (double[]){0.9, 0.9});
    dd_load load = none;
    dd_kinematics k = afloat(&w.model, draught, INFINITY, (double[6]){0, 0, 0, 0, 0, rate});
    dd_force_cross_flow.evaluate(force, &k, NULL, NULL, &load, NULL, NULL);
    const double expected = -0.5 * w.model.water.density * 0.9 * draught * rate * rate * pow(length, 4) / 32;
    CHECK_NEAR(load.hull[5], expected, 1e-3 * fabs(expected), "yaw");
    CHECK_NEAR(load.hull[1], 0, 1e-9, "sway");
    dd_force_cross_flow.free(force);
    whole_free(&w);
}

/* Friction line: row DRAG3, Cf at V 1, L 5, nu 1.1386e-6 (grade formula), on the box's wetted surface (closed form). 2e-5:
   the rounding of the line at rest, (1e4/Re)^2. Form drag: 0.1 on breadth times draught, 1e-12. */
static void resistance_meets_the_friction_line(void **state)
{
    (void)state;
    table t = table_read("misc_checks.csv");
    double line = 0;
    for (int row = 1; row <= t.rows; row++)
        if (strcmp(table_text(&t, row, "id"), "DRAG3") == 0)
            line = table_number(&t, row, "expected");
    table_free(&t);
    whole w;
    whole_create(&w, box(0, 5, 2, 1, 2000, dd_vec(2.5, 0, 0.5)), 0, 0);
    w.model.water.viscosity = 1.1386e-6;
    const double draught = 0.3, surface = 5 * (2 + 2 * draught), pressure = 0.5 * w.model.water.density;
    for (int astern = 0; astern < 2; astern++) {
        void *friction = prepare(&dd_force_resistance, &w.model, (double[]){1, 0}), *form = prepare(&dd_force_resistance, &w.model, (double[]){0, 0.1});
        dd_kinematics k = afloat(&w.model, draught, INFINITY, (double[6]){astern ? -1 : 1, 0, 0, 0, 0, 0});
        dd_load load = none;
        dd_force_resistance.evaluate(friction, &k, NULL, NULL, &load, NULL, NULL);
        CHECK_NEAR(load.hull[0], (astern ? 1 : -1) * pressure * surface * line, 2e-5 * pressure * surface * line, "friction");
        load = none;
        dd_force_resistance.evaluate(form, &k, NULL, NULL, &load, NULL, NULL);
        CHECK_NEAR(load.hull[0], (astern ? 1 : -1) * pressure * 0.1 * 2 * draught, 1e-12 * pressure, "form");
        dd_force_resistance.free(friction);
        dd_force_resistance.free(form);
    }
    whole_free(&w);
}

typedef struct period_case {
    const char *name;
    double density, half_breadth, chine_height, sheer_half_breadth, length, mass, centre_height, roll_radius, draught;
} period_case;

static dd_hull *hull_of(const period_case *c)
{
    static dd_hull_parameters p;
    dd_hull_defaults(&p);
    p.mass = c->mass;
    p.mass_of = DD_MASS_READY_TO_GO;
    p.engine_power = 0;
    p.lines = DD_LINES_STRAIGHT;
    p.centre_from_transom = c->length / 2;
    p.centre_height = c->centre_height;
    p.roll_radius = c->roll_radius;
    p.station_count = 2;
    for (int i = 0; i < 2; i++)
        p.stations[i] = (dd_station){.at = i * c->length, .keel_height = 0, .chine_half_breadth = c->half_breadth, .chine_height = c->chine_height,
                                     .sheer_half_breadth = c->sheer_half_breadth, .sheer_height = 1.05};
    return create(&p);
}

static double row_of(const table *t, const char *name, const char *quantity)
{
    for (int row = 1; row <= t->rows; row++)
        if (strcmp(table_text(t, row, "case"), name) == 0 && strncmp(table_text(t, row, "quantity"), quantity, strlen(quantity)) == 0)
            return table_number(t, row, "expected");
    fail_msg("no row %s: %s", name, quantity);
    return NAN;
}

static void check_case(const period_case *c, const table *t)
{
    whole w;
    whole_create(&w, hull_of(c), 0, 0);
    w.model.water.density = c->density;
    dd_natural natural = dd_natural_frequencies(&w.model);
    const double heave = 2 * PI / natural.heave, roll = 2 * PI / natural.roll;
    const double heave_row = row_of(t, c->name, "heave natural period"), roll_row = row_of(t, c->name, "roll natural period");
    CHECK_NEAR(heave, heave_row, 0.01 * heave_row, c->name);
    CHECK_NEAR(roll, roll_row, 0.01 * roll_row, c->name);
    /* damping ratio = c / (2 w (m + a)): from the force's D and the added mass at the draught */
    dd_added_mass *added = NULL;
    dd_error error;
    assert_int_equal(dd_added_mass_create(&w.model, &added, &error), DD_OK);
    void *force = prepare(&dd_force_wave_damping, &w.model, (double[]){1, 0});
    dd_kinematics k = afloat(&w.model, c->draught, INFINITY, (double[6]){0});
    dd_added_mass_result mass;
    dd_added_mass_evaluate(added, &k, &mass);
    dd_load load = none;
    dd_gradient g;
    memset(&g, 0, sizeof g);
    dd_force_wave_damping.evaluate(force, &k, NULL, NULL, &load, &g, NULL);
    const double heave_ratio = g.D[2][2] / (2 * natural.heave * (c->mass + mass.A[2][2]));
    const double z = c->centre_height, about_centre = mass.A[3][3] + 2 * z * mass.A[1][3] + z * z * mass.A[1][1];
    const double inertia = c->mass * c->roll_radius * c->roll_radius;
    const double roll_ratio = g.D[3][3] / (2 * natural.roll * (inertia + about_centre));
    const double heave_ratio_row = row_of(t, c->name, "heave wave damping ratio"), roll_ratio_row = row_of(t, c->name, "roll wave damping ratio");
    CHECK_NEAR(mass.A[2][2] / c->mass, row_of(t, c->name, "heave added mass"), 0.02 * row_of(t, c->name, "heave added mass"), c->name);
    CHECK_NEAR(about_centre / inertia, row_of(t, c->name, "roll added inertia"), 0.03 * row_of(t, c->name, "roll added inertia"), c->name);
    CHECK_NEAR(heave_ratio, heave_ratio_row, 0.03 * heave_ratio_row, c->name);
    CHECK_NEAR(roll_ratio, roll_ratio_row, 0.03 * roll_ratio_row, c->name);
    print_message("%-14s heave %+.2f %%, its damping %+.2f %%; roll %+.2f %%, its damping %+.2f %%\n", c->name, 100 * (heave / heave_row - 1),
                  100 * (heave_ratio / heave_ratio_row - 1), 100 * (roll / roll_row - 1), 100 * (roll_ratio / roll_ratio_row - 1));
    dd_force_wave_damping.free(force);
    dd_added_mass_free(added);
    whole_free(&w);
}

/* Rows PER1 and PER2 (grade formula): periods 1 % (the design asks 2 %), heave added mass 2 %, damping ratios 3 %; roll
   added inertia 3 %, since its part from sway is that of slow sway, not of the roll's frequency. PER3, a cylinder, is no keel-chine-side section and is left out. */
static void natural_periods_meet_the_rows(void **state)
{
    (void)state;
    const period_case cases[] = {
        {"PER1 box", 1025, 1.2, 0, 1.2, 6, 4428, 0.7, 0.8, 0.3},
        {"PER2 chine T=0.35", 1000, 0.85, 0.25, 1.05, 5, 1925, 0.55, 0.7, 0.35},
        {"PER2 chine T=0.5", 1000, 0.85, 0.25, 1.05, 5, 3265.625, 0.6, 0.7, 0.5},
    };
    table t = table_read("natural_periods.csv");
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        check_case(&cases[i], &t);
    table_free(&t);
}

/* Eddies: rho/4 C b^4 |p| p over the length (closed form), 1e-4: the spline through knots 56 mm apart; and a hull in the air feels no water: exactly 0. */
static void eddies_damp_roll(void **state)
{
    (void)state;
    whole w;
    whole_create(&w, box(0, 6, 2.4, 1, 4400, dd_vec(3, 0, 0.5)), 0, 0);
    void *force = prepare(&dd_force_wave_damping, &w.model, (double[]){0, 1});
    dd_load load = none;
    dd_kinematics k = afloat(&w.model, 0.4, INFINITY, (double[6]){0, 0, 0, -0.3, 0, 0});
    dd_force_wave_damping.evaluate(force, &k, NULL, NULL, &load, NULL, NULL);
    const double expected = w.model.water.density / 4 * pow(1.2, 4) * 0.09 * 6;
    CHECK_NEAR(load.hull[3], expected, 1e-4 * expected, "eddies");
    k = afloat(&w.model, -0.1, INFINITY, (double[6]){1, 1, 1, 1, 1, 1});
    const dd_force_kind *const kinds[] = {&dd_force_buoyancy, &dd_force_wave_damping, &dd_force_cross_flow, &dd_force_resistance};
    for (int i = 0; i < 4; i++) {
        whole_force f = whole_prepare(kinds[i], &w.model, 0);
        dd_load dry = none;
        kinds[i]->evaluate(f.instance, &k, NULL, NULL, &dry, NULL, NULL);
        for (int j = 0; j < 6; j++)
            assert_true(dry.hull[j] == 0);
        whole_release(&f);
    }
    dd_force_wave_damping.free(force);
    whole_free(&w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cross_flow_meets_the_published_depths), cmocka_unit_test(cross_flow_resists_yaw),
        cmocka_unit_test(resistance_meets_the_friction_line),    cmocka_unit_test(natural_periods_meet_the_rows),
        cmocka_unit_test(eddies_damp_roll),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
