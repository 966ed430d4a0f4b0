/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shipped scenarios as runs, for the tests that need no reference number. */
#ifndef DD_TESTS_SCENARIOS_H
#define DD_TESTS_SCENARIOS_H
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "lib/study/run.h"
#include <drawdock/study.h>

#define MUST(call)                                                                                                             \
    do {                                                                                                                       \
        dd_error must_error = {.status = DD_OK};                                                                               \
        dd_error *const error = &must_error;                                                                                   \
        if ((call) != DD_OK) fail_msg("%s: %s", must_error.place, must_error.message);                                         \
    } while (0)

/* |value - expected| <= tolerance, all three said when not. */
#define NEAR(value, expected, tolerance, what) near_to((value), (expected), (tolerance), (what), __FILE__, __LINE__)
void near_to(double value, double expected, double tolerance, const char *what, const char *file, int line);

extern const char *const shipped_scenarios[4];
/* Two more with the most in them: a rocker, guides, stream, wind, waves, tide, lines and a pull-out in steps; under power onto skids. */
extern const char *const richest_scenarios[2];

/* A copy of scenarios/NAME.yaml with overrides ("key=value", ends with NULL; may be NULL); free() it. */
dd_case *scenario_read(const char *name, const char *const *overrides);
/* Gives the scenario a straight V of constant section, 1150 kg at 1.95 m, that lies on both cradles alike: closed forms then hold. */
void make_prismatic(dd_case *scenario, double deadrise);
/* Until the procedure has ended or the time has come; the run's status. */
dd_status run_until(dd_run *run, double time, dd_error *error);
int run_finished(const dd_run *run);

/* What a run was at set times, by its own dense output, and its strap's largest tension on accepted steps and their middles. */
enum { MOST_SAMPLES = 2000 };
typedef struct samples {
    int count;
    double interval, end, strap_peak;
    dd_vec3 position[MOST_SAMPLES]; /* of the hull in the trailer, m */
    double strap[MOST_SAMPLES];     /* tension, N */
} samples;
/* Runs to the end (or to `time`). The samples are those up to the end. */
dd_status sample_run(dd_run *run, double interval, double time, samples *s, dd_error *error);

/* FNV-1a over bytes. */
uint64_t hash_bytes(uint64_t hash, const void *bytes, size_t size);
#define HASH_START 14695981039346656037ULL
#endif
