/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/property/scenarios.h"

const char *const shipped_scenarios[4] = {"launch", "launch-cross-stream", "retrieve", "retrieve-cross-stream"};
const char *const richest_scenarios[2] = {"../tests/property/rocker-stream-retrieve", "rigs/five-skid-drive-on-retrieve"};

void near_to(double value, double expected, double tolerance, const char *what, const char *file, int line)
{
    if (fabs(value - expected) <= tolerance) return;
    print_message("%s:%d: %s is %.12g, expected %.12g within %.3g\n", file, line, what, value, expected, tolerance);
    _fail(file, line);
}

dd_case *scenario_read(const char *name, const char *const *overrides)
{
    char path[1024];
    dd_case_file *file = NULL;
    dd_error_list list = {0};
    static const char *const search[] = {SOURCE_DIR "/scenarios", NULL};
    snprintf(path, sizeof path, SOURCE_DIR "/scenarios/%s.yaml", name);
    if (dd_case_read(path, overrides, search, &file, &list) != DD_OK)
        fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
    dd_case *copy = malloc(sizeof *copy);
    assert_non_null(copy);
    *copy = *dd_case_of(file);
    dd_case_free(file);
    dd_error_list_free(&list);
    return copy;
}

int run_finished(const dd_run *run)
{
    dd_run_view view;
    dd_run_state(run, &view);
    return view.finished;
}

void make_prismatic(dd_case *scenario, double deadrise)
{
    dd_hull_parameters *p = &scenario->boat;
    dd_hull_defaults(p);
    p->mass = 1150;
    p->mass_of = DD_MASS_READY_TO_GO;
    p->engine_power = 0;
    p->lines = DD_LINES_STRAIGHT;
    p->centre_from_transom = 1.95;
    p->centre_height = 0.55;
    p->roll_radius = 0.7;
    p->station_count = 2;
    for (int i = 0; i < 2; i++)
        p->stations[i] = (dd_station){.at = 5.0 * i,
                                      .chine_half_breadth = 0.95,
                                      .chine_height = 0.95 * tan(deadrise),
                                      .sheer_half_breadth = 1.05,
                                      .sheer_height = 1.1};
    for (int i = 0; i < scenario->trailer.support_count; i++) {
        scenario->trailer.supports[i].deadrise = deadrise;
        scenario->trailer.supports[i].above_ground = 0.56;
    }
}

dd_status run_until(dd_run *run, double time, dd_error *error)
{
    dd_status status = DD_OK;
    while (status == DD_OK && !run_finished(run) && dd_ode_time(run->ode) < time) status = dd_run_step(run, error);
    return status;
}

typedef struct sampling {
    samples *s;
    double next;
} sampling;

static dd_status sample_step(dd_run *run, double t, int at_end, void *context, dd_error *error)
{
    sampling *in = context;
    samples *s = in->s;
    const dd_system *system = run->m->system;
    const double *channels = run->m->workspace->channels;
    (void)error;
    int strap = dd_system_channel(system, &dd_force_strap, 0, "strap_tension_N");
    if (strap >= 0) s->strap_peak = fmax(s->strap_peak, channels[strap]);
    if (!at_end) return DD_OK;
    double y[DD_STATE_MEMORY + 1024];
    assert_true(system->size <= (int)(sizeof y / sizeof y[0]));
    for (; in->next <= t && s->count < MOST_SAMPLES; in->next += s->interval) {
        dd_ode_interpolate(run->ode, in->next, y);
        s->position[s->count] = dd_vec(y[DD_STATE_POSITION], y[DD_STATE_POSITION + 1], y[DD_STATE_POSITION + 2]);
        if (dd_run_evaluate(run, in->next, DD_WANT_CHANNELS) != 0) return DD_ERROR_NOT_FINITE;
        s->strap[s->count++] = strap >= 0 ? channels[strap] : 0;
    }
    s->end = t;
    return DD_OK;
}

dd_status sample_run(dd_run *run, double interval, double time, samples *s, dd_error *error)
{
    sampling in = {.s = s, .next = interval};
    *s = (samples){.interval = interval};
    run->look = sample_step;
    run->look_context = &in;
    dd_status status = run_until(run, time, error);
    run->look = NULL;
    return status;
}

uint64_t hash_bytes(uint64_t hash, const void *bytes, size_t size)
{
    const unsigned char *at = bytes;
    for (size_t i = 0; i < size; i++) hash = (hash ^ at[i]) * 1099511628211ULL;
    return hash;
}
