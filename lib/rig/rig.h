/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rig as motion and forces see it. */
#ifndef DD_RIG_RIG_H
#define DD_RIG_RIG_H
#include <drawdock/rig.h>
#include "lib/base/key.h"
#include "lib/base/vector.h"
#include "lib/shore/shore.h"

enum { DD_ARMS = 48, DD_GUIDES = 16 };

/* One roller, or one bearing place of a skid, trailer frame. The centre is the axle's middle; axis is the unit vector along its
   axle. On an arm both are those at angle 0. */
typedef struct dd_roller {
    char name[64]; /* "rear cradle port 2.1": support, side, line.row */
    int support;   /* index into the parameters' supports */
    int keel;      /* 1: carries the keel line, 0: the bottom panel on its side */
    int side;      /* +1 on the boat's port side, -1 starboard, 0 on the centre line. The boat's port is
                               the trailer's -y (seen from above, bow inshore). */
    dd_vec3 centre, axis;
    double radius;
    double width;      /* of a keel roller between its flanges, m: a keel further off than half of it misses; 0: not limited */
    double stiffness;  /* k of N = k d^1.5 (1 + c d'), N/m^1.5: rated load at its squash */
    double damping;    /* c, s/m */
    double rated_load; /* N; NaN: not checked */
    double side_friction, rolling_resistance, relaxation_length; /* of a skid both frictions are the dry one */
    int arm;           /* 1 + index of the arm it stands on; 0: it stands fast */
    int skid;          /* 1 + index of the skid that it is a part of: it slides both ways; 0: a roller */
    double wet_friction, behind_rear; /* of a skid: friction wet; how far ahead of the skid's rear end, m */
    /* Keel roller: its radius grows by profile_height between profile_start and profile_start + profile_length off its middle. */
    double profile_start, profile_length, profile_height;
    double bracket_width, bracket_drop, bracket_stiffness; /* beside it, below its top; width 0: none */
} dd_roller;

/* Rollers first .. first + count - 1 turn about a pivot: by +angle about the axis, right-handed, trailer frame. An arm across
   the trailer has the axis +Y: rear end down > 0. An arm along it has it such that the outer end goes up > 0. */
typedef struct dd_arm {
    int support, first, count;
    dd_vec3 pivot, axis;
    double least, most;    /* angles of its stops, rad */
    double stop_stiffness; /* moment k angle^1.5 beyond a stop, N m/rad^1.5 */
    double damping;        /* N m s/rad */
    double mass;           /* kg; part of the trailer's mass */
    dd_vec3 centre;        /* of its mass from the pivot, at angle 0 */
} dd_arm;

/* Both or either side's face of one support, for what is wet: a line in the trailer frame. */
typedef struct dd_skid {
    int support, stays_wet;
    dd_vec3 rear;   /* rear end of its face */
    dd_vec3 along;  /* from the rear end to the front end, unit */
    double length;
} dd_skid;

/* A guide beside the hull: a round face from its top down by height, and along the trailer by length about its middle. */
typedef struct dd_guide {
    char name[64]; /* "rear guide port": support, side */
    int support, side; /* +1 on the boat's port side */
    dd_vec3 top;   /* centre of the round at its top, at the middle of its length, trailer frame */
    double radius, height, length;           /* m */
    double stiffness, damping, friction;     /* k and c of N = k d^1.5 (1 + c d') of each place; share of its load */
} dd_guide;

/* A sprung wheel of the chassis on the ground: meets it at the distance radius. */
typedef struct dd_ground_wheel {
    dd_vec3 hub;                           /* chassis frame */
    double radius, stiffness, damping;     /* m, N/m, N s/m */
    double rated_load;                     /* N, that the softness of the onset and the damping's fading go by */
    double sinks;                          /* how much harder than the trailer's tyres it presses on soft ground under the same load */
} dd_ground_wheel;

/* A part of the trailer that moves by itself: mass, pitch inertia about its centre, centre in its own frame. */
typedef struct dd_rig_body {
    double mass, inertia;
    dd_vec3 centre;
} dd_rig_body;

struct dd_rig {
    dd_vehicle_parameters vehicle;
    dd_trailer_parameters trailer;
    int roller_count;
    dd_roller rollers[DD_ROLLERS];
    int arm_count;
    dd_arm arms[DD_ARMS];
    int skid_count;
    dd_skid skids[DD_SUPPORTS];
    int guide_count;
    dd_guide guides[DD_GUIDES];
    double ball_stiffness, ball_damping;                     /* N/m, N s/m: vehicle's rear suspension at the ball */
    double axle_stiffness[DD_AXLES], axle_damping[DD_AXLES]; /* whole axle: tyre and spring in series */
    /* Hub line's middle in the trailer frame, wheels at their squash under rated load: tyre_radius above flat ground with the
       trailer level. The forces take tyre and spring as one spring at this fixed point: it meets the ground at the distance
       wheel_radius and carries the rated load at tyre_radius. */
    dd_vec3 axle[DD_AXLES];
    double wheel_radius;              /* tyre_radius + tyre_squash + spring_squash */
    double axle_rated_load[DD_AXLES]; /* N, that the stiffness was taken at */
    bool beamed;                      /* the axles share one load by beams; shares, and their springs as one at the sum of shares times squash */
    double beam_share[DD_AXLES], beam_stiffness, beam_damping, beam_rated_load;
    dd_vec3 trailer_centre;           /* of mass, trailer frame, bed latched */
    dd_vec3 hinge;                    /* of a tilting bed, chassis frame; where none is, a point it could have */
    bool uncouples, tilts;            /* whether the coordinates of reach and of tilt can ever be free */
    dd_rig_body chassis, bed;         /* bed: mass 0 where none tilts, the chassis is then the whole trailer */
    dd_ground_wheel jockey;           /* stiffness 0: none */
    double rope_rigidity, rope_damping; /* N per unit stretch, 0: none; N s/m at its given length */
    double stop_stiffness, stop_damping; /* of the tilting bed's stops, N m/rad, N m s/rad */
};

/* Rows of dd_adjust: of a part that stands in pairs, of one in the middle, of one that slides along the trailer alone. A step that is
   not given is that of dd_travel_step(). */
extern const dd_key dd_adjust_keys[], dd_adjust_middle_keys[], dd_adjust_along_keys[];
double dd_travel_step(const dd_travel *travel);

/* One support kind: name, help, rows of its keys, and how it becomes rollers. Listed in lib/rig/supports.def. */
typedef struct dd_support_kind {
    const char *name, *help;
    const dd_key *keys; /* fields of dd_support; ends with name NULL */
    /* Appends rollers to rig; error names the field. */
    dd_status (*place)(const dd_support *support, int index, struct dd_rig *rig, dd_error *error);
} dd_support_kind;
const dd_support_kind *dd_support_kind_at(int kind); /* NULL past the end */

/* The vehicle standing on the profile with both axles. x: of the rear axle's contact, world. */
typedef struct dd_vehicle_pose {
    double front_x;                      /* contact of the front axle */
    double front_x_x, front_x_xx;        /* its first and second derivatives by x */
    double rear_z, rear_z_x, rear_z_xx;  /* height of the rear axle's contact, and its derivatives by x */
    double pitch, cosine, sine;          /* about +y, > 0: tail down (on a ramp going down seaward) */
    dd_vec3 ball, ball_x, ball_xx;       /* ball's position, and its first and second derivatives by x */
    dd_vec3 centre, centre_x, centre_xx; /* the same of the centre of mass */
    double pitch_x, pitch_xx;
} dd_vehicle_pose;
dd_vehicle_pose dd_vehicle_on_profile(const dd_vehicle_parameters *vehicle, const dd_ramp *ramp, double x);

/* Fill what is not given from other fields; where the rig is made this is done. */
void dd_vehicle_complete(dd_vehicle_parameters *vehicle);
void dd_trailer_complete(dd_trailer_parameters *trailer);
/* How beams or equalisers share a load among axles; false: there are none. */
bool dd_beam_shares(const dd_trailer_parameters *trailer, double share[DD_AXLES]);
/* Load at which an axle has the squash of its tyres and springs, N. */
double dd_axle_rated_load(const dd_trailer_parameters *trailer, int axle);
/* Middle of its axles behind the coupling, m. */
double dd_axles_middle(const dd_trailer_parameters *trailer);

extern const dd_key dd_vehicle_keys[], dd_trailer_keys[];
extern const dd_key dd_support_keys[];                           /* of dd_support: the rows that all kinds share */
extern const dd_key_rule dd_vehicle_rules[], dd_trailer_rules[]; /* end with holds NULL */
#endif
