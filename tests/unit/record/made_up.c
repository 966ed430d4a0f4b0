/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/record/made_up.h"
#include "lib/record/recorder.h"
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

static void add_table(dd_recorder *recorder)
{
    /* The second column may be left out, and is: no row has a figure in it. The last may be and is not. */
    static const char *const names[] = {"time_s", "left_out_m", "strap_tension_N", "support rear \"cradle\", port_N"};
    for (int i = 0; i < 4; i++) {
        assert_int_equal(dd_recorder_column(recorder, names[i], i ? "N" : "s", "a, \"b\"\nc"), DD_OK);
        if (i == 1 || i == 3) dd_recorder_optional(recorder);
    }
    for (int i = 0; i < 100; i++) {
        double row[] = {0.1 * i, i % 2 ? NAN : INFINITY, sin(0.37 * i) * pow(10, i % 13 - 6), i == 7 ? NAN : i == 8 ? -INFINITY : -0.0};
        assert_int_equal(dd_recorder_row(recorder, row), DD_OK);
    }
}

static void add_events(dd_recorder *recorder)
{
    static const double times[] = {7.5, 2.25, 7.5, 1.0 / 3};
    static const char *const names[] = {"afloat", "hub wet", "support lost", "step: back down"};
    for (int i = 0; i < 4; i++) {
        dd_event event = {.time = times[i], .rig_x = 4.5 + i, .hub_depth = -0.1, .value = i == 1 ? NAN : 0.1};
        int index = -1;
        strcpy(event.name, names[i]);
        strcpy(event.detail, "a \"quoted\" detail, with a comma\nand a line's end");
        strcpy(event.value_unit, "m");
        assert_int_equal(dd_recorder_event(recorder, &event, &index), DD_OK);
        assert_int_equal(index, i);
    }
    double line[] = {0, 0, 1, -0.125, 2, -0.25};
    assert_int_equal(dd_recorder_shape(recorder, "hull", 0, line, 3), DD_OK);
    assert_int_equal(dd_recorder_shape(recorder, "ramp", 1, line, 2), DD_OK);
    assert_int_equal(dd_recorder_shape(recorder, "water", -1, line, 1), DD_OK);
}

static void add_margins(dd_recorder *recorder)
{
    static const double shares[] = {0.4, NAN, 1.2, 0.4};
    static const char *const sources[] = {"practice", "no such source", "push guideline", "practice"};
    for (int i = 0; i < 4; i++) {
        dd_margin margin = {.value = 100.0 * i + 0.1, .limit = 250, .share = shares[i], .broken = i == 2, .time = 3.5};
        snprintf(margin.name, sizeof margin.name, "margin %d", i);
        strcpy(margin.unit, "N");
        strcpy(margin.source, sources[i]);
        strcpy(margin.channel, i ? "" : "strap_tension_N");
        assert_int_equal(dd_recorder_margin(recorder, &margin), DD_OK);
    }
}

dd_result *made_up_result(void)
{
    dd_recorder *recorder = dd_recorder_create("Évening \"launch\", falling tide", "run");
    assert_non_null(recorder);
    add_table(recorder);
    add_events(recorder);
    add_margins(recorder);
    for (int i = 0; i < 2; i++) {
        assert_int_equal(dd_recorder_unchecked(recorder, "coupling load: no rating, %s", "given"), DD_OK);
        assert_int_equal(dd_recorder_assumed(recorder, "hull centre %.2f m from the transom", 1.95), DD_OK);
    }
    dd_result *result = dd_recorder_result(recorder);
    result->verdict = DD_VERDICT_INCOMPLETE;
    strcpy(result->word, "launch works");
    strcpy(result->sentence, "Because it floats.");
    const dd_figure gap = {.group = "home", .name = "gap at the bow stop", .value = 0.0125, .unit = "m", .words = "limit 0.02 m"};
    assert_int_equal(dd_recorder_figure(recorder, &gap), DD_OK);
    result->bands = DD_BANDS_DECIDE;
    result->band_count = 1;
    result->band = calloc(1, sizeof *result->band);
    assert_non_null(result->band);
    *result->band = (dd_band){.name = "centre of mass", .unit = "m", .low = 1.9, .likely = 2.0, .high = 2.1, .word_low = "a, \"b\"",
                              .share_low = 0.5, .share_high = NAN, .effect = 10.1, .decides = 1, .how = "tape"};
    strcpy(result->bands_sentence, "It does not hold.");
    result->ledger_residual = 0.1;
    result->ledger_bound = 1e-4;
    result->energy_exchanged = 12345.678901234567;
    result->force_count = 1;
    result->forces[0] = (dd_force_figures){.name = "strap", .work = -12.5, .largest_force = 2743.25, .largest_time = 1.5};
    result->failure.status = DD_ERROR_STEP;
    strcpy(result->failure.message, "the step fell below its limit");
    strcpy(result->failure.place, "t = 3 s");
    strcpy(result->failure.remedy, "use --fine");
    result->derivatives = 1234567;
    result->jacobians = 89;
    result->steps = 900;
    dd_error error = {0};
    assert_int_equal(dd_recorder_finish(recorder, &result, &error), DD_OK);
    return result;
}
