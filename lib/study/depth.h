/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inside of `depth`: a rig going down in still water at one level, the boat slid off or wound on where it stands, and the band of
   positions between what is too shallow and what is too deep. */
#ifndef DD_STUDY_DEPTH_H
#define DD_STUDY_DEPTH_H
#include "lib/record/reporter.h"
#include "lib/study/settle.h"

/* What ends the band: rows of depth_ends.def. */
typedef enum dd_depth_end {
#define DD_DEPTH_END(id, side, words, does) DD_END_##id,
#include "lib/study/depth_ends.def"
#undef DD_DEPTH_END
    DD_END_COUNT
} dd_depth_end;
enum { DD_END_SHALLOW = 1, DD_END_DEEP = 2, DD_END_BOTH = 3 };
int dd_depth_end_side(dd_depth_end end);
const char *dd_depth_end_words(dd_depth_end end); /* "the strap's rating" */
const char *dd_depth_end_does(dd_depth_end end);  /* what happens beyond it: "the strap is pulled beyond its rating" */

/* How the scenario's people go about it, read from its procedure. */
typedef struct dd_depth_way {
    bool launch, loose, tilts; /* loose: uncoupled and let down on the rope; tilts: the bed unlatched */
    bool engine;               /* driven off or on */
    double push;               /* a person's on the bow, N; NaN: driven */
    double throttle, speed;    /* share, m/s, driven */
    double hold;               /* driven on: share left on while it is wound the rest of the way */
    double acceleration;       /* of the pull-out, m/s2 */
    double out_speed;          /* of the pull-out, m/s; 0: none is asked */
    double stopping;           /* deceleration at the end of the way down, m/s2 */
    double clear;              /* the bow eye is to come so far seaward of the rearmost support, m */
    bool park;                 /* the park lock alone holds */
} dd_depth_way;

/* The boat at home with the rig standing at x. */
typedef struct dd_depth_look {
    double x;
    dd_seen seen;
    double pull;                    /* along the path that driven wheels must give for the pull-out: slope, rolling, acceleration, N */
    double rolls_back, start_needed; /* as it starts up from here: by how much the rig rolls back, m; friction of the driven wheels that catch it */
    double friction[2], friction_low[2]; /* of the surface under front and rear wheels: likely and at least */
    double hold_needed, hold_low;   /* friction of the braked wheels so that the rig stands, and what the surface gives at least */
    double drive_needed, drive_low; /* the same of the driven wheels pulling out */
    double bed;                   /* moment that tips the tilting bed by itself once it is unlatched, N m (negative: none); NaN: none tilts */
} dd_depth_look;

/* The boat slid along its supports where the rig stands, from home until it floats clear. */
typedef struct dd_depth_slide {
    double x;
    double push;                  /* that it takes to send it off, run-up counted, N (negative: it runs) */
    double pull, handle;          /* most that the strap takes to wind it in, N; the hand at the winch, N, NaN: a motor winds */
    double speed;                 /* fastest it would run while water carries less than a quarter, m/s */
    dd_seen least, most;          /* of each observable */
    double skeg;                  /* clearance where the engine goes down or up, m */
    double start_needed, start_low; /* of the look: friction that the driven wheels need to start up from here, and what the surface gives at least */
    dd_vec3 skeg_at, propeller;   /* its place then, and the propeller's centre, m (without thrust: the skeg's) */
    double strap;                 /* from drum to eye where the supports take hold of it, m */
    double left;                  /* that supports still carry where it is clear, N */
    double way;                   /* how far it was followed, m */
    double bed;                   /* of the look: moment that tips the tilting bed by itself */
    bool sticks;                  /* friction holds it short of there: what would come further on, loads, speed and clearances, is not in the rest */
    double lost_at;               /* where it has no equilibrium next to the last: it tips, m from home; NaN: nowhere */
} dd_depth_slide;

/* Friction that driven wheels (0 front, 1 rear, 2 all) need for the pull-out, and what the surface under them gives, mean by load: likely and at
   least, NaN where nothing stands on them. */
typedef struct dd_depth_grip {
    double needed, likely, least;
} dd_depth_grip;
dd_depth_grip dd_depth_grip_of(const dd_depth_look *look, int drive);

/* Where a propeller's wash runs strongest along the ground, m, and how fast, m/s. x, z: its centre, the wash going to greater x. */
typedef struct dd_depth_wash {
    double x, speed;
} dd_depth_wash;
dd_depth_wash dd_depth_wash_of(double thrust, double diameter, double density, double x, double z, const dd_ramp *ramp);

/* How far a rig reaches at a level, m seaward of the slab's end; NaN: the ramp has none. */
typedef struct dd_depth_reach {
    double level;
    double wheel;                   /* rearmost wheels, as far as the rig rolls back when it starts up */
    double skeg, skeg_z, clearance; /* where the engine goes down or up: the skeg, its height on the ramp's datum, its height over the ground */
    dd_depth_wash wash;             /* NaN: no engine drives it on */
} dd_depth_reach;

/* How the boat lay as it was slid where the hub stood at a depth: what a slide beside it is expected to do, at this level or another. */
enum { DD_DEPTH_PATHS = 24, DD_DEPTH_PLACES = 64 };
typedef struct dd_depth_path {
    double depth;
    int count;
    struct {
        double way, height, trim, rig[DD_RIG_COORDINATES]; /* m from home, of the origin in the trailer's frame, rad */
    } place[DD_DEPTH_PLACES];
} dd_depth_path;
typedef struct dd_depth_paths {
    int count; /* all there have been: the last DD_DEPTH_PATHS of them stand */
    dd_depth_path path[DD_DEPTH_PATHS];
} dd_depth_paths;

/* What marches a start up the slope. */
typedef struct dd_depth_starting dd_depth_starting;

enum { DD_DEPTH_ROWS = 96 };
/* What a row is for: a step of the walk, or put between two others, where wheels slip soonest, or where a limit is kept least. */
typedef enum dd_depth_row_for { DD_ROW_WALK, DD_ROW_SLIPS, DD_ROW_LEAST } dd_depth_row_for;

/* One level's model. */
typedef struct dd_depth {
    dd_case *still;                     /* the other's, if there is one: it then stands at this level */
    dd_study_model *m;
    dd_depth_way way;
    double level, weight;
    double stride;                      /* of a slide, m: between its places along the keel */
    dd_settle home;                     /* on level ground */
    int count;                          /* rows: the rig going down */
    dd_settle row[DD_DEPTH_ROWS];
    dd_depth_look look[DD_DEPTH_ROWS];
    dd_depth_row_for row_for[DD_DEPTH_ROWS];
    bool broken[DD_END_COUNT];          /* limits that do not hold at the first row either: no depth's doing */
    double crest_clearance, crest_x;    /* of the frame on the way to the first row, m: least, and the rig's x there; NaN: not known */
    double stern_lifts, afloat;         /* rig x, NaN: not within the rows */
    const struct dd_depth *other;       /* opened before at another level; NULL */
    dd_depth_paths *paths;              /* the other's, if there is one; likewise: */
    dd_depth_starting *starting;
} dd_depth;

/* Fills in what the wheels need and what the ramp gives, at the look's x; the workspace stands there. */
dd_status dd_depth_read_grip(const dd_depth *depth, dd_depth_look *look, dd_error *error);
/* Started up the slope from standing by its brake: how far the rig rolls back first, m, and the most that its driven wheels give, N. along: what draws it
   seaward, brake: what all of the brake holds, N. */
typedef struct dd_depth_start {
    double rolls, most;
} dd_depth_start;
dd_status dd_depth_start_up(const dd_depth *depth, double mass, double along, double rolling, double brake, dd_depth_start *start, dd_error *error);
dd_status dd_depth_starting_create(dd_depth_starting **starting, dd_error *error);
void dd_depth_starting_free(dd_depth_starting *starting); /* NULL is allowed */
/* Where between two looks the wheels have less grip to spare than at either, m; NaN: nowhere. */
double dd_depth_slips_at(const dd_depth *depth, const dd_depth_look *a, const dd_depth_look *b);

/* What the supports can hold along the keel, each at its limit; and what drives the boat there, seaward, but for a person's push, the strap and friction,
   which are in the balance: they turn the boat. At the workspace's evaluation, N. */
double dd_depth_friction_along(const dd_settle *settle);
double dd_depth_drive_along(const dd_settle *settle);
/* Of a strap from drum to eye, that pulls so much along the keel, N; *distance: from one to the other, m. */
double dd_depth_pull_of(const dd_study_model *model, double along, double *distance);
/* What brings a boat on, of the strap, N, and of the engine, share of its thrust; as the workspace's plan has it; and as three places have it, by their way,
   led on to another. */
typedef struct dd_depth_hauling {
    double pull, throttle;
} dd_depth_hauling;
dd_depth_hauling dd_depth_hauling_now(const dd_settle *settle);
dd_depth_hauling dd_depth_hauling_at(const double way[3], const dd_depth_hauling hauling[3], double at);
/* A boat that is wound or driven on, held lengthwise where it is in balance: the balance with what it takes to bring it on, strap, engine and friction.
   A boat that is launched is left as it is. */
dd_status dd_depth_haul(const dd_depth *depth, dd_settle *settle, dd_error *error);
/* The balance next to settle->at.pose. Friction and thrust have no energy to descend on: where that stops short of it, by Newton's method. */
dd_status dd_depth_balance(dd_settle *settle, dd_error *error);
/* The balance next to settle->at.pose, held lengthwise there, as it is hauled; expected: by about so much, NULL: not known. */
dd_status dd_depth_lie(const dd_depth *depth, dd_settle *settle, const dd_depth_hauling *expected, dd_error *error);

/* A place of the band. */
typedef struct dd_depth_place {
    dd_depth_look look;
    dd_depth_slide slide;
    dd_depth_end binds;
} dd_depth_place;

typedef struct dd_depth_band {
    bool works;
    dd_depth_place least, best, most; /* shallowest, advised and deepest position */
    double width;                     /* most less least by the hub's depth, m; NaN: none works */
} dd_depth_band;

/* Makes the model at a water level and walks the rig down; ends with dd_depth_close(), also after an error. other: the same scenario at
   another level, opened before and closed after: the boat lies at home as it does there; NULL: it is wound home. */
dd_status dd_depth_open(const dd_case *scenario, double level, const dd_depth *other, dd_depth *depth, dd_error *error);
void dd_depth_close(dd_depth *depth);
/* The boat at home at rig x, within the rows; branch: a branch of the caller's, or NULL. */
dd_status dd_depth_look_at(dd_depth *depth, double x, dd_depth_look *look, dd_settle *branch, dd_error *error);
/* The boat slid off, or wound on, at rig x. */
dd_status dd_depth_slide_at(dd_depth *depth, double x, dd_depth_look *look, dd_depth_slide *slide, dd_error *error);
/* How far a limit is kept, in shares of its size: negative beyond it; NaN: not checked. By the boat at home, and by the slide. */
double dd_depth_kept_home(const dd_depth *depth, dd_depth_end end, const dd_depth_look *look);
double dd_depth_kept_slide(const dd_depth *depth, dd_depth_end end, const dd_depth_slide *slide);
/* Every limit at rig x: fills place, its binds being the one that is kept least. *kept: how far where one is not kept; where all are, how
   far those of one side (DD_END_SHALLOW, DD_END_DEEP; 0: any) are, so that a search for that end is not led by others. */
dd_status dd_depth_judge(dd_depth *depth, double x, int side, dd_depth_place *place, double *kept, dd_error *error);
/* A place that keeps every limit, the deepest first; NaN in place->look.x: none, *place is then the one that comes nearest. deepest:
   as far as the limits with the boat at home let the rig go, with what ends it there. */
typedef struct dd_depth_candidate {
    bool good;
    dd_depth_place place, deepest;
    double kept, kept_deepest; /* at both, by the limits of the shallow end */
    double on_the_way, hump;   /* by those with the boat at home: where one is kept least short of the deepest, INFINITY: it only falls; and
                                  where what ends the way down there lets the rig stand again further on, at the worst between, -INFINITY: it does not */
} dd_depth_candidate;
dd_status dd_depth_try(dd_depth *depth, dd_depth_candidate *candidate, dd_error *error);
/* The best place of a band whose ends are known: where the stern has just lifted and the bow still lies on, as practice has it (P50), rig x `wanted` (NaN:
   as shallow as may be), but not nearer to an end than the reserve; where a limit is broken there alone, as near to it as all are kept on the way from
   the candidate's place, which is good. */
dd_status dd_depth_find_best(dd_depth *depth, const dd_depth_candidate *candidate, double wanted, dd_depth_band *band, dd_error *error);
/* The shallow end alone; most is the deepest place tried, best the one that was found first. */
dd_status dd_depth_find_least(dd_depth *depth, dd_depth_band *band, dd_error *error);
/* Both ends of the band and the best place. */
dd_status dd_depth_find(dd_depth *depth, dd_depth_band *band, dd_error *error);

/* Of a place of the band. */
dd_depth_reach dd_depth_reach_of(const dd_depth *depth, const dd_depth_place *place);

/* Least level at which the band has a place. */
typedef struct dd_depth_level {
    bool found;
    double level;            /* NaN: not found */
    dd_depth_end shallow, deep; /* what binds at it */
    bool everywhere;         /* the ramp has no end within its description: it works at any level */
    dd_depth_reach reach;    /* at the lowest level looked at that works, next to the least: reach.level NaN: at none */
} dd_depth_level;
/* A search over levels; here: the scenario opened at another level, or NULL: the boat is wound home at each. */
typedef struct dd_depth_search {
    const dd_case *scenario;
    const dd_depth *here;
    dd_depth_end shallow, deep; /* what binds at the level looked at last, and at the last of those where it does not work */
    dd_depth_end failed_shallow, failed_deep;
    double hub_needed, short_by; /* hub depth of the least place here, and how much less there was at the deepest looked at last, m; NaN: not known */
    dd_depth_reach reach;       /* at the lowest level so far at which it works; level NaN: none yet */
    dd_status status;           /* and how that went */
    dd_error why;
    dd_depth *at;               /* the level's model: memory that each look uses again */
} dd_depth_search;
void dd_depth_search_end(dd_depth_search *search);
/* How far a place's limits are kept at a level, negative: it does not work there (-1: all of the ramp drowned or dry); NaN: see status.
   search: a dd_depth_search. */
double dd_depth_kept_at(double level, void *search);
/* here, band: opened and found at the scenario's level. */
dd_status dd_depth_least_level(const dd_case *scenario, dd_depth *here, const dd_depth_band *band, dd_depth_level *least, dd_error *error);
#endif
