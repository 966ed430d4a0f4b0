/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What motion and forces need of a hull's surface beside drawdock/hull.h. */
#ifndef DD_HULL_SURFACE_H
#define DD_HULL_SURFACE_H
#include <drawdock/hull.h>
#include "lib/base/key.h"

/* The bottom as a graph z(X, y) in boat axes with first and second derivatives. */
typedef struct dd_bottom_point {
    double z, zx, zy, zxx, zxy, zyy; /* zyy is 0 but in the 10 mm rounding at a strake */
    double cover; /* 0..1, C1: 1 well inside the bottom, fading to 0 within `fade` of its edges (transom, bow end, chine) */
    double cover_x, cover_y; /* its derivatives with respect to X and y */
} dd_bottom_point;
/* side: +1 port, -1 starboard, 0 by the sign of y. With side given, that side's bottom is continued straight
   across the keel, so a roller near the keel sees no crease. Beyond X's range the end value is continued straight. */
dd_bottom_point dd_hull_bottom(const dd_hull *hull, double x, double y, int side);
/* Its two halves, for who needs the cover seldom: the surface with cover 0, and the cover there, into *point. */
void dd_hull_bottom_shape(const dd_hull *hull, double x, double y, int side, dd_bottom_point *point);
void dd_hull_bottom_cover(const dd_hull *hull, double x, double y, int side, dd_bottom_point *point);
/* Keel line alone: z(X), slopes in zx, zxx; zy = 0; cover fades at the transom and the stem end. */
dd_bottom_point dd_hull_keel(const dd_hull *hull, double x);
/* The same with cover 0, for who does not ask for it. */
dd_bottom_point dd_hull_keel_shape(const dd_hull *hull, double x);
/* The keel line as the edge of the stem: beyond the end of the lines it turns upright. Its cover is what the bottom's panels leave
   where they have become the stem's sides; meaningful forward of `from` only. The sides stand at half_angle to the middle plane,
   in the section across the keel line. */
dd_bottom_point dd_hull_stem(const dd_hull *hull, double x);
typedef struct dd_stem {
    double from, half_angle; /* m; rad */
} dd_stem;
dd_stem dd_hull_stem_figures(const dd_hull *hull);

/* Keel and stem as one line in the middle plane, by a parameter s that is X on the keel: lib/hull/stem.c. */
typedef struct dd_stem_line {
    double first, turn, upright;    /* s at the transom, where the keel line begins to turn up, where the stem stands upright */
    double end, foot_of_stem, head; /* X of the upright stem; heights of its lower end and of the stem head, m */
    double speed;                   /* length of the line for each unit of s at `turn` and on the stem */
    double bend_x[6], bend_z[6];    /* X and height between the two, polynomials of (s - turn) / (upright - turn) */
} dd_stem_line;
typedef struct dd_line_place {
    dd_vec3 at, tangent, bend; /* place, first and second derivative by s */
} dd_line_place;
dd_stem_line dd_hull_stem_line(const dd_hull *hull);
dd_line_place dd_hull_on_stem_line(const dd_hull *hull, const dd_stem_line *line, double s);
/* s of the upright stem at that height. */
double dd_hull_stem_line_at_height(const dd_stem_line *line, double z);

/* The side between chine and sheer as a graph: half-breadth y(X, z), with derivatives; yzz is 0. Beyond X's range, under the
   chine and over the sheer it is continued straight; cover fades there, over 25 mm inside the ends and 15 mm to both sides of
   chine and sheer. */
typedef struct dd_topside_point {
    double y, yx, yz, yxx, yxz;
    double cover, cover_x, cover_z;
    double chine; /* height of the chine at X, m */
} dd_topside_point;
dd_topside_point dd_hull_topside(const dd_hull *hull, double x, double z);

/* Half-section at X: n points (y >= 0, z) from the keel out to the sheer, count <= DD_STRAKES + 3. */
int dd_hull_section(const dd_hull *hull, double x, double y[DD_STRAKES + 3], double z[DD_STRAKES + 3]);
/* dd_hull_float() of the same form with another mass aboard. */
dd_status dd_hull_float_with(const dd_hull *hull, const dd_mass_properties *mass, double density, double gravity, double heel, double trim,
                             dd_floating *result, dd_error *error);
/* Half-breadth of a strake's middle at X; NaN beyond its ends. */
double dd_rail_middle(const dd_rail *rail, double x);
/* Extent of the lines. */
void dd_hull_extent(const dd_hull *hull, double *first, double *last);

/* Given and estimated figures of this hull (skeg depth, engine mass, ...). */
const dd_hull_estimates *dd_hull_figures(const dd_hull *hull);
/* Of the outboard engine or engines together, W; 0: none. */
double dd_hull_engine_power(const dd_hull *hull);

/* Strips for the run: fixed abscissas and weights of a rule of at least fourth order, sections stored. The result
   is the exact gradient of the same strips' potential, so no energy is made; K of buoyancy is exact for it. per_bay 0: about 40 strips in all. */
typedef struct dd_strips dd_strips;
dd_status dd_strips_create(const dd_hull *hull, int per_bay, dd_strips **strips, dd_error *error);
void dd_strips_free(dd_strips *strips);
void dd_strips_hydrostatics(const dd_strips *strips, dd_waterplane waterplane, dd_hydrostatics *result);
/* The same where nobody asks how it changes: the water plane's moments are left 0. */
void dd_strips_immersed(const dd_strips *strips, dd_waterplane waterplane, dd_hydrostatics *result);
/* Strip i: abscissa, weight (m), keel height, chine half-breadth and height, sheer height. */
typedef struct dd_strip {
    double x, weight, keel_height, chine_half_breadth, chine_height, sheer_half_breadth, sheer_height;
} dd_strip;
int dd_strips_count(const dd_strips *strips);
dd_strip dd_strips_at(const dd_strips *strips, int index);

extern const dd_key dd_hull_keys[];      /* of dd_hull_parameters */
extern const dd_key_rule dd_hull_rules[]; /* ends with holds NULL */
/* Share of a tank's volume that counts as full, and what the tank of an item weighs filled to a share, kg. */
extern const double dd_tank_full;
double dd_item_mass_filled(const dd_item *tank, double fill);
extern const dd_key dd_item_keys[];      /* of dd_item: the list `aboard` */
#endif
