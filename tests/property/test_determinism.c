/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same input gives the same bytes: on repeats, in any order, on any number of threads, and through save and restore. */
#include "tests/property/scenarios.h"
#include <pthread.h>

enum { RUNS = 64, MOST_THREADS = 8 };

static dd_case *cases[RUNS];
static uint64_t alone[RUNS];

/* Bytes of the record of a run; 0 if it could not be made. */
static uint64_t record_hash(const dd_case *scenario)
{
    dd_result *result = NULL;
    dd_error error;
    uint64_t hash = HASH_START;
    if (dd_study_run(scenario, NULL, NULL, &result, &error) != DD_OK) {
        print_message("%s\n", error.message);
        dd_result_free(result);
        return 0;
    }
    char *const texts[] = {dd_result_timeline_csv(result), dd_result_events_csv(result), dd_result_json(result)};
    for (int i = 0; i < 3; i++) {
        if (texts[i] == NULL || strlen(texts[i]) < 20) hash = 0;
        if (hash != 0) hash = hash_bytes(hash, texts[i], strlen(texts[i]));
        free(texts[i]);
    }
    dd_result_free(result);
    return hash;
}

/* 64 different short runs: launches that only start to back down, in different water and at different speeds. */
static int make_cases(void **state)
{
    (void)state;
    dd_case *launch = scenario_read("launch-cross-stream", NULL);
    for (int i = 0; i < RUNS; i++) {
        cases[i] = malloc(sizeof *cases[i]);
        *cases[i] = *launch;
        cases[i]->water.level += 0.002 * i;
        cases[i]->water.current = 0.01 * (i - 32);
        cases[i]->start.hub_depth = -0.3 + 0.009 * i;
        cases[i]->step_count = 1;
        cases[i]->steps[0].speed = 0.3 + 0.01 * i;
        cases[i]->steps[0].until.hub_depth = NAN;
        cases[i]->steps[0].until.after = 0.1;
        cases[i]->time_limit = 0.8;
    }
    free(launch);
    return 0;
}

static int free_cases(void **state)
{
    (void)state;
    for (int i = 0; i < RUNS; i++) free(cases[i]);
    return 0;
}

/* Closed form: equal bytes. Each of the 64 hashes differs from the others, so they are runs of their own. */
static void repeats_give_the_same_bytes(void **state)
{
    (void)state;
    for (int i = 0; i < RUNS; i++) {
        alone[i] = record_hash(cases[i]);
        assert_true(alone[i] != 0);
        for (int j = 0; j < i; j++) assert_true(alone[j] != alone[i]);
    }
    for (int i = 0; i < RUNS; i += 16) assert_true(record_hash(cases[i]) == alone[i]);
}

typedef struct share {
    int first, stride;
    const int *order;
    uint64_t *hash;
} share;

static void *work(void *context)
{
    const share *s = context;
    for (int i = s->first; i < RUNS; i += s->stride) s->hash[s->order[i]] = record_hash(cases[s->order[i]]);
    return NULL;
}

/* Design 2: shuffled order, 1, 2, 3 and 8 threads, each run the hash it has alone. */
static void threads_do_not_matter(void **state)
{
    (void)state;
    const int counts[] = {1, 2, 3, MOST_THREADS};
    uint64_t random = 7, hash[RUNS];
    int order[RUNS];
    for (int i = 0; i < RUNS; i++) order[i] = i;
    for (int c = 0; c < 4; c++) {
        pthread_t threads[MOST_THREADS];
        share shares[MOST_THREADS];
        for (int i = RUNS - 1; i > 0; i--) {
            random = random * 6364136223846793005ULL + 1442695040888963407ULL;
            int j = (int)((random >> 33) % (uint64_t)(i + 1)), kept = order[i];
            order[i] = order[j];
            order[j] = kept;
        }
        memset(hash, 0, sizeof hash);
        for (int t = 0; t < counts[c]; t++) {
            shares[t] = (share){.first = t, .stride = counts[c], .order = order, .hash = hash};
            assert_int_equal(pthread_create(&threads[t], NULL, work, &shares[t]), 0);
        }
        for (int t = 0; t < counts[c]; t++) assert_int_equal(pthread_join(threads[t], NULL), 0);
        for (int i = 0; i < RUNS; i++)
            if (hash[i] != alone[i]) fail_msg("run %d differs with %d threads", i, counts[c]);
    }
}

/* Every accepted step's time, state and ledger from here to the end. */
static uint64_t rest_hash(dd_run *run)
{
    uint64_t hash = HASH_START;
    while (!run_finished(run)) {
        MUST(dd_run_step(run, error));
        const double t = dd_ode_time(run->ode);
        dd_ledger_balance balance = dd_ledger_balance_of(run->ledger);
        hash = hash_bytes(hash, &t, sizeof t);
        hash = hash_bytes(hash, dd_ode_state(run->ode), (size_t)run->m->system->size * sizeof(double));
        hash = hash_bytes(hash, &balance, sizeof balance);
    }
    return hash;
}

static void check_save(const char *name, double time)
{
    dd_case *scenario = scenario_read(name, NULL);
    dd_run *run = NULL, *restored = NULL;
    void *bytes = NULL;
    size_t size = 0;
    MUST(dd_run_create(scenario, &run, error));
    MUST(run_until(run, time, error));
    MUST(dd_run_save(run, &bytes, &size, error));
    MUST(dd_run_create(scenario, &restored, error));
    MUST(dd_run_restore(restored, bytes, size, error));
    dd_run_view a, b;
    memset(&a, 0, sizeof a);
    memset(&b, 0, sizeof b);
    dd_run_state(run, &a);
    dd_run_state(restored, &b);
    assert_memory_equal(&a, &b, sizeof a);
    const uint64_t saving = rest_hash(run), restoring = rest_hash(restored);
    assert_true(saving == restoring);
    assert_true(run->procedure.state == DD_PROCEDURE_DONE);
    free(bytes);
    dd_run_free(run);
    dd_run_free(restored);
    free(scenario);
}

/* Closed form: the same bits to the end, saved while rolling down, in the middle of a person's reaction, and afloat being pushed. */
static void saving_and_restoring_give_the_same_bits(void **state)
{
    (void)state;
    check_save("launch", 5);
    check_save("launch", 14.3);
    check_save("launch-cross-stream", 20.3);
    check_save(richest_scenarios[0], 20);  /* wound in, moving arms */
    check_save(richest_scenarios[1], 2.5); /* at the helm */
}

/* A save belongs to its scenario: one that differs in a single value, or in the tolerance, refuses it and stays as it was; the same
   scenario read again takes it. Closed form (yes or no). */
static void another_scenario_is_refused(void **state)
{
    (void)state;
    const char *const lighter[] = {"trailer.mass=359.999999 kg", NULL}, *const finer[] = {"tolerance=fine", NULL},
                     *const later[] = {"procedure[1].time limit=31 s", NULL};
    const char *const *const others[] = {lighter, finer, later};
    dd_case *scenario = scenario_read("launch", NULL), *again = scenario_read("launch", NULL);
    dd_run *run = NULL, *other = NULL;
    void *bytes = NULL;
    size_t size = 0;
    MUST(dd_run_create(scenario, &run, error));
    MUST(run_until(run, 2, error));
    MUST(dd_run_save(run, &bytes, &size, error));
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        dd_error refused = {.status = DD_OK};
        dd_case *changed = scenario_read("launch", others[i]);
        MUST(dd_run_create(changed, &other, error));
        const double before = dd_ode_time(other->ode);
        assert_int_equal(dd_run_restore(other, bytes, size, &refused), DD_ERROR_ARGUMENT);
        assert_true(dd_ode_time(other->ode) == before);
        MUST(dd_run_step(other, error));
        dd_run_free(other);
        free(changed);
    }
    MUST(dd_run_create(again, &other, error));
    MUST(dd_run_restore(other, bytes, size, error));
    dd_run_free(other);
    dd_run_free(run);
    free(bytes);
    free(scenario);
    free(again);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(repeats_give_the_same_bytes),
        cmocka_unit_test(threads_do_not_matter),
        cmocka_unit_test(saving_and_restoring_give_the_same_bits),
        cmocka_unit_test(another_scenario_is_refused),
    };
    return cmocka_run_group_tests(tests, make_cases, free_cases);
}
