/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys and rules of the block `ramp`. */
#include "lib/shore/shore.h"
#include <stdio.h>

#define FIELD(field) .offset = offsetof(dd_ramp_parameters, field)
#define QUANTITY .type = DD_KEY_QUANTITY

/* clang-format off */
const dd_key dd_surface_keys[] = {
    {.name = "name", .type = DD_KEY_TEXT, .offset = offsetof(dd_surface, name), .size = sizeof(((dd_surface *)0)->name),
     .fallback = NAN, .help = "name of the surface, as in `wet concrete`"},
    {.name = "from", QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_surface, from), .least = -INFINITY,
     .most = INFINITY, .fallback = NAN, .fallback_text = "from the inshore end", .source = "the program",
     .help = "where the stretch begins, seaward of the crest point"},
    {.name = "to", QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_surface, to), .least = -INFINITY, .most = INFINITY,
     .fallback = NAN, .fallback_text = "to the seaward end", .source = "the program",
     .help = "where the stretch ends, seaward of the crest point"},
    {.name = "friction low", QUANTITY, .dimension = DD_RATIO, .offset = offsetof(dd_surface, friction_low), .least = 0,
     .most = 2, .fallback = 0.5, .source = "tyre friction", .help = "tyre friction, lower end of its band"},
    {.name = "friction high", QUANTITY, .dimension = DD_RATIO, .offset = offsetof(dd_surface, friction_high), .least = 0,
     .most = 2, .fallback = 0.6, .source = "tyre friction", .help = "tyre friction, upper end; a run uses the band's middle"},
    {.name = "wet friction low", QUANTITY, .dimension = DD_RATIO, .offset = offsetof(dd_surface, wet_friction_low), .least = 0,
     .most = 2, .fallback = NAN, .fallback_text = "as friction low", .source = "the program",
     .help = "tyre friction below the water line and in the wash, lower end of its band"},
    {.name = "wet friction high", QUANTITY, .dimension = DD_RATIO, .offset = offsetof(dd_surface, wet_friction_high),
     .least = 0, .most = 2, .fallback = NAN, .fallback_text = "as wet friction low if that is given, else as friction high",
     .source = "the program", .help = "tyre friction below the water line and in the wash, upper end"},
    {.name = "rolling resistance", QUANTITY, .dimension = DD_RATIO, .offset = offsetof(dd_surface, rolling_resistance),
     .least = 0, .most = 1, .fallback = 0.015, .source = "tyre rolling resistance", .help = "share of a wheel's load"},
    {.name = "sinkage", QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_surface, sinkage), .least = 0, .most = 0.3,
     .fallback = 0, .source = "the program", .unit = "mm", .help = "how deep a wheel under 5 kN sinks into the ground at once: by as much hub and coupling come down"},
    {.name = "sinkage rate", QUANTITY, .dimension = DD_SPEED, .offset = offsetof(dd_surface, sinkage_rate), .least = 0,
     .most = 0.05, .fallback = 0, .source = "the program", .unit = "mm/s",
     .help = "how fast such a wheel sinks on while it stands under water or in the wash"},
    {0}};

static const dd_key scour_keys[] = {
    {.name = "depth", QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_scour, depth), .least = 0, .most = 2,
     .fallback = 0, .source = "the program", .help = "depth of the hole that propellers have dug beyond the toe"},
    {.name = "length", QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_scour, length), .least = 0.5, .most = 30,
     .fallback = 4, .source = "design memory", .help = "length of the hole from the toe (and its step) seaward"},
    {.name = "mound height", QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_scour, mound_height), .least = 0, .most = 2,
     .fallback = 0, .source = "the program", .help = "height of the mound that lies seaward of the hole"},
    {.name = "mound length", QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_scour, mound_length), .least = 0.5,
     .most = 30, .fallback = 4, .source = "design memory", .help = "length of the mound from the hole's end seaward"},
    {0}};

static const dd_key weed_keys[] = {
    {.name = "from level", QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_weed, from_level), .least = -1000,
     .most = 1000, .fallback = NAN, .fallback_text = "no weed", .source = "the program", .help = "lowest level with weed on the ground"},
    {.name = "to level", QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_weed, to_level), .least = -1000,
     .most = 1000, .fallback = NAN, .fallback_text = "no weed", .source = "the program", .help = "highest level with weed on the ground"},
    {.name = "friction low", QUANTITY, .dimension = DD_RATIO, .offset = offsetof(dd_weed, friction_low), .least = 0,
     .most = 2, .fallback = 0.1, .source = "practice", .help = "tyre friction on weed, lower end of its band"},
    {.name = "friction high", QUANTITY, .dimension = DD_RATIO, .offset = offsetof(dd_weed, friction_high), .least = 0,
     .most = 2, .fallback = 0.3, .source = "practice", .help = "tyre friction on weed, upper end; a run uses the band's middle"},
    {0}};

static const dd_key point_keys[] = {
    {.name = "x", QUANTITY, .dimension = DD_LENGTH, .offset = 0, .least = -10000, .most = 10000, .fallback = NAN,
     .required = true, .help = "horizontal distance of the surveyed point, seaward"},
    {.name = "z", QUANTITY, .dimension = DD_LENGTH, .offset = sizeof(double), .least = -1000, .most = 1000, .fallback = NAN,
     .required = true, .help = "level of the surveyed point above the ramp's datum"},
    {0}};

const dd_key dd_ramp_keys[] = {
    {.name = "name", .type = DD_KEY_TEXT, FIELD(name), .size = sizeof(((dd_ramp_parameters *)0)->name), .fallback = NAN,
     .help = "name of the ramp"},
    {.name = "datum", .type = DD_KEY_TEXT, FIELD(datum), .size = sizeof(((dd_ramp_parameters *)0)->datum), .fallback = NAN,
     .help = "what the ramp's levels are above: chart datum, LAT, MLLW, land datum, or a name of the user's"},
    {.name = "slope", QUANTITY, .dimension = DD_SLOPE, FIELD(slope), .least = 0.001, .most = 1.0, .fallback = NAN,
     .fallback_text = "needed unless points are given", .source = "the program", .help = "slope of the slab, down seaward"},
    {.name = "crest level", QUANTITY, .dimension = DD_LENGTH, FIELD(crest_level), .least = -1000, .most = 1000, .fallback = NAN,
     .fallback_text = "needed unless points are given", .source = "the program",
     .help = "level where the slab's straight line meets the approach: there x = 0"},
    {.name = "toe level", QUANTITY, .dimension = DD_LENGTH, FIELD(toe_level), .least = -1000, .most = 1000, .fallback = NAN,
     .fallback_text = "the slab has no end", .source = "the program", .help = "level of the end of the hard slab"},
    {.name = "approach slope", QUANTITY, .dimension = DD_SLOPE, FIELD(approach_slope), .least = -0.5, .most = 0.5, .fallback = 0,
     .source = "the program", .help = "slope of the ground inshore of the crest, > 0 down seaward"},
    {.name = "bed slope", QUANTITY, .dimension = DD_SLOPE, FIELD(bed_slope), .least = -0.5, .most = 1.0, .fallback = NAN,
     .fallback_text = "as the slab", .source = "the program", .help = "slope of the bed seaward of the toe"},
    {.name = "toe step", QUANTITY, .dimension = DD_LENGTH, FIELD(toe_step), .least = 0, .most = 2, .fallback = 0,
     .source = "the program", .help = "drop at the end of the slab"},
    {.name = "scour", .type = DD_KEY_BLOCK, FIELD(scour), .rows = scour_keys, .fallback = NAN,
     .help = "hole and mound beyond the toe"},
    {.name = "crest curve", QUANTITY, .dimension = DD_LENGTH, FIELD(crest_curve), .least = 0.1, .most = 100, .fallback = 6,
     .source = "crest curve", .help = "horizontal length of the vertical curve at the crest"},
    {.name = "toe curve", QUANTITY, .dimension = DD_LENGTH, FIELD(toe_curve), .least = 0.1, .most = 100, .fallback = 1,
     .source = "design memory", .help = "horizontal length of the vertical curve at the toe"},
    {.name = "points", .type = DD_KEY_LIST, FIELD(points), .rows = point_keys, .fallback = NAN,
     .size = sizeof(((dd_ramp_parameters *)0)->points[0]), .count_offset = offsetof(dd_ramp_parameters, point_count),
     .capacity = DD_RAMP_POINTS, .help = "surveyed points from the shore seaward, instead of slope and crest level"},
    {.name = "point curve", QUANTITY, .dimension = DD_LENGTH, FIELD(point_curve), .least = 0.1, .most = 100, .fallback = 1,
     .source = "design memory", .help = "horizontal length of the vertical curve at each surveyed break, shorter between close points"},
    {.name = "surfaces", .type = DD_KEY_LIST, FIELD(surfaces), .rows = dd_surface_keys, .fallback = NAN,
     .size = sizeof(dd_surface), .count_offset = offsetof(dd_ramp_parameters, surface_count), .capacity = DD_RAMP_SURFACES,
     .help = "stretches of one surface; wet concrete where none is given"},
    {.name = "weed", .type = DD_KEY_BLOCK, FIELD(weed), .rows = weed_keys, .fallback = NAN, .help = "weed by level"},
    {.name = "wash margin", QUANTITY, .dimension = DD_LENGTH, FIELD(wash_margin), .least = 0, .most = 5, .fallback = 0.1,
     .source = "design memory", .unit = "mm", .help = "height above the water line up to which the ground is as wet as below it"},
    {0}};
/* clang-format on */

static bool form_is_whole(const void *structure, char *message, size_t size, const char **key)
{
    const dd_ramp_parameters *p = structure;
    *key = "slope";
    if (p->point_count == 1) {
        *key = "points";
        snprintf(message, size, "found 1 point, expected at least 2");
        return false;
    }
    if (p->point_count > 1 && !(isnan(p->slope) && isnan(p->crest_level))) {
        snprintf(message, size, "found both surveyed points and a slope or crest level, expected one form");
        return false;
    }
    if (p->point_count == 0 && isnan(p->slope)) {
        snprintf(message, size, "not given, expected the slab's slope (or surveyed points)");
        return false;
    }
    *key = "crest level";
    if (p->point_count == 0 && isnan(p->crest_level)) {
        snprintf(message, size, "not given, expected the level of the crest (or surveyed points)");
        return false;
    }
    return true;
}

static bool toe_lies_below(const void *structure, char *message, size_t size, const char **key)
{
    const dd_ramp_parameters *p = structure;
    *key = "toe level";
    if (p->point_count > 0 || isnan(p->toe_level) || isnan(p->slope) || isnan(p->crest_level)) return true;
    double length = (p->crest_level - p->toe_level) / tan(p->slope);
    if (!(length > 0)) {
        snprintf(message, size, "found %g m, expected below the crest level of %g m", p->toe_level, p->crest_level);
        return false;
    }
    *key = "crest curve";
    if ((p->crest_curve + p->toe_curve) / 2 > length) {
        snprintf(message, size, "crest and toe curve together reach %g m into the slab, which is %g m long",
                 (p->crest_curve + p->toe_curve) / 2, length);
        return false;
    }
    return true;
}

static bool points_run_seaward(const void *structure, char *message, size_t size, const char **key)
{
    const dd_ramp_parameters *p = structure;
    *key = "points";
    for (int i = 1; i < p->point_count; i++)
        if (!(p->points[i].x > p->points[i - 1].x)) {
            snprintf(message, size, "point %d at x = %g m, expected seaward of the point before at %g m", i + 1, p->points[i].x,
                     p->points[i - 1].x);
            return false;
        }
    return true;
}

static bool toe_is_on_points(const void *structure, char *message, size_t size, const char **key)
{
    const dd_ramp_parameters *p = structure;
    *key = "toe level";
    if (p->point_count < 2 || isnan(p->toe_level)) return true;
    double low = p->points[0].z, high = p->points[0].z;
    for (int i = 1; i < p->point_count; i++) {
        low = fmin(low, p->points[i].z);
        high = fmax(high, p->points[i].z);
    }
    if (p->toe_level >= low && p->toe_level < high) return true;
    snprintf(message, size, "found %g m, expected between the surveyed levels, %g to %g m", p->toe_level, low, high);
    return false;
}

static double begins(const dd_surface *s) { return isnan(s->from) ? -INFINITY : s->from; }
static double ends(const dd_surface *s) { return isnan(s->to) ? INFINITY : s->to; }

static bool surfaces_are_apart(const void *structure, char *message, size_t size, const char **key)
{
    const dd_ramp_parameters *p = structure;
    *key = "surfaces";
    for (int i = 0; i < p->surface_count; i++) {
        const dd_surface *a = &p->surfaces[i];
        if (!(ends(a) > begins(a))) {
            snprintf(message, size, "surface %d ends at %g m, expected seaward of its begin at %g m", i + 1, ends(a),
                     begins(a));
            return false;
        }
        if (a->friction_low > a->friction_high) {
            snprintf(message, size, "surface %d: friction low is %g, expected at most friction high, %g", i + 1,
                     a->friction_low, a->friction_high);
            return false;
        }
        if (a->wet_friction_low > a->wet_friction_high) {
            snprintf(message, size, "surface %d: wet friction low is %g, expected at most wet friction high, %g", i + 1,
                     a->wet_friction_low, a->wet_friction_high);
            return false;
        }
        for (int j = 0; j < i; j++) {
            const dd_surface *b = &p->surfaces[j];
            if (fmax(begins(a), begins(b)) < fmin(ends(a), ends(b))) {
                snprintf(message, size, "surfaces %d and %d overlap, expected one surface at each place", j + 1, i + 1);
                return false;
            }
        }
    }
    return true;
}

static bool scour_has_a_place(const void *structure, char *message, size_t size, const char **key)
{
    static const double roundest = 1.65; /* 1/m, see ramp.c */
    const dd_ramp_parameters *p = structure;
    const dd_scour *s = &p->scour;
    *key = "scour";
    if (!(s->depth > 0 || s->mound_height > 0)) return true;
    if (isnan(p->toe_level)) {
        snprintf(message, size, "found a scour hole or mound on a ramp without a toe level, expected both");
        return false;
    }
    const double hole = 24 * s->depth / (s->length * s->length), beside = 19.2 * s->mound_height / (s->mound_length * s->mound_length);
    if (hole <= roundest && beside <= roundest) return true;
    const bool at_hole = hole > roundest;
    snprintf(message, size, "found a %s of %g m over %g m, too sharp for a wheel to roll through; expected at least %.3g m long",
             at_hole ? "hole" : "mound", at_hole ? s->depth : s->mound_height, at_hole ? s->length : s->mound_length,
             sqrt((at_hole ? 24 * s->depth : 19.2 * s->mound_height) / roundest));
    return false;
}

static bool weed_is_a_band(const void *structure, char *message, size_t size, const char **key)
{
    const dd_ramp_parameters *p = structure;
    const dd_weed *w = &p->weed;
    *key = "weed";
    if (isnan(w->from_level) && isnan(w->to_level)) return true;
    if (isnan(w->from_level) || isnan(w->to_level)) {
        snprintf(message, size, "found only `%s level`, expected two levels, the lower one first", isnan(w->to_level) ? "from" : "to");
        return false;
    }
    if (!(w->to_level > w->from_level)) {
        snprintf(message, size, "found weed from level %g m to %g m, expected two levels, the lower one first", w->from_level,
                 w->to_level);
        return false;
    }
    if (!(w->friction_low > w->friction_high)) return true;
    snprintf(message, size, "friction low is %g, expected at most friction high, %g", w->friction_low, w->friction_high);
    return false;
}

const dd_key_rule dd_ramp_rules[] = {{"slope and crest level, or surveyed points", form_is_whole},
                                     {"the toe lies below the crest, and the vertical curves fit on the slab", toe_lies_below},
                                     {"surveyed points run seaward", points_run_seaward},
                                     {"the toe level lies between the surveyed levels", toe_is_on_points},
                                     {"surfaces do not overlap, and their friction band is in order", surfaces_are_apart},
                                     {"scour lies beyond a toe, and is rounder than a wheel", scour_has_a_place},
                                     {"weed lies between two levels", weed_is_a_band},
                                     {0}};
