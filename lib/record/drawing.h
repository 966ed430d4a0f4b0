/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawing that moves: lines of rigid bodies in their own axes, where these stand at each look of a run, and values beside them.

   Its JSON (dd_result_drawing_json), an object:
   drawing   1, version of this format
   title, word, sentence, verdict   as in result.json
   axes[]    name; what lines stand in and how it is placed. "world": x seaward, y to the left of someone looking seaward, z up.
             "vehicle", "chassis" (origin at the coupling) and "bed" lie on the ramp: at (x, 0, z), turned about +y by the pitch, tail down
             > 0; "axle_0", "axle_1", ... (origin at a hub, as the wheels stand and hang) lie so too, with the chassis' pitch; "hull": x from the transom forward, y to port, z up; at (x, y, z), turned by a unit quaternion (w, i, j, k) to world axes.
             An arm stands in the bed and has there "pivot" (mm) and "axis" (unit, 1e-5): it turns about them by its angle, right-handed.
             at, turn: the names of the columns.
   lines[]   shape: ramp, hull, trailer, wheel, vehicle, support, arm, guide, strap, rope, stop, jockey, chine, keel, toe, tie, chain;
             axes: its index; view: "side" or "plan"; points: x, y, z of each in turn, mm; a closed outline repeats its first point;
             radius, mm: a disc about the only point, its axle across; to: axes of the last point where it stands in others;
             shown: name of the column that is 1 while the line is there.
   columns[] name, decimals: a value v of a frame is v / 10^decimals, metres, degrees, newtons, seconds; constant: the value, in the same
             integers, of a column that does not change: it is not in the frames. "time" comes first. A value that is not known is null.
   frames[]  values of the other columns, in their order; at most DD_DRAWING_FRAMES and one at each event. Between two frames values go
             in a straight line (switches keep the earlier one).
             water: level of the surface at the transom; stream: of the water there, along y
   levels    of water that has waves: x of level_0, level_1, ... from the vehicle's rear axle, mm
   toe       x of the end of the hard slab, mm; absent: it is not told by the scenario
   events[]  name, detail, mark (number in the pictures, 0: none), rank (1 the most important to 5), frame
   values[]  what is told beside the picture: column, words, unit, positive and negative (what a value's sign means; empty: the sign
             itself tells), limit (in unit; null: none), limit_words

   Text has no < > & (they stand as \u003c and so on), so that it can stand in a page as it is. */
#ifndef DD_RECORD_DRAWING_H
#define DD_RECORD_DRAWING_H
#include "lib/base/vector.h"
#include <drawdock/result.h>
#include <stdbool.h>

enum { DD_DRAWING_FRAMES = 300, DD_DRAWING_AXLES = 4, DD_DRAWING_ARMS = 48, DD_DRAWING_LEVELS = 16 };

/* What a frame holds; angles of arms, then levels follow. Names and digits: drawing.def. */
enum {
#define DD_DRAWN(id, name, decimals, tolerance) DD_DRAWN_##id,
#include "lib/record/drawing.def"
#undef DD_DRAWN
    DD_DRAWN_ARM,
    DD_DRAWN_LEVEL = DD_DRAWN_ARM + DD_DRAWING_ARMS,
    DD_DRAWN_COUNT = DD_DRAWN_LEVEL + DD_DRAWING_LEVELS
};

/* Axes; an axle's is DD_AXES_AXLE and its index, an arm's DD_AXES_ARM and its index. */
enum { DD_AXES_WORLD, DD_AXES_VEHICLE, DD_AXES_CHASSIS, DD_AXES_BED, DD_AXES_HULL, DD_AXES_AXLE, DD_AXES_ARM = DD_AXES_AXLE + DD_DRAWING_AXLES };
enum { DD_SIDE_VIEW, DD_PLAN_VIEW };

typedef struct dd_drawing_line {
    char shape[16];
    int axes, to, view, count, shown; /* to: axes of the last point, -1: the same; shown: DD_DRAWN_..., -1: always */
    double radius;                    /* of a disc; 0: a line */
    dd_vec3 *points;
} dd_drawing_line;

typedef struct dd_drawing {
    int line_count, line_room;
    dd_drawing_line *lines;
    int arm_count, level_count;
    dd_vec3 pivot[DD_DRAWING_ARMS], axis[DD_DRAWING_ARMS];
    double level_at[DD_DRAWING_LEVELS], toe;  /* toe NaN: not told */
    int frame_count, frame_room;
    double *frames; /* DD_DRAWN_COUNT each, in the order they were seen */
    bool failed;    /* out of memory: what follows is dropped, and there is no text */
} dd_drawing;

dd_drawing *dd_drawing_create(void); /* NULL: out of memory */
void dd_drawing_free(dd_drawing *drawing);
/* Copies a line; radius and to may be changed in the line that is returned, which lives until the next one. NULL: out of memory. */
dd_drawing_line *dd_drawing_add(dd_drawing *drawing, const char *shape, int axes, int view, const dd_vec3 *points, int count);
/* Copies DD_DRAWN_COUNT values, SI and radians; NaN: not known, or not in this run. */
void dd_drawing_frame(dd_drawing *drawing, const double *values);
#endif
