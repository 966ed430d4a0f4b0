/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rigs drawn at random: each run ends with a verdict, its ledger closed, no figure lost, no support pulling, no hull through the
   ramp. What cannot be (an impossible start) is refused with a reason and another is drawn instead.
   test_random_rigs [COUNT [FIRST SEED [each]]]: 200 from seed 1; `each` prints a line for each seed. */
#include "tests/property/random_rigs.h"
#include "tests/property/scenarios.h"
#include <pthread.h>
#include <time.h>

enum { SUITE = 200, THREADS = 2, KINDS = 32 };

static const double least_afloat_share = 0.6; /* of all draws: launches that get afloat; a retrieve, afloat as it starts, counts for nothing */
static const double least_kind_share = 0.1;   /* of the draws have each kind of support: 200 of 2000, the issue's */
static const double most_refused_share = 0.25; /* of the draws */

static int count = SUITE, prints_each;
static unsigned long first_seed = 1;

typedef struct outcome {
    int counted, refused, launch, afloat, bad;
    unsigned supports;
    double seconds; /* of one processor */
    char word[32], text[400];
} outcome;

typedef struct batch {
    pthread_mutex_t lock;
    int next;
    outcome *outcomes;
} batch;

static int column_of(const dd_result *r, const char *name)
{
    for (int i = 0; i < r->column_count; i++)
        if (strcmp(r->columns[i].name, name) == 0) return i;
    return -1;
}

static int has_event(const dd_result *r, const char *name)
{
    for (int i = 0; i < r->event_count; i++)
        if (strcmp(r->events[i].name, name) == 0) return 1;
    return 0;
}

static int complain(outcome *o, const char *what, double value, double time)
{
    o->bad = 1;
    snprintf(o->text, sizeof o->text, "%s: %.6g at %.3f s", what, value, time);
    return 0;
}

static int is_push(const char *name)
{
    static const char *const names[] = {"strap_tension_N", "stop_load_N",    "chain_tension_N", "ties_tension_N",
                                        "rope_tension_N",  "guide_load_N",   "guide_tip_load_N", "bracket_load_N",
                                        "hull_on_ground_N", "frame_on_ground_N", "hull_on_frame_N"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(name, names[i]) == 0) return 1;
    return strncmp(name, "support ", 8) == 0;
}

/* What has a value only while something is so: a gap while the hull stands beside a guide, the top of a guide that bears, a clearance while the
   engine is down. */
static int comes_and_goes(const char *name)
{
    static const char *const names[] = {"guide_gap_m", "guide_top_above_chine_m", "engine_clearance_m"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(name, names[i]) == 0) return 1;
    return 0;
}

/* Every other figure that the first row has stays finite; what only pushes or only pulls never changes its sign (closed form: 0, to
   the rounding of 1e-9 N); the keel is no deeper in the ground than a ramp gives way, and
   no deeper in the drawbar than that does. */
static int check_rows(const dd_result *r, outcome *o)
{
    static const double ground_gives = 0.06; /* m: three times the squash at which the ground carries the hull's weight */
    static const double frame_gives = 0.03; /* m: three times the squash at which a bar of the frame carries it */
    const int clearance = column_of(r, "keel_clearance_m"), over_frame = column_of(r, "bow_over_frame_m");
    for (int i = 0; i < r->row_count; i++)
        for (int c = 0; c < r->column_count; c++) {
            const double v = r->rows[i * r->column_count + c], t = r->rows[i * r->column_count];
            if (isnan(v) && comes_and_goes(r->columns[c].name)) continue;
            /* blank whenever the ground is not even */
            if (strcmp(r->columns[c].name, "largest_axle_use_on_even_ground_percent") == 0 && isnan(v)) continue;
            if (!isfinite(v) && isfinite(r->rows[c])) return complain(o, r->columns[c].name, v, t);
            if (is_push(r->columns[c].name) && v < -1e-9) return complain(o, r->columns[c].name, v, t);
            if (c == clearance && v < -ground_gives) return complain(o, r->columns[c].name, v, t);
            if (c == over_frame && v < -frame_gives) return complain(o, r->columns[c].name, v, t);
        }
    return 1;
}

static double processor_time(void)
{
    struct timespec now = {0};
    (void)clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void run_one(unsigned long seed, dd_case *scenario, outcome *o)
{
    dd_result *r = NULL;
    dd_error error = {.status = DD_OK};
    random_rig rig = draw_rig(seed, scenario);
    *o = (outcome){.supports = rig.supports, .launch = scenario->action == DD_ACTION_LAUNCH};
    dd_status status = rig.fits ? dd_study_run(scenario, NULL, NULL, &r, &error) : DD_ERROR_ARGUMENT;
    if (r == NULL && status == DD_ERROR_ARGUMENT) {
        o->refused = 1;
        snprintf(o->text, sizeof o->text, "%.120s: %.260s", error.place, error.message);
        return;
    }
    o->counted = 1;
    if (r == NULL || status != DD_OK) {
        o->bad = 1;
        snprintf(o->text, sizeof o->text, "%.120s: %.260s", error.place, error.message);
    } else {
        snprintf(o->word, sizeof o->word, "%s", r->word);
        o->afloat = o->launch && has_event(r, "afloat");
        if (check_rows(r, o)) {
            if (!(r->ledger_residual <= r->ledger_bound)) complain(o, "ledger", r->ledger_residual, 0);
            if (r->word[0] == '\0' || r->sentence[0] == '\0') complain(o, "no verdict", 0, 0);
        }
    }
    dd_result_free(r);
}

static void *work(void *context)
{
    batch *b = context;
    dd_case *scenario = malloc(sizeof *scenario);
    for (int i = 0; scenario != NULL;) {
        (void)pthread_mutex_lock(&b->lock);
        i = b->next++;
        (void)pthread_mutex_unlock(&b->lock);
        if (i >= count) break;
        const double start = processor_time();
        run_one(first_seed + (unsigned long)i, scenario, &b->outcomes[i]);
        b->outcomes[i].seconds = processor_time() - start;
    }
    free(scenario);
    return NULL;
}

static void tell(const outcome *outcomes)
{
    char words[64][32];
    int times[64] = {0}, kinds = 0, supports[KINDS] = {0}, launches = 0, afloat = 0, refused = 0;
    for (int i = 0; i < count; i++) {
        const outcome *o = &outcomes[i];
        refused += o->refused;
        if (!o->counted) continue;
        launches += o->launch;
        afloat += o->afloat;
        for (int k = 0; k < KINDS; k++) supports[k] += (int)(o->supports >> k & 1u);
        int w = 0;
        while (w < kinds && strcmp(words[w], o->word) != 0) w++;
        if (w == kinds && kinds < 64) snprintf(words[kinds++], sizeof words[0], "%s", o->word);
        if (w < 64) times[w]++;
    }
    double seconds = 0;
    int slowest = 0;
    for (int i = 0; i < count; i++) {
        if (prints_each)
            print_message("seed %lu: %.3f s, supports %x, %s: %s %s\n", first_seed + (unsigned long)i, outcomes[i].seconds,
                          outcomes[i].supports, outcomes[i].launch ? "launch" : "retrieve", outcomes[i].word, outcomes[i].text);
        seconds += outcomes[i].seconds;
        if (outcomes[i].seconds > outcomes[slowest].seconds) slowest = i;
    }
    print_message("%.1f s of processor time; the slowest is seed %lu with %.2f s\n", seconds,
                  first_seed + (unsigned long)slowest, outcomes[slowest].seconds);
    print_message("%d drawn, %d refused; %d of %d launches get afloat\n", count, refused, afloat, launches);
    for (int k = 0; k < DD_SUPPORT_KIND_COUNT; k++) print_message("  %-16s %d\n", dd_support_kind_at(k)->name, supports[k]);
    for (int w = 0; w < kinds; w++) print_message("  %-24s %d\n", words[w], times[w]);
}

static void drawn_rigs_run(void **state)
{
    (void)state;
    pthread_t threads[THREADS];
    batch b = {.lock = PTHREAD_MUTEX_INITIALIZER, .outcomes = calloc((size_t)count, sizeof *b.outcomes)};
    assert_non_null(b.outcomes);
    for (int i = 0; i < THREADS; i++) assert_int_equal(pthread_create(&threads[i], NULL, work, &b), 0);
    for (int i = 0; i < THREADS; i++) assert_int_equal(pthread_join(threads[i], NULL), 0);
    tell(b.outcomes);
    int bad = 0, refused = 0, afloat = 0;
    for (int i = 0; i < count; i++) {
        const outcome *o = &b.outcomes[i];
        if (o->bad) print_message("seed %lu (%s): %s\n", first_seed + (unsigned long)i, o->word, o->text);
        bad += o->bad;
        refused += o->refused;
        afloat += o->afloat;
    }
    int kinds[DD_SUPPORT_KIND_COUNT] = {0};
    for (int i = 0; i < count; i++)
        for (int k = 0; k < DD_SUPPORT_KIND_COUNT; k++)
            kinds[k] += b.outcomes[i].counted && (b.outcomes[i].supports >> k & 1u);
    free(b.outcomes);
    assert_int_equal(bad, 0);
    if (count < SUITE) return; /* too few for shares */
    assert_true(refused <= most_refused_share * count);
    assert_true(afloat >= least_afloat_share * count);
    for (int k = 0; k < DD_SUPPORT_KIND_COUNT; k++) assert_true(kinds[k] >= least_kind_share * count);
}

int main(int argc, char **argv)
{
    if (argc > 1) count = atoi(argv[1]);
    if (argc > 2) first_seed = strtoul(argv[2], NULL, 10);
    prints_each = argc > 3;
    const struct CMUnitTest tests[] = {cmocka_unit_test(drawn_rigs_run)};
    return cmocka_run_group_tests_name("random rigs", tests, NULL, NULL);
}
