/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arms at rest: the angle that is found, from wherever they stood, and what statics read there. Grade: library (bisection on the same
   force's rate; the gradients of a run). */
#include "tests/unit/force/support_rigs.h"
#include "lib/force/roller.h"
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>
#include <string.h>

static const char *const names[] = {"across", "along", "rocker", "swinging skids", "rocker with keel rollers", NULL};
enum { DRAWS = 100 };

static void rig_of(dd_rig *rig, const char *name)
{
    const bool keel = strstr(name, "keel") != NULL;
    support_rig(rig, keel ? "rocker" : name, 20 * 0.017453292519943295);
    for (int i = 0; i < rig->roller_count && keel; i++) {
        dd_roller *r = &rig->rollers[i];
        if (r->arm == 0) continue;
        r->keel = 1, r->centre.y = 0, r->axis = dd_vec(0, 1, 0), r->width = 0.2;
        r->profile_start = 0.02, r->profile_length = 0.06, r->profile_height = 0.02;
    }
}

static double rate_at(const fixture_force *f, fixture_state *s, int theta, double angle)
{
    s->memory[theta] = angle;
    return fixture_evaluate(f, s).rate[theta];
}

/* By looking all the way and halving; NaN if the moment turns more than once. */
static double by_bisection(const fixture_force *f, const fixture_state *state, int theta, const dd_arm *arm)
{
    enum { LOOKS = 80 };
    fixture_state s = *state;
    double low = NAN, high = NAN, from = arm->least - 0.1, step = (arm->most - arm->least + 0.2) / LOOKS;
    bool up = rate_at(f, &s, theta, from) > 0;
    for (int i = 1; i <= LOOKS; i++) {
        const bool now = rate_at(f, &s, theta, from + step * i) > 0;
        if (now != up && !isnan(low)) return NAN;
        if (now != up) low = from + step * (i - 1), high = low + step;
        up = now;
    }
    if (isnan(low)) fail_msg("no balance between the stops of arm %s", f->kind->unit_name(f->instance, arm->first));
    for (int i = 0; i < 60 && high - low > 1e-13; i++) {
        const double mid = 0.5 * (low + high);
        if (rate_at(f, &s, theta, mid) > 0)
            low = mid;
        else
            high = mid;
    }
    return 0.5 * (low + high);
}

/* From each stop, from the middle and from 1 microradian beside it: 1e-7 rad, as both stop at 1e-10 rad/s. */
static void rests_where_its_moments_balance(void **state)
{
    (void)state;
    dd_hull *hulls[] = {fixture_wedge(0.35), fixture_curved()};
    int found = 0, several = 0, bears = 0;
    for (int h = 0; h < 2; h++)
        for (int n = 0; names[n] != NULL; n++) {
            static dd_rig rig;
            rig_of(&rig, names[n]);
            fixture_force f = fixture_prepare(&dd_force_roller, hulls[h], &rig);
            fixture_random random = {19};
            for (const dd_regime *regime = dd_roller_regimes; regime->name != NULL; regime++)
                for (int draw = 0; draw < DRAWS; draw++) {
                    fixture_state s = fixture_draw(&f, regime, &random);
                    memset(s.twist, 0, sizeof s.twist);
                    if (draw == 0) memset(s.memory, 0, sizeof s.memory); /* without friction */
                    for (int a = 0; a < rig.arm_count; a++) {
                        const int theta = dd_roller_arm_first(f.instance) + a;
                        const double expected = by_bisection(&f, &s, theta, &rig.arms[a]);
                        if (isnan(expected)) {
                            several++;
                            continue;
                        }
                        const double from[] = {rig.arms[a].least, rig.arms[a].most, 0, expected + 1e-6};
                        for (int i = 0; i < 4; i++) {
                            s.memory[theta] = from[i];
                            support_rest(&f, &s);
                            if (!(fabs(s.memory[theta] - expected) <= 1e-7))
                                fail_msg("hull %d, %s, %s, draw %d, arm %d from %g: %.10g, expected %.10g", h, names[n], regime->name, draw, a,
                                         from[i], s.memory[theta], expected);
                        }
                        found++;
                        bears += expected > rig.arms[a].least && expected < rig.arms[a].most;
                    }
                }
            f.kind->free(f.instance);
        }
    print_message("    %d arms, %d between their stops; %d with more than one balance\n", found, bears, several);
    assert_true(bears > found / 4 && several <= found / 20);
    for (int h = 0; h < 2; h++) dd_hull_free(hulls[h]);
}

enum { MOST = FIXTURE_MEMORY };
typedef struct asked {
    dd_gradient gradient;
    double load[6], load_by_value[MOST][6], rate_by_twist[MOST][6], rate_by_pose[MOST][6], rate_by_value[MOST], rate_by_values[(size_t)MOST * MOST], rate[MOST];
} asked;

/* rest_by_pose: brought to rest as it is evaluated, in s->memory; NULL: as it stands. Returns its energy. */
static double ask(const fixture_force *f, fixture_state *s, bool at_rest, int leave_out, double (*rest_by_pose)[6], asked *a)
{
    dd_model still = f->model;
    still.rig = NULL;
    const dd_motion motion = {{0}, {0}};
    dd_kinematics k;
    dd_load load = {0};
    dd_kinematics_of(&still, 0, &s->pose, &motion, &k);
    k.at_rest = at_rest, k.leave_out = leave_out;
    memset(a, 0, sizeof *a);
    const dd_memory memory = {.value = s->memory, .rests = rest_by_pose != NULL ? s->memory : NULL, .rest_by_pose = rest_by_pose, .rate = a->rate,
                              .load_by_value = a->load_by_value, .rate_by_twist = a->rate_by_twist, .rate_by_value = a->rate_by_value,
                              .rate_by_pose = a->rate_by_pose, .rate_by_values = a->rate_by_values};
    f->kind->evaluate(f->instance, &k, &s->commands, &memory, &load, &a->gradient, NULL);
    memcpy(a->load, load.hull, sizeof a->load);
    return load.energy;
}

static double most_of(const double *a, const double *b, int count, double *size)
{
    double error = 0;
    for (int i = 0; i < count; i++) {
        *size = fmax(*size, fabs(b[i]));
        error = fmax(error, fabs(a[i] - b[i]));
    }
    return error;
}

/* K and the angles' rows of one that asks at rest, and the bristles' rates by the twist where the grip is asked for, against the gradients of a run: 1e-9 of the largest of each
   (rounding of sums taken in another order). */
static void at_rest_all_is_as_in_a_run(void **state)
{
    (void)state;
    dd_hull *hull = fixture_curved();
    static asked rests, runs;
    int looked = 0;
    for (int n = 0; names[n] != NULL; n++) {
        static dd_rig rig;
        rig_of(&rig, names[n]);
        fixture_force f = fixture_prepare(&dd_force_roller, hull, &rig);
        const int first = dd_roller_arm_first(f.instance);
        fixture_random random = {23};
        for (const dd_regime *regime = dd_roller_regimes; regime->name != NULL; regime++) {
            fixture_state s = fixture_draw(&f, regime, &random);
            memset(s.twist, 0, sizeof s.twist);
            support_rest(&f, &s);
            (void)ask(&f, &s, false, 0, NULL, &runs);
            for (int grip = 0; grip < 2; grip++) {
                (void)ask(&f, &s, true, grip ? 0 : DD_LEAVE_OUT_GRIP, NULL, &rests);
                double size[5] = {1, 1, 1e-9, 1e-9, 1e-9}, error[5] = {0};
                error[0] = most_of(&rests.gradient.K[0][0], &runs.gradient.K[0][0], 36, &size[0]);
                error[1] = most_of(&rests.load_by_value[0][0], &runs.load_by_value[0][0], 6 * DD_BRISTLES * rig.roller_count, &size[1]);
                error[1] = fmax(error[1], most_of(&rests.load_by_value[first][0], &runs.load_by_value[first][0], 6 * rig.arm_count, &size[1]));
                error[2] = most_of(&rests.rate_by_pose[first][0], &runs.rate_by_pose[first][0], 6 * rig.arm_count, &size[2]);
                error[3] = most_of(&rests.rate_by_value[first], &runs.rate_by_value[first], rig.arm_count, &size[3]);
                if (grip) error[4] = most_of(&rests.rate_by_twist[0][0], &runs.rate_by_twist[0][0], 6 * DD_BRISTLES * rig.roller_count, &size[4]);
                for (int i = 0; i < 5; i++)
                    if (!(error[i] <= 1e-9 * size[i])) fail_msg("%s, %s: part %d off by %g of %g", names[n], regime->name, i, error[i], size[i]);
                looked += size[0] > 1e4;
            }
        }
        f.kind->free(f.instance);
    }
    assert_true(looked >= 30);
    dd_hull_free(hull);
}

enum { STARTS = 6 };

/* One state, its arms brought to rest from each start: what it is off by, of the largest of each: load, energy, K. */
static void rest_from_beside(const fixture_force *f, const dd_rig *rig, const fixture_state *s, bool nearly, asked *rested, double worst[3],
                             double rest_by_pose[MOST][6])
{
    static const double off[STARTS] = {0, 1e-6, 1e-4, -1.5e-4, 1e-3, -0.02};
    static asked now;
    const int first = dd_roller_arm_first(f->instance);
    const fixture_result r = fixture_evaluate(f, s);
    for (int i = 0; i < STARTS; i++) {
        fixture_state at = *s;
        for (int a = 0; a < rig->arm_count; a++) at.memory[first + a] += off[i];
        const double energy = ask(f, &at, true, nearly ? DD_LEAVE_OUT_GRIP : 0, rest_by_pose, &now);
        double size[3] = {1e3, 10, 1e5};
        const double error[3] = {most_of(now.load, r.load.hull, 6, &size[0]), most_of(&energy, &r.load.energy, 1, &size[1]),
                                 most_of(&now.gradient.K[0][0], &rested->gradient.K[0][0], 36, &size[2])};
        for (int j = 0; j < 3; j++) worst[j] = fmax(worst[j], error[j] / size[j]);
    }
}

/* Load, energy and K where it is brought to rest as it is evaluated, from where it rests and from beside, against the force evaluated with its arms
   put where rest() brings them, which stops at 1e-10 rad/s: 1e-8 of the loads, 1e-10 of the energy; where a pose alone is looked for 2e-7 and 1e-9
   (the third order of a turn by 2e-4 rad is left out). K, whose change by that turn is left out, to 1e-3. And how the rest follows the pose, by the loads' change
   and by the rate's, without friction: 1e-6 of the largest, and of 1e-3 rad/m. */
static void evaluates_where_it_rests(void **state)
{
    (void)state;
    dd_hull *hulls[] = {fixture_wedge(0.35), fixture_curved()};
    static asked rested;
    static double rest_by_pose[MOST][6];
    double worst[2][3] = {{0}}, follows = 0;
    for (int h = 0; h < 2; h++)
        for (int n = 0; names[n] != NULL; n++) {
            static dd_rig rig;
            rig_of(&rig, names[n]);
            fixture_force f = fixture_prepare(&dd_force_roller, hulls[h], &rig);
            fixture_random random = {29};
            for (const dd_regime *regime = dd_roller_regimes; regime->name != NULL; regime++)
                for (int draw = 0; draw < DRAWS / 5; draw++) {
                    fixture_state s = fixture_draw(&f, regime, &random);
                    memset(s.twist, 0, sizeof s.twist);
                    if (draw == 0) memset(s.memory, 0, sizeof s.memory); /* without friction */
                    support_rest(&f, &s);
                    (void)ask(&f, &s, false, 0, NULL, &rested);
                    for (int nearly = 0; nearly < 2; nearly++) rest_from_beside(&f, &rig, &s, nearly, &rested, worst[nearly], rest_by_pose);
                    for (int a = 0; a < rig.arm_count && draw == 0; a++) {
                        const int theta = dd_roller_arm_first(f.instance) + a;
                        double size = 1e-3, by_rate[6];
                        for (int c = 0; c < 6; c++) by_rate[c] = -rested.rate_by_pose[theta][c] / rested.rate_by_value[theta];
                        const double off = most_of(rest_by_pose[theta], by_rate, 6, &size);
                        follows = fmax(follows, off / size);
                    }
                }
            f.kind->free(f.instance);
        }
    print_message("    loads, energy and K off by %.2g, %.2g, %.2g; nearly: %.2g, %.2g, %.2g; the rest's slope %.2g\n", worst[0][0], worst[0][1], worst[0][2],
                  worst[1][0], worst[1][1], worst[1][2], follows);
    assert_true(worst[0][0] < 1e-8 && worst[0][1] < 1e-10 && worst[0][2] < 1e-3);
    assert_true(worst[1][0] < 2e-7 && worst[1][1] < 1e-9 && worst[1][2] < 1e-3);
    assert_true(follows < 1e-6);
    for (int h = 0; h < 2; h++) dd_hull_free(hulls[h]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rests_where_its_moments_balance),
        cmocka_unit_test(at_rest_all_is_as_in_a_run),
        cmocka_unit_test(evaluates_where_it_rests),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
