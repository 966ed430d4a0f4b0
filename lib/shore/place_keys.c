/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys of the block `place`. */
#include "lib/shore/shore.h"

#define PI 3.14159265358979323846
#define PLACE(field) .offset = offsetof(dd_site, field)

/* clang-format off */
const dd_key dd_place_keys[] = {
    {.name = "latitude", .type = DD_KEY_QUANTITY, .dimension = DD_ANGLE, PLACE(latitude), .least = -PI / 2, .most = PI / 2, .fallback = NAN,
     .fallback_text = "not given: no daylight", .source = "the program", .unit = "deg", .help = "of the ramp, > 0 north: for sunrise and sunset"},
    {.name = "longitude", .type = DD_KEY_QUANTITY, .dimension = DD_ANGLE, PLACE(longitude), .least = -PI, .most = PI, .fallback = NAN,
     .fallback_text = "not given: no daylight", .source = "the program", .unit = "deg", .help = "of the ramp, > 0 east: for sunrise and sunset"},
    {.name = "time zone", .type = DD_KEY_TEXT, PLACE(time_zone), .size = sizeof(((dd_site *)0)->time_zone), .fallback = NAN,
     .least = -INFINITY, .most = INFINITY, .help = "name in the system's time zone database, as Europe/London; without it times are UTC"},
    {0}};
/* clang-format on */
