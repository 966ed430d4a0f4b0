/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every force of forces.def, 100 random states in each regime that it declares (up to 300 until 90 of them bear load): K, D and the gradients of its memory
   against five-point differences of its own load. Grade: closed form (the derivative of the function itself). */
#include "tests/unit/force/whole.h"
#include "lib/force/jockey.h"

enum { DRAWS = 100, MOST_DRAWS = 300, LEAST_LOADED = 90 };
static const double tolerance = 2e-6; /* of the largest entry: rounding of the differences, and curvature jumps of C1 ramps */

enum vary { BY_DISPLACEMENT, BY_TWIST, BY_RIG, BY_RIG_RATE, BY_VALUE };

static whole_result varied(const whole_force *force, whole_state state, enum vary what, int index, double amount)
{
    double unit[6] = {0};
    switch (what) {
    case BY_DISPLACEMENT:
        unit[index] = 1;
        whole_displace(&state, unit, amount);
        break;
    case BY_TWIST:
        state.motion.twist[index] += amount;
        break;
    case BY_RIG:
        state.pose.rig[index] += amount;
        break;
    case BY_RIG_RATE:
        state.motion.rig[index] += amount;
        break;
    case BY_VALUE:
        state.memory[index] += amount;
        break;
    }
    return whole_evaluate(force, &state);
}

static double five_points(const double f[4], double h) { return (8 * (f[0] - f[1]) - (f[2] - f[3])) / (12 * h); }

static void difference(const whole_force *force, const whole_state *state, enum vary what, int index, double h, whole_result *d)
{
    whole_result r[4];
    const double steps[4] = {h, -h, 2 * h, -2 * h};
    for (int i = 0; i < 4; i++)
        r[i] = varied(force, *state, what, index, steps[i]);
    memset(d, 0, sizeof *d);
    for (int i = 0; i < 6; i++)
        d->load.hull[i] = five_points((double[]){r[0].load.hull[i], r[1].load.hull[i], r[2].load.hull[i], r[3].load.hull[i]}, h);
    for (int i = 0; i < DD_RIG_COORDINATES; i++)
        d->load.rig[i] = five_points((double[]){r[0].load.rig[i], r[1].load.rig[i], r[2].load.rig[i], r[3].load.rig[i]}, h);
    for (int i = 0; i < force->memory_count; i++)
        d->rate[i] = five_points((double[]){r[0].rate[i], r[1].rate[i], r[2].rate[i], r[3].rate[i]}, h);
}

/* Largest error and largest entry of one table of derivatives. */
typedef struct block {
    const char *name;
    double error, size, least; /* least: entries smaller than this count as noise */
} block;
static void compare(block *b, double found, double expected)
{
    b->error = fmax(b->error, fabs(found - expected));
    b->size = fmax(b->size, fabs(expected));
}

enum { K, D, RIG_K, RIG_D, LOAD_BY_VALUE, RIG_BY_VALUE, RATE_BY_TWIST, RATE_BY_RIG, RATE_BY_VALUE, RATE_BY_POSE, RATE_BY_PLACE, BLOCKS };

typedef struct analytic {
    dd_gradient gradient;
    double load_by_value[WHOLE_MEMORY][6], rig_by_value[WHOLE_MEMORY][DD_RIG_COORDINATES], rate_by_twist[WHOLE_MEMORY][6],
        rate_by_rig[WHOLE_MEMORY][DD_RIG_COORDINATES], rate_by_value[WHOLE_MEMORY], rate_by_pose[WHOLE_MEMORY][6],
        rate_by_place[WHOLE_MEMORY][DD_RIG_COORDINATES],
        rate_by_values[WHOLE_MEMORY * WHOLE_MEMORY]; /* of a kind whose memory is coupled */
} analytic;

static void evaluate_analytic(const whole_force *force, const whole_state *state, analytic *a, whole_result *result)
{
    dd_kinematics k;
    memset(a, 0, sizeof *a);
    memset(result, 0, sizeof *result);
    dd_kinematics_of(force->model, force->time, &state->pose, &state->motion, &k);
    dd_memory memory = {.value = state->memory, .rate = result->rate, .load_by_value = a->load_by_value, .rig_by_value = a->rig_by_value,
                        .rate_by_twist = a->rate_by_twist, .rate_by_rig = a->rate_by_rig, .rate_by_value = a->rate_by_value, .rate_by_values = a->rate_by_values,
                        .rate_by_pose = a->rate_by_pose, .rate_by_place = a->rate_by_place};
    force->kind->evaluate(force->instance, &k, &state->commands, &memory, &result->load, &a->gradient, NULL);
}

static void compare_hull(const whole_force *force, const whole_state *state, const analytic *a, block *blocks)
{
    whole_result moved, faster;
    for (int j = 0; j < 6; j++) {
        difference(force, state, BY_DISPLACEMENT, j, j < 3 ? 1e-6 : 2e-7, &moved); /* a turn moves a point 5 m away as far */
        difference(force, state, BY_TWIST, j, 1e-6, &faster);
        for (int i = 0; i < 6; i++) {
            compare(&blocks[K], a->gradient.K[i][j], -moved.load.hull[i]);
            compare(&blocks[D], a->gradient.D[i][j], -faster.load.hull[i]);
        }
        for (int m = 0; m < force->memory_count; m++) {
            compare(&blocks[RATE_BY_TWIST], a->rate_by_twist[m][j], faster.rate[m]);
            compare(&blocks[RATE_BY_POSE], a->rate_by_pose[m][j], moved.rate[m]);
        }
    }
}

static void compare_rig(const whole_force *force, const whole_state *state, const analytic *a, block *blocks)
{
    whole_result moved, faster;
    for (int j = 0; j < DD_RIG_COORDINATES; j++) {
        difference(force, state, BY_RIG, j, 1e-6, &moved);
        difference(force, state, BY_RIG_RATE, j, 1e-6, &faster);
        for (int i = 0; i < DD_RIG_COORDINATES; i++) {
            compare(&blocks[RIG_K], a->gradient.rig_K[i][j], -moved.load.rig[i]);
            compare(&blocks[RIG_D], a->gradient.rig_D[i][j], -faster.load.rig[i]);
        }
        for (int m = 0; m < force->memory_count; m++) {
            compare(&blocks[RATE_BY_RIG], a->rate_by_rig[m][j], faster.rate[m]);
            compare(&blocks[RATE_BY_PLACE], a->rate_by_place[m][j], moved.rate[m]);
        }
    }
}

static void compare_memory(const whole_force *force, const whole_state *state, const analytic *a, block *blocks)
{
    whole_result bent;
    for (int m = 0; m < force->memory_count; m++) {
        difference(force, state, BY_VALUE, m, 1e-8, &bent);
        for (int i = 0; i < 6; i++)
            compare(&blocks[LOAD_BY_VALUE], a->load_by_value[m][i], bent.load.hull[i]);
        for (int i = 0; i < DD_RIG_COORDINATES; i++)
            compare(&blocks[RIG_BY_VALUE], a->rig_by_value[m][i], bent.load.rig[i]);
        for (int n = 0; n < force->memory_count; n++)
            compare(&blocks[RATE_BY_VALUE], m == n ? a->rate_by_value[m] : a->rate_by_values[n * force->memory_count + m], bent.rate[n]);
    }
}

static double size_of(const dd_load *load)
{
    double size = 0;
    for (int i = 0; i < 6; i++)
        size = fmax(size, fabs(load->hull[i]));
    for (int i = 0; i < DD_RIG_COORDINATES; i++)
        size = fmax(size, fabs(load->rig[i]));
    return size;
}

/* Regimes where a force must be absent. */
static int idle(const char *name)
{
    const char *const names[] = {"open", "clear", "slack", "unhooked"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(name, names[i]) == 0)
            return 1;
    return 0;
}

/* Returns the number of faults, each printed. */
static int walk_regime(const whole_force *force, const dd_regime *regime)
{
    /* the floors are small beside any loaded contact's: 1 N/m, 1 N s/m, ... */
    block worst[BLOCKS] = {{.name = "K", .least = 1}, {.name = "D", .least = 1}, {.name = "rig K", .least = 1}, {.name = "rig D", .least = 1},
                           {.name = "load by value", .least = 1}, {.name = "rig by value", .least = 1}, {.name = "rate by twist", .least = 1e-3},
                           {.name = "rate by rig", .least = 1e-3}, {.name = "rate by value", .least = 1}, {.name = "rate by pose", .least = 1e-3},
                           {.name = "rate by place", .least = 1e-3}};
    uint64_t random = 20;
    int loaded = 0, faults = 0, draw = 0;
    static analytic a;
    for (; draw < DRAWS || (draw < MOST_DRAWS && loaded < LEAST_LOADED && !idle(regime->name)); draw++) {
        whole_state state = whole_draw(force, regime, &random);
        whole_result now;
        evaluate_analytic(force, &state, &a, &now);
        loaded += size_of(&now.load) > 1e-9;
        block blocks[BLOCKS];
        memcpy(blocks, worst, sizeof blocks);
        for (int b = 0; b < BLOCKS; b++)
            blocks[b].error = blocks[b].size = 0;
        if (force->kind->acts_on == DD_ACTS_ON_RIG)
            compare_rig(force, &state, &a, blocks);
        else
            compare_hull(force, &state, &a, blocks);
        compare_memory(force, &state, &a, blocks);
        for (int b = 0; b < BLOCKS; b++) {
            double relative = blocks[b].error / fmax(blocks[b].size, blocks[b].least);
            worst[b].error = fmax(worst[b].error, relative);
            if (!(relative <= tolerance) && faults++ == 0)
                print_error("%s, %s, draw %d: %s is %.3g off a largest entry of %.6g\n", force->kind->name, regime->name, draw,
                            blocks[b].name, blocks[b].error, blocks[b].size);
        }
    }
    print_message("%-13s %-10s %3d of %3d loaded, K %.1e D %.1e rig K %.1e D %.1e\n", force->kind->name, regime->name, loaded, draw, worst[K].error,
                  worst[D].error, worst[RIG_K].error, worst[RIG_D].error);
    if (idle(regime->name) ? loaded > 0 : loaded < LEAST_LOADED) {
        print_error("%s, %s: %d of %d states loaded\n", force->kind->name, regime->name, loaded, draw);
        faults++;
    }
    return faults;
}

static void gradients_are_exact(void **state)
{
    (void)state;
    whole w;
    int faults = 0;
    whole_create(&w, whole_hull(), 1, 0.4);
    for (int i = 0; i < dd_force_count(); i++) {
        const dd_force_kind *kind = dd_force_at(i);
        whole_force force = whole_prepare(kind, &w.model, 0);
        assert_non_null(force.instance);
        assert_non_null(kind->regimes);
        assert_non_null(kind->regimes[0].name);
        for (const dd_regime *regime = kind->regimes; regime->name != NULL; regime++)
            faults += walk_regime(&force, regime);
        whole_release(&force);
    }
    assert_int_equal(faults, 0);
    assert_null(dd_force_at(dd_force_count()));
    assert_null(dd_force_at(-1));
    whole_free(&w);
}

/* The same in water that rises and runs in waves, in a current that varies with depth and place; 11.3 s on, when surge and
   waves are grown. */
static void gradients_are_exact_in_moving_water(void **state)
{
    (void)state;
    whole w;
    int faults = 0;
    whole_create(&w, whole_hull(), 1, 0.4);
    whole_stir(&w);
    for (int i = 0; i < dd_force_count(); i++) {
        if (dd_force_at(i)->acts_on != DD_ACTS_ON_HULL) continue;
        whole_force force = whole_prepare(dd_force_at(i), &w.model, 0);
        force.time = 11.3;
        for (const dd_regime *regime = force.kind->regimes; regime->name != NULL; regime++)
            faults += walk_regime(&force, regime);
        whole_release(&force);
    }
    assert_int_equal(faults, 0);
    whole_free(&w);
}

/* The jockey wheel in soft sand that sinks on in the wash; what all wheels remember of it in common: property/test_soft_ground. */
static void gradients_are_exact_in_sand(void **state)
{
    (void)state;
    whole w;
    int faults = 0;
    whole_create(&w, whole_hull(), 1, 0.4);
    whole_soften(&w);
    whole_force force = whole_prepare(&dd_force_jockey, &w.model, 0);
    assert_int_equal(force.memory_count, DD_JOCKEY_MEMORY);
    for (const dd_regime *regime = force.kind->regimes; regime->name != NULL; regime++) faults += walk_regime(&force, regime);
    whole_release(&force);
    assert_int_equal(faults, 0);
    whole_free(&w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(gradients_are_exact), cmocka_unit_test(gradients_are_exact_in_moving_water),
                                       cmocka_unit_test(gradients_are_exact_in_sand)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
