/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of what is asked of where supports bear. */
#include "lib/case/case.h"
#include "lib/base/numbers.h"

#define FIELD(field) .offset = offsetof(dd_requirement, field)
#define LENGTH(name_, field, least_, most_, unit_) .name = name_, .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, FIELD(field), .least = least_, .most = most_, .unit = unit_
#define WITHIN(words) {LENGTH("within", within, 0, 20, "mm"), .fallback = NAN, .required = true, .help = words}

/* clang-format off */
const dd_key dd_requirement_keys[] = {
    {.name = "name", .type = DD_KEY_TEXT, FIELD(name), .size = sizeof(((dd_requirement *)0)->name), .fallback = NAN,
     .help = "of the zone or bulkhead, for the messages"},
    {.name = "source", .type = DD_KEY_TEXT, FIELD(source), .size = sizeof(((dd_requirement *)0)->source), .fallback = NAN, .required = true,
     .help = "who asks it: a handbook and its page"},
    {0}};

static const dd_key zone_rows[] = {
    {LENGTH("from", from, -2, 50, "m"), .fallback = NAN, .required = true, .help = "its rear end, from the transom along the keel"},
    {LENGTH("to", to, -2, 50, "m"), .fallback = NAN, .required = true, .help = "its front end, from the transom along the keel"},
    {LENGTH("inner", inner, 0, 5, "mm"), .fallback = 0, .source = "the program", .help = "half breadth at which it begins, each side alike"},
    {LENGTH("outer", outer, 0, 5, "mm"), .fallback = 5, .source = "the program", .help = "half breadth at which it ends, each side alike"},
    {0}};
static const dd_key transom_rows[] = {WITHIN("of the transom to the nearest support, at most"), {0}};
static const dd_key bulkhead_rows[] = {
    {LENGTH("at", at, 0, 50, "m"), .fallback = NAN, .required = true, .help = "of the bulkhead, from the transom along the keel"},
    WITHIN("of the bulkhead to the nearest support, at most"), {0}};
static const dd_key overhang_rows[] = {WITHIN("of the transom past the last support, at most"), {0}};
static const dd_key pressure_rows[] = {
    {.name = "most", .type = DD_KEY_QUANTITY, .dimension = DD_PRESSURE, FIELD(most), .least = 1, .most = 1e9, .fallback = NAN, .required = true,
     .unit = "kPa", .help = "peak pressure of a roller on the hull, heights at their worst"},
    {0}};

const dd_key_variant dd_requirement_variants[] = {
    [DD_REQUIRE_NO_ROLLERS] = {"no rollers", "a zone of the bottom that no roller or skid may bear on", zone_rows},
    [DD_REQUIRE_TRANSOM] = {"transom", "a support near the transom", transom_rows},
    [DD_REQUIRE_BULKHEAD] = {"bulkhead", "a support near a bulkhead", bulkhead_rows},
    [DD_REQUIRE_OVERHANG] = {"overhang", "little of the hull past the last support", overhang_rows},
    [DD_REQUIRE_PRESSURE] = {"pressure", "little pressure under every roller", pressure_rows},
    {0}};
/* clang-format on */

bool dd_requirement_holds(const void *structure, char *message, size_t size, const char **key)
{
    const dd_seating *s = structure;
    *key = "requirements";
    for (int i = 0; i < s->requirement_count; i++) {
        const dd_requirement *q = &s->requirements[i];
        if (q->kind != DD_REQUIRE_NO_ROLLERS || (q->from < q->to && q->inner < q->outer)) continue;
        dd_text(message, size, "requirement %d: found a zone from %g m to %g m and from %g mm to %g mm out, expected each to rise", i + 1, q->from, q->to,
                1e3 * q->inner, 1e3 * q->outer);
        return false;
    }
    return true;
}
