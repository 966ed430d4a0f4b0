/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A trailer without brakes. */
#include "lib/rig/brake/brake.h"
#include <drawdock/rules.h>

static void evaluate(const dd_trailer_braking *b, const dd_brake_input *input, const double *state, dd_brake_output *output)
{
    (void)b, (void)input, (void)state;
    *output = (dd_brake_output){0};
}

static const char *const sources[] = {NULL};

const dd_brake_kind dd_brake_none = {
    .name = "none", .help = "no brakes on the trailer", .fitted = DD_FITTED_NONE, .sources = sources, .evaluate = evaluate};
