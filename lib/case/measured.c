/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/case/measured.h"
#include "lib/base/numbers.h"
#include <string.h>

#define TAKEN(field) .offset = offsetof(dd_measured, field)
#define OPEN .least = -INFINITY, .most = INFINITY
#define MASS .type = DD_KEY_QUANTITY, .dimension = DD_MASS, .unit = "kg"
#define LENGTH .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH

const dd_key dd_measured_keys[] = {{.name = "loading",
                                    .type = DD_KEY_TEXT,
                                    TAKEN(loading),
                                    .size = sizeof(((dd_measured *)0)->loading),
                                    .fallback = NAN,
                                    .fallback_text = "as given aboard",
                                    .source = "the program",
                                    OPEN,
                                    .help = "the named state of loading in which it was taken"},
                                   {0}};

#define READING(least_)                                                                                                        \
    {                                                                                                                          \
        .name = "reading", MASS, TAKEN(mass), .least = least_, .most = 1e6, .fallback = NAN, .required = true,                 \
        .help = "what the scale showed"                                                                                        \
    }
#define STEP(default_)                                                                                                         \
    {                                                                                                                          \
        .name = "scale step", MASS, TAKEN(scale_step), .least = 0, .most = 1000, .fallback = default_,                         \
        .source = "scale readings", .help = "the smallest step that the scale shows"                                           \
    }
#define AXLE                                                                                                                   \
    {                                                                                                                          \
        .name = "axle", .type = DD_KEY_COUNT, TAKEN(axle), .least = 1, .most = DD_AXLES, .fallback = 1,                        \
        .source = "the program", .help = "which axle of the trailer, from 1, the front one"                                    \
    }

static const char *const sides[] = {"port", "starboard", NULL};
#define SIDE                                                                                                                   \
    {                                                                                                                          \
        .name = "side", .type = DD_KEY_CHOICE, TAKEN(side), .choices = sides, .fallback = NAN, .required = true, OPEN,         \
        .help = "port or starboard"                                                                                            \
    }

static const dd_key bridge_rows[] = {READING(0), STEP(20), {0}};
static const dd_key coupling_rows[] = {READING(-1e6),
                                       STEP(1),
                                       {.name = "coupling height",
                                        LENGTH,
                                        TAKEN(coupling_height),
                                        .least = 0.05,
                                        .most = 3,
                                        .fallback = NAN,
                                        .fallback_text = "as coupled",
                                        .source = "the program",
                                        .unit = "mm",
                                        .help = "of the coupling above the ground as it was weighed; weighed again as high as it can be raised it tells of the centre's height"},
                                       {0}};
static const dd_key axle_rows[] = {READING(0), STEP(20), AXLE, {0}};
static const dd_key wheel_rows[] = {READING(0), STEP(20), AXLE, SIDE, {0}};
static const dd_key freeboard_rows[] = {{.name = "reading",
                                         LENGTH,
                                         TAKEN(freeboard),
                                         .least = -5,
                                         .most = 20,
                                         .fallback = NAN,
                                         .required = true,
                                         .unit = "mm",
                                         .help = "height of the sheer above the water"},
                                        {.name = "from transom",
                                         LENGTH,
                                         TAKEN(from_transom),
                                         .least = -500,
                                         .most = 500,
                                         .fallback = 0,
                                         .source = "the program",
                                         .help = "where along the boat it was taken"},
                                        SIDE,
                                        {.name = "tape step",
                                         LENGTH,
                                         TAKEN(tape_step),
                                         .least = 0,
                                         .most = 0.2,
                                         .fallback = 0.005,
                                         .source = "scale readings",
                                         .unit = "mm",
                                         .help = "to what the freeboard was read"},
                                        {.name = "water density",
                                         .type = DD_KEY_QUANTITY,
                                         .dimension = DD_DENSITY,
                                         TAKEN(water_density),
                                         .least = 900,
                                         .most = 1300,
                                         .fallback = 1025,
                                         .source = "water density",
                                         .help = "of the water it floated in: 1025 kg/m3 at sea, 1000 in a lake"},
                                        {0}};

const dd_key_variant dd_measured_variants[] = {
    [DD_READ_BOAT] = {"boat", "the boat alone, in slings", bridge_rows},
    [DD_READ_UNCOUPLED] = {"trailer uncoupled", "trailer with boat, off the vehicle, wheels and jockey wheel on the scale", bridge_rows},
    [DD_READ_AXLE_GROUP] = {"axle group", "all wheels of the trailer, coupled", bridge_rows},
    [DD_READ_COUPLING] = {"coupling", "the load at the coupling, wheels on level ground", coupling_rows},
    [DD_READ_AXLE] = {"axle", "one axle of the trailer, coupled", axle_rows},
    [DD_READ_WHEEL] = {"wheel", "one wheel of the trailer, coupled", wheel_rows},
    [DD_READ_VEHICLE_FRONT] = {"vehicle front axle", "front axle of the vehicle, coupled, as the scenario loads it", bridge_rows},
    [DD_READ_VEHICLE_REAR] = {"vehicle rear axle", "rear axle of the vehicle, coupled, as the scenario loads it", bridge_rows},
    [DD_READ_COMBINATION] = {"combination", "vehicle and trailer, all wheels", bridge_rows},
    [DD_READ_FREEBOARD] = {"freeboard", "the sheer above the water, boat afloat and at rest", freeboard_rows},
    {0}};

int dd_loading_named(const dd_case *scenario, const char *name)
{
    if (name[0] == '\0') return -1;
    for (int i = 0; i < scenario->loading_count; i++)
        if (strcmp(scenario->loadings[i].name, name) == 0) return i;
    return -2;
}

bool dd_measured_are_whole(const void *structure, char *message, size_t size, const char **key)
{
    const dd_case *scenario = structure;
    *key = "measured";
    for (int i = 0; i < scenario->measured_count; i++) {
        const dd_measured *m = &scenario->measured[i];
        const bool one_axle = m->what == DD_READ_AXLE || m->what == DD_READ_WHEEL;
        if (dd_loading_named(scenario, m->loading) == -2)
            dd_text(message, size, "reading %d: found the state of loading '%s', expected the name of one under loadings", i + 1, m->loading);
        else if (one_axle && m->axle > scenario->trailer.axle_count)
            dd_text(message, size, "reading %d: found axle %d, expected 1 to %d", i + 1, m->axle, scenario->trailer.axle_count);
        else
            continue;
        return false;
    }
    return true;
}
