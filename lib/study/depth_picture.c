/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines of the cross-sections: the rig at the shallowest, the best and the deepest place, boat at home. */
#include "lib/base/error.h"
#include "lib/study/depth_report.h"
#include "lib/study/picture.h"

static const char *const names[] = {"least", "best", "most"};

static void put_shapes(dd_depth_answer *a, const dd_result *drawn)
{
    dd_reporter *r = a->report;
    dd_reporter_table(r, "side", "Lines of the cross-sections", DD_REPORT_DRAWN);
    dd_reporter_datum(r, dd_depth_datum(a));
    dd_reporter_column(r, "view", "", 0, "number of the place");
    dd_reporter_column(r, "place", "", 0, "shallowest, best, deepest");
    dd_reporter_column(r, "line", "", 0, "number of the line");
    dd_reporter_column(r, "shape", "", 0, "what the line is");
    dd_reporter_column(r, "x", "m", 4, "seaward of the crest");
    dd_reporter_column(r, "z", "m", 4, "up, on the ramp's datum");
    for (int s = 0; s < drawn->shape_count; s++) {
        const dd_shape *shape = &drawn->shapes[s];
        for (int i = 0; i < shape->count; i++) {
            dd_reporter_value(r, shape->event);
            dd_reporter_words(r, "%s", a->band.works ? names[shape->event] : "nearest");
            dd_reporter_value(r, s);
            dd_reporter_words(r, "%s", shape->name);
            dd_reporter_value(r, shape->xy[2 * i]);
            dd_reporter_value(r, shape->xy[2 * i + 1]);
        }
    }
}

dd_status dd_depth_picture(dd_depth_answer *a, dd_error *error)
{
    if (a->levels <= 0) return DD_OK;
    const dd_depth_place *places[] = {&a->band.least, &a->band.best, &a->band.most};
    dd_result *drawn = NULL;
    dd_recorder *recorder = dd_recorder_create("", "depth");
    if (recorder == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_ramp_depth", "no memory for the picture");
    dd_status status = DD_OK;
    for (int i = 0; i < 3 && status == DD_OK; i++) {
        dd_depth_look look;
        const dd_event event = {.time = 0, .rig_x = places[i]->look.x};
        int index = i;
        if (!a->band.works && i > 0) break;
        status = dd_depth_look_at(&a->depth, places[i]->look.x, &look, NULL, error);
        if (status == DD_OK) status = dd_recorder_event(recorder, &event, &index);
        if (status == DD_OK) status = dd_picture_draw(a->depth.m, &a->depth.m->workspace->kinematics, 1, i, recorder);
    }
    dd_error unfinished;
    const dd_status finished = dd_recorder_finish(recorder, &drawn, &unfinished);
    if (status == DD_OK && finished != DD_OK) {
        status = finished;
        if (error != NULL) *error = unfinished;
    }
    if (status == DD_OK) put_shapes(a, drawn);
    dd_result_free(drawn);
    return status;
}
