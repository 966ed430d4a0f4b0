/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A boat that comes at 0.5 m/s with its stem onto a side roller of a cradle that stands high: it is stopped or carried off, its books
   close, and it does the same on the other side. */
#include "tests/property/scenarios.h"

enum { OFFSETS = 5 };
static const double offsets[OFFSETS] = {200, 250, 270, 280, 310}; /* mm; the rollers stand 280 mm off the middle */
static const double time = 6;

typedef struct end {
    dd_vec3 position;
    double energy, bound, deepest; /* ledger's residual and bound; squash, share of the radius */
} end;

static end come_in(double offset)
{
    char aside[64];
    snprintf(aside, sizeof aside, "start.offset to port=%g mm", offset);
    const char *const overrides[] = {aside, "start.bow distance=0.1 m", "start.heading=0 deg", "start.hub depth=250 mm", "start.speed=0.5 m/s",
                                     "procedure=[{wait: {until: {after: 6 s}}}]", NULL};
    dd_case *scenario = scenario_read("retrieve", overrides);
    dd_run *run = NULL;
    end e = {.deepest = 0};
    MUST(dd_run_create(scenario, &run, error));
    const dd_system_force *rollers = dd_system_find(run->m->system, &dd_force_roller);
    const int squash = dd_system_channel(run->m->system, &dd_force_roller, 0, "squash_mm");
    for (double t = 0.02; t < time; t += 0.02) {
        MUST(run_until(run, t, error));
        assert_int_equal(dd_run_evaluate(run, t, DD_WANT_CHANNELS), 0);
        for (int i = 0; i < rollers->unit_count; i++)
            e.deepest = fmax(e.deepest, 1e-3 * run->m->workspace->channels[squash + i * rollers->channel_count] /
                                            run->m->rig->rollers[i].radius);
    }
    MUST(run_until(run, time, error));
    assert_int_equal(dd_run_evaluate(run, time, DD_WANT_CHANNELS), 0);
    e.position = run->m->workspace->kinematics.pose.position;
    const dd_ledger_balance b = dd_ledger_balance_of(run->ledger);
    e.energy = fmax(b.energy_residual, b.momentum_residual);
    e.bound = run->ledger_bound;
    dd_run_free(run);
    free(scenario);
    return e;
}

/* The ledger within its bound (conservation). The hull never comes as deep as the roller's radius, where its edge would pass the axle
   (closed form: 190 J are less than the roller's 1,600 J). Both sides alike to 1e-4 m: the integrator's tolerance of 1e-6, through a
   contact that throws small differences apart; symmetry. */
static void stem_on_a_roller_keeps_its_books(void **state)
{
    (void)state;
    int struck = 0, failed = 0;
    for (int i = 0; i < OFFSETS; i++) {
        const end port = come_in(offsets[i]), starboard = come_in(-offsets[i]);
        print_message("%3.0f mm: ledger %.1e of %.0e, squash %.2f of the radius, at %.4f %.4f %.4f; mirrored off by %.1e %.1e %.1e m\n", offsets[i],
                      port.energy, port.bound, port.deepest, port.position.x, port.position.y, port.position.z,
                      starboard.position.x - port.position.x, starboard.position.y + port.position.y, starboard.position.z - port.position.z);
        failed += !(port.energy <= port.bound && starboard.energy <= starboard.bound);
        failed += !(port.deepest < 1 && starboard.deepest < 1);
        failed += !(fabs(starboard.position.x - port.position.x) < 1e-4 && fabs(starboard.position.y + port.position.y) < 1e-4);
        struck += port.deepest > 0.05;
    }
    assert_int_equal(failed, 0);
    assert_true(struck >= 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(stem_on_a_roller_keeps_its_books)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
