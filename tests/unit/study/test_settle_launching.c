/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `settle` against closed forms of end launching: a straight keel on ways, one pivot, the strap through it.

   One stiffness: 1e-4. Two stiffnesses, deflections halved, extrapolated to none: 1e-6. Loads are compared to the weight, lengths
   to the hull's, angles to the slope. Strips: 2048 in each hull; the edge of the water cuts the keel between two of them, and
   the usual 40 are in error by up to 1e-4 there (the last test says so). */
#include "tests/unit/study/ways.h"

enum { BAYS = 32, PER_BAY = 64 };

static const struct {
    const char *name;
    double y[3], z[3];
} prisms[] = {{"LCH1", {0, 1.2, 1.2}, {0, 0, 1.4}},
              {"LCH2", {0, 8, 8}, {0, 0, 10}},
              {"LCH3", {0, 8, 8}, {0, 0, 10}},
              {"LCH4", {0, 8, 8}, {0, 0, 10}},
              {"LCH5", {0, 0.85, 1.05}, {0, 0.25, 1.05}}};

static int row_of(const table *t, const char *name)
{
    for (int i = 1; i <= t->rows; i++)
        if (strcmp(table_text(t, i, "case"), name) == 0) return i;
    fail_msg("no case %s", name);
    return 0;
}

/* A new hull each time: ways_create takes it over. */
static ways_spec spec_of(const char *name, double yielding, int coordinates, double *over_end)
{
    table t = table_read("launch_cases.csv");
    int row = row_of(&t, name), shape = 0;
    while (strcmp(prisms[shape].name, name) != 0) shape++;
    ways_spec spec = {.length = table_number(&t, row, "keel_length_m"),
                      .density = table_number(&t, row, "rho"),
                      .slope = table_number(&t, row, "slope_deg") * DEGREE,
                      .pivot = table_number(&t, row, "x_poppet_m"),
                      .free = coordinates};
    spec.rear = 0.1 * spec.length;
    spec.yielding = yielding * spec.length;
    spec.hull = ways_prism(spec.length, BAYS, 3, prisms[shape].y, prisms[shape].z, table_number(&t, row, "mass_kg"),
                           dd_vec(table_number(&t, row, "x_G_from_stern_m"), 0, table_number(&t, row, "z_G_above_keel_m")));
    if (over_end) *over_end = table_number(&t, row, "water_over_way_end_m");
    table_free(&t);
    return spec;
}

/* One number of a case, found twice. */
typedef struct figure {
    char label[96];
    double expected, scale, found[2];
} figure;
typedef struct figures {
    figure of[320];
    int count, run;
} figures;

static void note(figures *f, int *at, const char *label, double expected, double scale, double found)
{
    figure *one = &f->of[(*at)++];
    assert_true(*at <= 320);
    if (f->run == 0)
        snprintf(one->label, sizeof one->label, "%s", label), one->expected = expected, one->scale = scale, f->count = *at;
    one->found[f->run] = found;
}

static void check(const figures *f)
{
    double coarse = 0, fine = 0;
    for (int i = 0; i < f->count; i++) {
        const figure *one = &f->of[i];
        CHECK_NEAR(one->found[1], one->expected, 1e-4 * one->scale, one->label); /* closed form */
        double extrapolated = 2 * one->found[1] - one->found[0];
        CHECK_NEAR(extrapolated, one->expected, 1e-6 * one->scale, one->label); /* closed form */
        coarse = fmax(coarse, fabs(one->found[1] - one->expected) / one->scale);
        fine = fmax(fine, fabs(extrapolated - one->expected) / one->scale);
    }
    print_message("%d figures, worst %.1e at one stiffness, %.1e extrapolated\n", f->count, coarse, fine);
}

static double event(const char *name, const char *quantity)
{
    table t = table_read("launch_events.csv");
    double value = NAN;
    for (int i = 1; i <= t.rows; i++)
        if (strcmp(table_text(&t, i, "case"), name) == 0 &&
            strncmp(table_text(&t, i, "quantity"), quantity, strlen(quantity)) == 0)
            value = table_number(&t, i, "expected");
    table_free(&t);
    if (isnan(value)) fail_msg("no %s of %s", quantity, name);
    return value;
}

/* A line of the sequence; before the stern lifts also where the supports' reaction acts. */
static void note_line(figures *f, int *at, const ways *w, const table *t, int row, int pivoting)
{
    const char *name = table_text(t, row, "case");
    char label[96];
#define LABEL(what) (snprintf(label, sizeof label, "%s, row %d, %s", name, row, what), label)
    note(f, at, LABEL("angle"), table_number(t, row, "keel_angle_deg") * DEGREE, w->spec.slope, ways_angle(w));
    note(f, at, LABEL("buoyancy"), table_number(t, row, "buoyancy_N"), w->weight, ways_buoyancy(w));
    double along = ways_load(w, WAYS_REAR) + ways_load(w, WAYS_PIVOT), upward = along / cos(ways_angle(w));
    note(f, at, LABEL("reaction"), table_number(t, row, "support_reaction_N"), w->weight, upward);
    int centre = dd_system_channel(w->m.system, &dd_force_buoyancy, 0, "centre_of_buoyancy_from_transom_m");
    note(f, at, LABEL("x_B"), table_number(t, row, "x_B_m"), w->spec.length, w->m.workspace->channels[centre]);
    if (!pivoting)
        note(f, at, LABEL("x_R x reaction"), table_number(t, row, "x_R_m") * table_number(t, row, "support_reaction_N"),
             w->spec.length * w->weight,
             (ways_load(w, WAYS_REAR) * w->spec.rear + ways_load(w, WAYS_PIVOT) * w->spec.pivot) / cos(ways_angle(w)));
#undef LABEL
}

static void note_lines(figures *f, int *at, ways *w, const char *name, const char *phase, double before)
{
    table t = table_read("launch_sequence.csv");
    double load = INFINITY;
    for (int i = 1; i <= t.rows; i++) {
        if (strcmp(table_text(&t, i, "case"), name) != 0 || strcmp(table_text(&t, i, "phase"), phase) != 0 ||
            table_number(&t, i, "s_immersed_keel_length_m") > before)
            continue;
        ways_to(w, table_number(&t, i, "s_immersed_keel_length_m"));
        note_line(f, at, w, &t, i, strcmp(phase, "pivoting") == 0);
        /* W - F falls all the way and is never negative */
        assert_true(w->weight - ways_buoyancy(w) < load && w->weight - ways_buoyancy(w) > 0);
        load = w->weight - ways_buoyancy(w);
    }
    table_free(&t);
}

static void launch_once(figures *f, const char *name, double yielding, int coordinates)
{
    ways w;
    int at = 0;
    ways_spec spec = spec_of(name, yielding, coordinates, NULL);
    const double l = spec.length;
    ways_create(&w, &spec, PER_BAY, 0.04 * l);
    note_lines(f, &at, &w, name, "on ways", INFINITY);
    note(f, &at, "s at stern lift", event(name, "immersed keel length at stern lift"),
         event(name, "immersed keel length at stern lift"), ways_lift(&w, WAYS_REAR, 0.02 * l));
    note(f, &at, "buoyancy at stern lift", event(name, "buoyancy at stern lift"), w.weight, ways_buoyancy(&w));
    note(f, &at, "W - F at stern lift", event(name, "fore poppet load at stern lift"), w.weight, w.weight - ways_buoyancy(&w));
    note(f, &at, "pivot's share at stern lift", event(name, "poppet load / W"), 1,
         ways_load(&w, WAYS_PIVOT) / cos(ways_angle(&w)) / w.weight);
    note_lines(f, &at, &w, name, "pivoting", INFINITY);
    note(f, &at, "s afloat", event(name, "s at which poppet load vanishes"), event(name, "s at which poppet load vanishes"),
         ways_lift(&w, WAYS_PIVOT, 0.02 * l));
    note(f, &at, "angle afloat", event(name, "keel angle when afloat") * DEGREE, spec.slope, ways_angle(&w));
    /* The same hull floating free (closed form: one and the same state). */
    dd_floating floating;
    dd_error error;
    assert_int_equal(dd_hull_float(w.hull, spec.density, DD_STANDARD_GRAVITY, 0, 0, &floating, &error), DD_OK);
    note(f, &at, "trim of the free hull", -floating.trim, spec.slope, ways_angle(&w));
    ways_free(&w);
}

/* yielding: of the finer run, share of the length */
static void launch_twice(const char *name, double yielding, int coordinates)
{
    figures *f = calloc(1, sizeof *f);
    assert_non_null(f);
    for (f->run = 0; f->run < 2; f->run++) launch_once(f, name, f->run == 0 ? 2 * yielding : yielding, coordinates);
    print_message("%s: ", name);
    check(f);
    free(f);
}

static void small_box(void **state)
{
    (void)state;
    launch_twice("LCH1", 3e-6, WAYS_PLANE | DD_FREE_RIG);
}

static void barge(void **state)
{
    (void)state;
    launch_twice("LCH2", 1.5e-6, WAYS_PLANE | DD_FREE_RIG);
}

static void chine_prism(void **state)
{
    (void)state;
    launch_twice("LCH5", 3e-6, WAYS_PLANE | DD_FREE_RIG);
}

/* The synthetic hull, its baseline on the ways; at the end her bow lies lower than her stern and no strap along the keel could
   hold her: she is held lengthwise at the pivot instead. */
static void synthetic_once(figures *f, double yielding)
{
    table t = table_read("synthetic_chine_launch.csv");
    const char *inputs = table_text(&t, 1, "inputs");
    ways_spec spec = {.length = 5.5,
                      .density = value_in(inputs, "rho"),
                      .slope = value_in(inputs, "slope") * DEGREE,
                      .pivot = value_in(inputs, "pivot x"),
                      .rear = 0.5,
                      .yielding = yielding * 5.5,
                      .free = DD_FREE_RIG | DD_FREE_HULL_SINKAGE | DD_FREE_HULL_TRIM};
    spec.hull = ways_chine(9, value_in(inputs, "m"), dd_vec(value_in(inputs, "xG"), 0, value_in(inputs, "zG")));
    ways w;
    int at = 0;
    ways_create(&w, &spec, 36, 0.5);
    double s = ways_lift(&w, WAYS_REAR, 0.2);
    for (int i = 1; i <= t.rows; i++) {
        const char *quantity = table_text(&t, i, "quantity"), *where = table_text(&t, i, "inputs");
        double expected = table_number(&t, i, "expected"), down = value_in(where, "s");
        if (i > 1 && !isnan(down)) ways_to(&w, down);
        if (strncmp(quantity, "baseline length immersed", 24) == 0 && strstr(quantity, "vanishes"))
            s = ways_lift(&w, WAYS_PIVOT, 0.2);
        if (strncmp(quantity, "baseline", 8) == 0)
            note(f, &at, quantity, expected, expected, s);
        else if (strncmp(quantity, "keel angle", 10) == 0)
            note(f, &at, quantity, expected * DEGREE, spec.slope, ways_angle(&w));
        else if (strncmp(quantity, "buoyancy", 8) == 0)
            note(f, &at, quantity, expected, w.weight, ways_buoyancy(&w));
        else
            note(f, &at, quantity, expected, w.weight, w.weight - ways_buoyancy(&w));
    }
    /* Float-off and free trim are one state: 1e-9 rad (closed form). */
    dd_floating floating;
    dd_error error;
    assert_int_equal(dd_hull_float(w.hull, spec.density, DD_STANDARD_GRAVITY, 0, 0, &floating, &error), DD_OK);
    note(f, &at, "trim of the free hull", -floating.trim, spec.slope, ways_angle(&w));
    assert_int_equal(at, t.rows + 1);
    table_free(&t);
    ways_free(&w);
}

static void synthetic_hull(void **state)
{
    (void)state;
    figures *f = calloc(1, sizeof *f);
    assert_non_null(f);
    for (f->run = 0; f->run < 2; f->run++) synthetic_once(f, f->run == 0 ? 6e-6 : 3e-6);
    print_message("SLCH1: ");
    check(f);
    free(f);
}

/* The rear support put where the ways end for s; the hull comes to rest on it before it goes on. */
static void put_end(ways *w, double home, double at)
{
    dd_error error;
    w->m.rig->rollers[WAYS_REAR].centre.x = home - at;
    if (dd_settle_to(&w->settle, w->settle.at.pose.rig[DD_RIG_X], &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
}

/* The way end: the rear support stands there and so moves forward along the keel as the hull goes down. Moment about it of
   the pivot's load; with it the hull tips at the first s where the pivot is clear before the stern has lifted. */
static void way_end_once(figures *f, const char *name, double yielding)
{
    ways w;
    int at = 0;
    double over_end;
    ways_spec spec = spec_of(name, yielding, DD_FREE_RIG | DD_FREE_HULL_SINKAGE | DD_FREE_HULL_TRIM, &over_end);
    const double home = spec.length + 1, beyond = over_end / sin(spec.slope);
    table t = table_read("launch_sequence.csv");
    bool made = false;
    double tips = INFINITY;
    if (strcmp(name, "LCH3") == 0) tips = event(name, "s at which she tips");
    for (int i = 1; i <= t.rows; i++) {
        double s = table_number(&t, i, "s_immersed_keel_length_m");
        if (strcmp(table_text(&t, i, "case"), name) != 0 || table_text(&t, i, "anti_tipping_moment_Nm")[0] == '\0' || s > tips)
            continue;
        if (!made) {
            spec.rear = s - beyond;
            ways_create(&w, &spec, PER_BAY, s);
            made = true;
        }
        put_end(&w, home, s - beyond);
        ways_to(&w, s);
        note(f, &at, "moment about the way end", table_number(&t, i, "anti_tipping_moment_Nm"), w.weight * spec.length,
             ways_load(&w, WAYS_PIVOT) * (spec.pivot - (s - beyond)));
    }
    assert_true(made);
    if (isfinite(tips)) {
        double low = tips - 1, high = tips + 1; /* the pivot's clearance changes sign in between */
        for (int i = 0; i < 40; i++) {
            double s = 0.5 * (low + high);
            put_end(&w, home, s - beyond);
            ways_to(&w, s);
            *(ways_gap(&w, WAYS_PIVOT) < 0 ? &low : &high) = s;
        }
        note(f, &at, "s at which she tips", tips, tips, 0.5 * (low + high));
        assert_true(ways_gap(&w, WAYS_REAR) < 0);
    }
    table_free(&t);
    ways_free(&w);
}

static void way_end(void **state)
{
    (void)state;
    static const char *const names[] = {"LCH2", "LCH3", "LCH4"};
    for (int n = 0; n < 3; n++) {
        figures *f = calloc(1, sizeof *f);
        assert_non_null(f);
        for (f->run = 0; f->run < 2; f->run++) way_end_once(f, names[n], f->run == 0 ? 6e-6 : 3e-6);
        print_message("%s, way end: ", names[n]);
        check(f);
        free(f);
    }
}

/* LCH4 reaches the way end before she floats: load and angle there. */
static void drops(void **state)
{
    (void)state;
    figures *f = calloc(1, sizeof *f);
    assert_non_null(f);
    for (f->run = 0; f->run < 2; f->run++) {
        ways w;
        int at = 0;
        ways_spec spec = spec_of("LCH4", f->run == 0 ? 3e-6 : 1.5e-6, WAYS_PLANE | DD_FREE_RIG, NULL);
        const double s = event("LCH4", "s when poppet reaches way end");
        ways_create(&w, &spec, PER_BAY, s - 1);
        ways_to(&w, s);
        note(f, &at, "load at the way end", event("LCH4", "DROPS: poppet load"), w.weight, w.weight - ways_buoyancy(&w));
        note(f, &at, "angle at the way end", event("LCH4", "keel angle at way end") * DEGREE, spec.slope, ways_angle(&w));
        ways_free(&w);
    }
    print_message("LCH4, dropping: ");
    check(f);
    free(f);
}

/* Tyres and springs rigid (the rig held where it stands), one roller stiffness: 1e-4; and what the usual strips cost. */
static void rigid_rig(void **state)
{
    (void)state;
    for (int usual = 0; usual < 2; usual++) {
        ways w;
        ways_spec spec = spec_of("LCH1", 3e-6, WAYS_PLANE, NULL);
        const double s = event("LCH1", "immersed keel length at stern lift"),
                     afloat = event("LCH1", "s at which poppet load vanishes");
        if (usual) {
            const dd_mass_properties mass = *dd_hull_mass(spec.hull);
            dd_hull_free(spec.hull);
            spec.hull = ways_prism(6, 1, 3, prisms[0].y, prisms[0].z, mass.mass, mass.centre);
        }
        ways_create(&w, &spec, usual ? 0 : PER_BAY, 0.5);
        double lift = ways_lift(&w, WAYS_REAR, 0.2), load = w.weight - ways_buoyancy(&w);
        const double tolerance =
            usual ? 2e-4 : 1e-4; /* closed form; 40 strips: the rule's error at the water's edge, h^2 / 8 */
        CHECK_NEAR(lift, s, tolerance * s, "stern lift");
        CHECK_NEAR(load, event("LCH1", "fore poppet load at stern lift"), tolerance * w.weight, "pivot load");
        double off = ways_lift(&w, WAYS_PIVOT, 0.2);
        CHECK_NEAR(off, afloat, 1e-6 * afloat, "afloat"); /* nothing yields any more: closed form */
        print_message("%s strips, rig rigid: stern lift %.1e, load %.1e, afloat %.1e\n", usual ? "40" : "2048",
                      fabs(lift / s - 1), fabs(load - event("LCH1", "fore poppet load at stern lift")) / w.weight,
                      fabs(off / afloat - 1));
        ways_free(&w);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_box), cmocka_unit_test(barge), cmocka_unit_test(chine_prism), cmocka_unit_test(synthetic_hull),
        cmocka_unit_test(way_end),   cmocka_unit_test(drops), cmocka_unit_test(rigid_rig)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
