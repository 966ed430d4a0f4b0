/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A launch or retrieve stepped from a loop of one's own, as a game or a trainer would: look at each step, save a moment, come
   back to it and see that the same follows. ./a.out scenarios/launch.yaml */
#include <drawdock/drawdock.h>
#include <stdio.h>
#include <stdlib.h>

/* On to the moment, or to the end of the procedure. */
static dd_status on_to(dd_run *run, double moment, dd_run_view *view, dd_error *error)
{
    dd_status status = DD_OK;
    for (dd_run_state(run, view); status == DD_OK && view->time < moment && !view->finished; dd_run_state(run, view))
        status = dd_run_step(run, error);
    return status;
}

static dd_status play(dd_run *run, dd_error *error)
{
    dd_run_view view, again;
    dd_status status = DD_OK;
    for (double moment = 2; status == DD_OK && moment <= 8; moment += 2) {
        status = on_to(run, moment, &view, error);
        printf("%5.2f s: hub %+.2f m under water, strap %.0f N, supports %.0f N\n", view.time, view.hub_depth, view.strap_tension,
               view.support_load);
    }
    void *bytes = NULL;
    size_t size = 0;
    if (status == DD_OK) status = dd_run_save(run, &bytes, &size, error);
    if (status == DD_OK) status = on_to(run, 10, &view, error);
    if (status == DD_OK) status = dd_run_restore(run, bytes, size, error);
    if (status == DD_OK) status = on_to(run, 10, &again, error);
    free(bytes);
    if (status == DD_OK) printf("saved and restored: %s\n", view.strap_tension == again.strap_tension ? "the same bits" : "differs");
    return status == DD_OK && view.strap_tension != again.strap_tension ? DD_ERROR_LIBRARY : status;
}

int main(int argc, char **argv)
{
    if (argc < 2) return 2;
    dd_case_file *file = NULL;
    dd_error_list wrong = {0};
    dd_run *run = NULL;
    dd_error error = {0};
    if (dd_case_read(argv[1], NULL, NULL, &file, &wrong) != DD_OK) {
        fprintf(stderr, "%s\n", wrong.count > 0 ? wrong.errors[0].message : "not read");
        dd_error_list_free(&wrong);
        return 2;
    }
    dd_error_list_free(&wrong);
    dd_status status = dd_run_create(dd_case_of(file), &run, &error);
    if (status == DD_OK) status = play(run, &error);
    if (status != DD_OK) fprintf(stderr, "%s: %s\n", error.place, error.message);
    dd_run_free(run);
    dd_case_free(file);
    return status == DD_OK ? 0 : 3;
}
