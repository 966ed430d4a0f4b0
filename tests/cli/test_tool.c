/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts of the command line that a shipped scenario cannot provoke: a run that could not be completed, and a verdict with every
   text as long as it can be. The study is made up; everything else is the tool's own. All compared exactly. */
#include "lib/base/error.h"
#include "lib/record/recorder.h"
#include "tools/drawdock/command.h"
#include <errno.h>
#include <math.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <cmocka.h>
#include <jansson.h>

/* A file system that cannot exchange two names, when wanted. */
static bool no_exchange;
int __real_renameat2(int old_folder, const char *old_path, int new_folder, const char *new_path, unsigned flags);
int __wrap_renameat2(int old_folder, const char *old_path, int new_folder, const char *new_path, unsigned flags);
int __wrap_renameat2(int old_folder, const char *old_path, int new_folder, const char *new_path, unsigned flags)
{
    if (!no_exchange) return __real_renameat2(old_folder, old_path, new_folder, new_path, flags);
    errno = EINVAL;
    return -1;
}

/* A study that computes 2 s; title "whole": to the end; "interrupted": a signal comes; else it stops there. */
static dd_status made_up_study(const dd_case *scenario, dd_progress look, void *context, dd_result **result, dd_error *error)
{
    bool whole = strcmp(scenario->title, "whole") == 0;
    dd_recorder *recorder = dd_recorder_create(scenario->title, "run");
    assert_non_null(recorder);
    assert_int_equal(dd_recorder_column(recorder, "time_s", "s", "time"), DD_OK);
    for (int i = 0; i <= 20; i++) {
        double time = 0.1 * i;
        assert_int_equal(dd_recorder_row(recorder, &time), DD_OK);
        if (strcmp(scenario->title, "interrupted") == 0 && i == 10) assert_int_equal(raise(SIGINT), 0);
        if (look(time / 2, time, context) != 0) {
            assert_int_equal(i, 10); /* at once, not at the end */
            dd_recorder_free(recorder);
            return dd_fail(error, DD_ERROR_CANCELLED, "run", "cancelled");
        }
    }
    assert_string_not_equal(scenario->title, "interrupted");
    dd_result *made = dd_recorder_result(recorder);
    made->verdict = whole ? DD_VERDICT_WITHIN : DD_VERDICT_INCOMPLETE;
    strcpy(made->word, whole ? "launch works" : "could not be computed");
    if (!whole) dd_fail(&made->failure, DD_ERROR_STEP, "t = 2 s", "the keel roller is the likely cause");
    dd_error failure = made->failure;
    assert_int_equal(dd_recorder_finish(recorder, result, error), DD_OK);
    if (failure.status != DD_OK) *error = failure;
    return failure.status;
}

static char *contents(const char *path)
{
    static char text[65536];
    FILE *file = fopen(path, "r");
    if (!file) fail_msg("%s cannot be read", path);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    return text;
}

/* Calls the command with stdout and stderr in ./out and ./err. */
static int run_title(const char *title, const char *folder)
{
    char scenario[] = SOURCE_DIR "/scenarios/launch.yaml", override[64];
    char *operands[] = {scenario, NULL};
    snprintf(override, sizeof override, "title=%s", title);
    options given = {.command = COMMAND_run,
                     .operand_count = 1,
                     .operands = operands,
                     .output = folder,
                     .with = {override},
                     .with_count = 1,
                     .no_plots = true};
    int out = dup(STDOUT_FILENO), err = dup(STDERR_FILENO);
    assert_non_null(freopen("out", "w", stdout));
    assert_non_null(freopen("err", "w", stderr));
    int status = study_command(&given, made_up_study);
    fflush(stdout);
    fflush(stderr);
    dup2(out, STDOUT_FILENO);
    dup2(err, STDERR_FILENO);
    close(out);
    close(err);
    return status;
}

static bool is_complete(const char *path)
{
    json_t *root = json_load_file(path, 0, NULL);
    assert_true(json_is_boolean(json_object_get(root, "complete")));
    bool complete = json_is_true(json_object_get(root, "complete"));
    assert_int_equal(json_is_null(json_object_get(root, "failure")), complete);
    json_decref(root);
    return complete;
}

static void an_incomplete_run_is_marked(void **state)
{
    (void)state;
    assert_int_equal(run_title("stops", "fresh"), STATUS_NOT_DONE);
    assert_false(is_complete("fresh/result.json"));
    assert_non_null(strstr(contents("fresh/timeline.csv"), "\n2\n")); /* what was computed so far */
    assert_non_null(strstr(contents("out"), "INCOMPLETE, no verdict"));
    assert_string_equal(contents("err"), "t = 2 s: the keel roller is the likely cause\n"
                                         "  to mend it: see the time, the state and the likely cause in the message\n");
    assert_int_equal(run_title("stops", "fresh"), STATUS_NOT_DONE); /* replaces one like it */
    assert_true(access("fresh.incomplete", F_OK) != 0);
    assert_int_equal(run_title("whole", "fresh"), STATUS_WITHIN); /* and is replaced by a complete one */
    assert_true(is_complete("fresh/result.json"));
}

static void an_incomplete_run_never_replaces_a_complete_one(void **state)
{
    (void)state;
    assert_int_equal(run_title("whole", "good"), STATUS_WITHIN);
    for (int i = 0; i < 2; i++) {
        assert_int_equal(run_title("stops", "good"), STATUS_NOT_DONE);
        assert_true(is_complete("good/result.json"));
        assert_false(is_complete("good.incomplete/result.json"));
        assert_non_null(strstr(contents("err"), "good holds a complete result and is left alone"));
    }
}

static void fill(char *text, size_t size, const char *words)
{
    text[0] = '\0';
    while (strlen(text) + strlen(words) + 1 < size) strcat(text, words);
}

/* Everything at its longest still fits a screen of 80 x 24 with the prompt on it. */
static void the_longest_verdict_fits_a_screen(void **state)
{
    (void)state;
    dd_recorder *recorder = dd_recorder_create("", "run");
    dd_result *result = dd_recorder_result(recorder);
    fill(result->title, sizeof result->title, "Évening lånch ");
    fill(result->word, sizeof result->word, "on a ");
    fill(result->sentence, sizeof result->sentence, "because of the stern ");
    for (int i = 0; i < 40; i++) {
        dd_event event = {.time = 1e6 + i, .rig_x = -1e6};
        fill(event.name, sizeof event.name, "støp ");
        fill(event.detail, sizeof event.detail, "détail ");
        dd_margin margin = {.value = -1.23456789e100, .limit = 9.87654321e5, .share = 1e5, .broken = i % 2};
        fill(margin.name, sizeof margin.name, "ünlimited ");
        fill(margin.unit, sizeof margin.unit, "N m ");
        assert_int_equal(dd_recorder_event(recorder, &event, NULL), DD_OK);
        assert_int_equal(dd_recorder_margin(recorder, &margin), DD_OK);
        assert_int_equal(dd_recorder_unchecked(recorder, "%d: the load of the foremost roller has no rating in the file", i),
                         DD_OK);
        assert_int_equal(dd_recorder_assumed(recorder, "%d: a figure", i), DD_OK);
    }
    FILE *out = fopen("screen", "w+");
    assert_non_null(out);
    screen_print(result, DD_REPORT_METRIC, "/a/folder",
                 "timeline.csv events.csv limits.csv side.csv result.json strap.svg wheels.svg alignment.svg", out);
    rewind(out);
    int lines = 0, columns = 0;
    for (int c; (c = fgetc(out)) != EOF;) {
        if (c == '\n') {
            lines++;
            columns = 0;
        } else if ((c & 0xC0) != 0x80) {
            columns++;
        }
        assert_in_range(columns, 0, 79);
        assert_true(c == '\n' || c >= ' ');
    }
    assert_in_range(lines, 15, 23);
    fclose(out);
    dd_recorder_free(recorder);
}

static void folders_are_replaced_without_exchange_too(void **state)
{
    (void)state;
    assert_int_equal(run_title("stops", "plain"), STATUS_NOT_DONE);
    no_exchange = true;
    int status = run_title("whole", "plain");
    no_exchange = false;
    assert_int_equal(status, STATUS_WITHIN);
    assert_true(is_complete("plain/result.json"));
    assert_int_equal(system("test -z \"$(find . -name '.drawdock-*')\""), 0); /* nothing is left behind */
}

/* Last, since the flag of the signal stays. */
static void an_interrupt_reaches_the_study(void **state)
{
    (void)state;
    interrupt_watch();
    assert_int_equal(run_title("interrupted", "never"), STATUS_INTERRUPTED);
    assert_true(access("never", F_OK) != 0);
    assert_string_equal(contents("err"), "drawdock: interrupted; nothing was written\n");
}

static int enter_folder(void **state)
{
    static char folder[] = "/tmp/drawdock-tool-XXXXXX";
    *state = folder;
    return mkdtemp(folder) && chdir(folder) == 0 ? 0 : -1;
}

static int leave_folder(void **state)
{
    char command[256];
    snprintf(command, sizeof command, "rm -r %s", (const char *)*state);
    return chdir("/") == 0 && system(command) == 0 ? 0 : -1;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_incomplete_run_is_marked),
        cmocka_unit_test(an_incomplete_run_never_replaces_a_complete_one),
        cmocka_unit_test(folders_are_replaced_without_exchange_too),
        cmocka_unit_test(the_longest_verdict_fits_a_screen),
        cmocka_unit_test(an_interrupt_reaches_the_study),
    };
    return cmocka_run_group_tests(tests, enter_folder, leave_folder);
}
