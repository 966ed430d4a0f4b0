/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `settle` against docking: a hull whose keel comes to rest on a support as the water falls.

   Depths are those of the keel itself over its support, so that nothing is left of what the support yields; forces are compared
   to the weight, angles to the free trim. Hulls are wet over their whole length: the strips' rule is then exact. */
#include "tests/unit/study/ways.h"

enum { PLANE = DD_FREE_RIG | DD_FREE_HULL_SINKAGE | DD_FREE_HULL_TRIM, UPRIGHT = DD_FREE_RIG | DD_FREE_HULL_UPRIGHT };
static const double tolerance = 1e-6; /* closed forms, printed to ten digits */

static double K_about_keel(const ways *w)
{
    double K[DD_COORDINATES][DD_COORDINATES];
    dd_stiffness(w->m.workspace, K);
    return K[DD_HULL_COORDINATE + 3][DD_HULL_COORDINATE + 3];
}

static void fall(ways *w, double depth)
{
    dd_error error;
    if (ways_fall(w, depth, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
}

static double expected_of(const table *t, const char *name, const char *inputs, const char *quantity)
{
    for (int i = 1; i <= t->rows; i++)
        if (strcmp(table_text(t, i, t->cells[0]), name) == 0 &&
            strncmp(table_text(t, i, "inputs"), inputs, strlen(inputs)) == 0 &&
            strncmp(table_text(t, i, "quantity"), quantity, strlen(quantity)) == 0)
            return table_number(t, i, "expected");
    fail_msg("%s: no %s", name, quantity);
    return NAN;
}

static ways_spec box_spec(const char *inputs, int coordinates, double yielding)
{
    ways_spec spec = {.length = value_in(inputs, "L"),
                      .density = value_in(inputs, "rho"),
                      .pivot = NAN,
                      .rear = 0,
                      .free = coordinates,
                      .side_friction = 0.5};
    spec.yielding = yielding * spec.length;
    spec.hull = box(0, spec.length, value_in(inputs, "B"), value_in(inputs, "L"), value_in(inputs, "m"),
                    dd_vec(value_in(inputs, "xG"), 0, value_in(inputs, "zG")));
    return spec;
}

/* Depth of the stern at which the keel comes level. */
static double comes_level(ways *w, double touch)
{
    double low = 0.5 * touch, high = touch;
    for (int i = 0; i < 60; i++) {
        fall(w, 0.5 * (low + high));
        *(ways_angle(w) > 0 ? &high : &low) = 0.5 * (low + high);
    }
    return 0.5 * (low + high);
}

static void box_on_its_stern(const char *name, int coordinates)
{
    table t = table_read("docking_exact.csv");
    int row = 1;
    while (strcmp(table_text(&t, row, "case"), name) != 0) row++;
    ways_spec spec = box_spec(table_text(&t, row, "inputs"), coordinates, 2e-6);
    ways w;
    ways_dock(&w, &spec, 20);
    const double touch = expected_of(&t, name, "", "vertical depth of stern heel"),
                 trim = expected_of(&t, name, "L=", "free trim angle") * DEGREE;
    ways_float(&w);
    CHECK_NEAR(ways_angle(&w), trim, tolerance * trim, name);
    CHECK_NEAR(ways_depth(&w), touch, tolerance * touch, name);
    CHECK_NEAR(ways_load(&w, 0), 0, 0, name);
    double worst = 0;
    for (int i = 1; i <= t.rows; i++) {
        double drop = NAN;
        if (strcmp(table_text(&t, i, "case"), name) != 0 || sscanf(table_text(&t, i, "inputs"), "water falls %lf", &drop) != 1)
            continue;
        fall(&w, touch - drop);
        double value = w.weight - ways_buoyancy(&w), scale = w.weight, expected = table_number(&t, i, "expected");
        if (strstr(table_text(&t, i, "quantity"), "linear")) continue; /* the textbook's formula, not the hull's state */
        if (strstr(table_text(&t, i, "quantity"), "angle"))
            value = ways_angle(&w), expected *= DEGREE, scale = trim;
        else
            CHECK_NEAR(ways_load(&w, 0), value * cos(ways_angle(&w)), 1e-9 * w.weight, name); /* closed form */
        CHECK_NEAR(value, expected, tolerance * scale, table_text(&t, i, "quantity"));
        worst = fmax(worst, fabs(value - expected) / scale);
    }
    double level = comes_level(&w, touch), load = w.weight - ways_buoyancy(&w);
    CHECK_NEAR(level, expected_of(&t, name, "level", "draught when"), tolerance * level, name);
    CHECK_NEAR(load, expected_of(&t, name, "level", "P at critical"), tolerance * w.weight, name);
    CHECK_NEAR(K_about_keel(&w) / w.weight, expected_of(&t, name, "level", "virtual GM"), tolerance, name);
    print_message("%s: %.1e\n", name, worst);
    ways_free(&w);
    table_free(&t);
}

static void boxes(void **state)
{
    (void)state;
    box_on_its_stern("DKB1", UPRIGHT);
    box_on_its_stern("DKB2", UPRIGHT);
    box_on_its_stern("DKB3", PLANE); /* top-heavy: she would not stay upright */
}

/* DKB3 is unstable upright at any draught she floats or sits at: settle says so, and does not follow her. */
static void top_heavy(void **state)
{
    (void)state;
    table t = table_read("docking_exact.csv");
    int row = 1;
    while (strcmp(table_text(&t, row, "case"), "DKB3") != 0) row++;
    ways_spec spec = box_spec(table_text(&t, row, "inputs"), UPRIGHT, 2e-6);
    const double height = value_in(table_text(&t, row, "inputs"), "zG");
    ways w;
    dd_error error;
    ways_dock(&w, &spec, 20);
    assert_int_equal(ways_fall(&w, 1.4, &error), DD_ERROR_NO_EQUILIBRIUM);
    assert_non_null(strstr(error.message, "falls"));
    /* Held at the draught sqrt(2 T0 KG - B^2 / 6), where F KM = W KG, there is no moment either way (closed form). */
    double draught = expected_of(&t, "DKB3", "level blocks, keel line", "draught at which"), y[DD_STATE_MEMORY + 16] = {0};
    const dd_motion rest = {{0}, {0}};
    w.settle.at.pose = dd_study_rig_pose(&w.m, 0);
    w.settle.at.pose.position = dd_vec(spec.length + 1, 0, 5); /* clear of the roller */
    dd_kinematics k;
    dd_kinematics_of(&w.m.model, 0, &w.settle.at.pose, &rest, &k);
    w.m.system->model.water.level += draught - k.waterplane.level;
    dd_system_pack(w.m.system, &w.settle.at.pose, &rest, w.settle.memory, y);
    assert_int_equal(dd_system_evaluate(w.m.workspace, 0, y, DD_WANT_GRADIENT | DD_WANT_CHANNELS), 0);
    CHECK_NEAR(K_about_keel(&w), 0, tolerance * w.weight * height, "stiffness at the draught where it vanishes");
    ways_free(&w);
    table_free(&t);
}

/* What the program reports as roll stiffness holds the keel sideways by its rollers' grip. The reaction stays upright on a level
   axle as the hull heels, so that nothing pushes sideways and the grip does not give: it is that about the keel. Closed form; the
   grip acts at the roller's top, `squash` inside the keel, which is worth twice the load's moment. */
static void check_reported(const ways *w, double load)
{
    const double squash = -ways_gap(w, 0);
    assert_true(squash > 5e-5 && load > 0); /* enough for the bristles to be held */
    CHECK_NEAR(dd_roll_stiffness(w->m.workspace), K_about_keel(w), 2.1 * load * squash, "roll stiffness reported");
    assert_true(2.1 * load * squash < 3e-4 * w->weight);
}

static void reported(void **state)
{
    (void)state;
    table t = table_read("docking_exact.csv");
    for (int n = 0; n < 2; n++) {
        const char *name = n == 0 ? "DKB1" : "DKB2";
        int row = 1;
        while (strcmp(table_text(&t, row, "case"), name) != 0) row++;
        ways_spec spec = box_spec(table_text(&t, row, "inputs"), UPRIGHT, 1e-4);
        ways w;
        ways_dock(&w, &spec, 20);
        comes_level(&w, expected_of(&t, name, "", "vertical depth of stern heel"));
        check_reported(&w, w.weight - ways_buoyancy(&w));
        CHECK_NEAR(dd_roll_stiffness(w.m.workspace) / w.weight, expected_of(&t, name, "level", "virtual GM"), 1e-3,
                   name); /* closed form, less the grip's yielding */
        ways_free(&w);
    }
    table_free(&t);
}

/* A V on its keel line: the water falls until she cannot stand. Returns the draught at which K about the keel vanishes. */
static double stands_until(const table *t, const char *inputs, double yielding, double *load)
{
    const double l = value_in(inputs, "L"), afloat = expected_of(t, "DKV1", "V prism", "free draught");
    ways_spec spec = {.length = l,
                      .density = value_in(inputs, "rho"),
                      .pivot = 0.8 * l,
                      .rear = 0.2 * l,
                      .yielding = yielding * l,
                      .free = PLANE,
                      .side_friction = 0.5};
    spec.hull =
        v_prism(l, value_in(inputs, "deadrise") * DEGREE, value_in(inputs, "m"), dd_vec(0.5 * l, 0, value_in(inputs, "KG")));
    ways w;
    ways_dock(&w, &spec, 20);
    ways_float(&w);
    CHECK_NEAR(ways_depth(&w), afloat, tolerance * afloat, "DKV1");
    double low = 0.5 * afloat, high = 0.999 * afloat;
    for (int i = 0; i < 50; i++) {
        fall(&w, 0.5 * (low + high));
        *(K_about_keel(&w) > 0 ? &high : &low) = 0.5 * (low + high);
    }
    *load = w.weight - ways_buoyancy(&w);
    CHECK_NEAR(ways_load(&w, 0) + ways_load(&w, 1), *load, 1e-9 * w.weight, "DKV1");
    if (-ways_gap(&w, 0) > 5e-5) check_reported(&w, *load);
    /* The same way down with heel free: settle follows to there and no further. */
    dd_error error;
    w.settle.free = UPRIGHT;
    w.settle.stays_upright = true; /* beyond it lies at a heel, which is no part of the closed form */
    assert_int_equal(ways_fall(&w, high * 1.001, &error), DD_OK); /* the search for the level goes by less */
    assert_int_equal(ways_fall(&w, high * (1 - 1e-5), &error), DD_ERROR_NO_EQUILIBRIUM);
    assert_non_null(strstr(error.message, "falls"));
    ways_free(&w);
    return high;
}

static void v_prism_on_its_keel(void **state)
{
    (void)state;
    table t = table_read("docking_exact.csv");
    int row = 1;
    while (strcmp(table_text(&t, row, "case"), "DKV1") != 0) row++;
    const char *inputs = table_text(&t, row, "inputs");
    double load[3], lost[3];
    for (int i = 0; i < 3; i++) lost[i] = stands_until(&t, inputs, i == 0 ? 1e-4 : i == 1 ? 1e-5 : 5e-6, &load[i]);
    const double expected = expected_of(&t, "DKV1", "keel-line", "draught at which"),
                 expected_load = expected_of(&t, "DKV1", "keel-line", "support load"),
                 weight = value_in(inputs, "m") * DD_STANDARD_GRAVITY;
    CHECK_NEAR(lost[1], expected, 1e-4 * expected, "one stiffness");
    CHECK_NEAR(load[1], expected_load, 1e-4 * weight, "one stiffness");
    CHECK_NEAR(2 * lost[2] - lost[1], expected, tolerance * expected, "extrapolated");
    CHECK_NEAR(2 * load[2] - load[1], expected_load, tolerance * weight, "extrapolated");
    print_message("DKV1: %.1e at one stiffness, %.1e extrapolated\n", fabs(lost[1] / expected - 1),
                  fabs((2 * lost[2] - lost[1]) / expected - 1));
    table_free(&t);
}

/* Published ships as boxes of the same weight, KG, moment to change trim and (where given) immersion, G so far off that the free
   trim is a hundredth of the published one: the textbooks' formulas are the first-order answer. Published, 0.05 t. */
typedef struct ship {
    const char *id, *quantity;
    double weight, length, KG, MCTC, TPC, lever, trim; /* t, m, m, t.m/cm, t/cm (NaN: not given), m, cm */
} ship;

static ways_spec ship_box(const ship *s, double off)
{
    const double volume = s->weight / 1.025, GM = s->MCTC * 100 * s->length / s->weight;
    double draught = 0.05 * s->length, area = s->TPC * 100 / 1.025, l = s->length;
    if (isnan(s->TPC)) /* as long as the ship: L^2 / (12 T) + T / 2 - KG = GM, the lesser T */
        for (int i = 0; i < 100; i++) draught = l * l / (12 * (GM + s->KG - 0.5 * draught));
    else {
        draught = volume / area;
        l = sqrt(12 * draught * (GM + s->KG - 0.5 * draught));
    }
    ways_spec spec = {
        .length = l, .density = 1025, .pivot = NAN, .rear = 0.5 * l - s->lever, .yielding = 1e-5 * l, .free = PLANE};
    const double half = 0.5 * volume / draught / l, y[3] = {0, half, half}, z[3] = {0, 0, 3 * draught};
    spec.hull = ways_prism(l, 1, 3, y, z, 1000 * s->weight, dd_vec(0.5 * l - off, 0, s->KG));
    return spec;
}

static double published(const ship *s)
{
    table t = table_read("docking_published.csv");
    double value = NAN;
    for (int i = 1; i <= t.rows; i++)
        if (strcmp(table_text(&t, i, "id"), s->id) == 0 &&
            strncmp(table_text(&t, i, "quantity"), s->quantity, strlen(s->quantity)) == 0)
            value = table_number(&t, i, "published");
    table_free(&t);
    return value;
}

static void ships(void **state)
{
    (void)state;
    /* inputs as docking_published.csv gives them; DOCK5 by the head, looked at from the other end */
    const ship fleet[] = {{"DOCK1", "max P (method P.KM/W)", 3000, 100, 5.5, 40, NAN, 48, 120},
                          {"DOCK1", "max P (method P.KG/(W-P))", 3000, 100, 5.5, 40, NAN, 48, 126.3157895},
                          {"DOCK3", "P", 3000, 84, 4.05, 80, 12, 40, 50},
                          {"DOCK4", "P", 8487, 140, 8.6, 161, NAN, 72.1, 280},
                          {"DOCK5", "P", 19500, 165, 8.9, 290, 21.3, 165 - 76 - 15, 360}};
    for (size_t i = 0; i < sizeof fleet / sizeof fleet[0]; i++) {
        const ship *s = &fleet[i];
        const double share = 0.01, trim = share * s->trim / 100 / s->length;
        double off = s->MCTC * share * s->trim / s->weight, load = NAN;
        for (int pass = 0; pass < 3; pass++) { /* G to where the free trim is as wanted */
            ways w;
            ways_spec spec = ship_box(s, off);
            ways_dock(&w, &spec, 20);
            ways_float(&w);
            const double found = ways_angle(&w), touch = ways_depth(&w);
            comes_level(&w, touch);
            load = (w.weight - ways_buoyancy(&w)) / DD_STANDARD_GRAVITY / 1000 / share;
            off *= trim / found;
            ways_free(&w);
        }
        CHECK_NEAR(load, published(s), 0.05, s->id);
        print_message("%s: %.3f t, published %.3f\n", s->id, load, published(s));
    }
    /* DOCK6: stern held, the water falls 1 m: here 10 mm. DOCK2: she sits level and the water falls 0.24 m. */
    const ship held = {"DOCK6", "P (stern", 9013, 145, 8.0, 162.7, 21.89, 72.013, 0};
    ways w;
    ways_spec spec = ship_box(&held, 0);
    ways_dock(&w, &spec, 20);
    ways_float(&w);
    fall(&w, ways_depth(&w) - 0.01);
    double load = 100 * (w.weight - ways_buoyancy(&w)) / DD_STANDARD_GRAVITY / 1000;
    CHECK_NEAR(load, published(&held), 0.05, "DOCK6");
    print_message("DOCK6: %.3f t, published %.3f\n", load, published(&held));
    ways_free(&w);
    const ship sitting = {"DOCK2", "P", 5000, 100, 5.5, 400, 50, 0, 0};
    spec = ship_box(&sitting, 0);
    ways_dock(&w, &spec, 20);
    ways_float(&w);
    fall(&w, ways_depth(&w) - 0.24);
    load = (w.weight - ways_buoyancy(&w)) / DD_STANDARD_GRAVITY / 1000;
    CHECK_NEAR(load, published(&sitting), 0.05, "DOCK2");
    ways_free(&w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(boxes), cmocka_unit_test(top_heavy),
                                       cmocka_unit_test(v_prism_on_its_keel), cmocka_unit_test(ships),
                                       cmocka_unit_test(reported)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
