/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A trailer axle on the ground, as its own force and the rolling resistance of its wheels see it. */
#ifndef DD_FORCE_AXLES_H
#define DD_FORCE_AXLES_H
#include "lib/force/jet.h"
#include "lib/force/soil.h"

/* World axes; x and z only, the rig moves in one plane. */
typedef struct dd_axle_contact {
    double foot;               /* abscissa of the ground's closest point to the hub */
    dd_jet foot_x;             /* the same with its derivatives */
    dd_jet normal_x, normal_z; /* unit normal of the ground there; the tangent seaward is (normal_z, -normal_x) */
    dd_jet column_x[DD_RIG_COORDINATES], column_z[DD_RIG_COORDINATES]; /* hub's displacement by each coordinate */
    dd_jet velocity_x, velocity_z;                                     /* of the hub */
    dd_jet squash, squash_rate, load;                                  /* load along the normal, never < 0 */
    double load_by_squash, elastic_load, energy;
    /* on soft ground: the ground under it, as deep as its wheels stand under the elastic load; else zero. Squash is then what tyre and
       spring keep. Derivatives of the load by stood and rut of each axle. */
    dd_soil soil;
    dd_sunk sunk;
    double by_stood[DD_AXLES], by_rut[DD_AXLES];
} dd_axle_contact;

void dd_axle_contact_at(const dd_rig *rig, const dd_ramp *ramp, const dd_kinematics *kinematics, int axle,
                        dd_axle_contact *contact);
/* Of any sprung wheel of the chassis. sunk: its stood and rut as remembered, on a ramp that is soft; NULL: firm. Its derivatives by
   these are by_stood[0] and by_rut[0]. */
void dd_wheel_contact_at(const dd_ground_wheel *wheel, const dd_ramp *ramp, const dd_kinematics *kinematics, const double sunk[2],
                         dd_axle_contact *contact);
/* The same without derivatives. */
void dd_wheel_contact_plain(const dd_ground_wheel *wheel, const dd_ramp *ramp, const dd_kinematics *kinematics, const double sunk[2],
                            dd_axle_contact *contact);
void dd_axle_contact_plain(const dd_rig *rig, const dd_ramp *ramp, const dd_kinematics *kinematics, int axle,
                           dd_axle_contact *contact);
/* Where a wheel itself is, world, m. Its tyre stands on the ground, squashed by the load at rest, and the spring lets it hang below its place on
   the frame, which is that under rated load; off the ground it hangs by all of the spring's way. */
typedef struct dd_standing_wheel {
    dd_vec3 hub, foot; /* foot: of the ground under it, as deep as the wheels have sunk in */
} dd_standing_wheel;
dd_standing_wheel dd_axle_stands(const dd_rig *rig, const dd_ramp *ramp, const dd_kinematics *kinematics, int axle);
/* The same at rest: no derivatives by the rates. */
void dd_axle_contact_still(const dd_rig *rig, const dd_ramp *ramp, const dd_kinematics *kinematics, int axle,
                           dd_axle_contact *contact);
/* What soft ground takes as it is pressed down, W: rut and what was sunk by standing, at these rates, m/s, and the foot coming onto other ground, along x
   at so many m/s. */
static inline double dd_axle_sinking_heat(const dd_axle_contact *c, double stood_rate, double rut_rate, double along)
{
    return c->elastic_load * stood_rate + c->sunk.work_by_rut * rut_rate + c->sunk.work_by_give * c->soil.give_by_x * along;
}
/* Load, elastic load and energy of a spring with its damper that is squashed so far, and at that rate; it never pulls. rated: load, N. */
void dd_spring_load_at(double stiffness, double damping, double rated, dd_jet squash, dd_jet rate, dd_axle_contact *contact);
void dd_spring_load_still(double stiffness, double damping, double rated, dd_jet squash, dd_jet rate, dd_axle_contact *contact);
void dd_spring_load_plain(double stiffness, double damping, double rated, dd_jet squash, dd_jet rate, dd_axle_contact *contact);
#ifdef DD_JET_PLAIN
#define dd_spring_load_at dd_spring_load_plain
#define dd_axle_contact_at dd_axle_contact_plain
#define dd_wheel_contact_at dd_wheel_contact_plain
#elif defined DD_JET_STILL
#define dd_spring_load_at dd_spring_load_still
#define dd_axle_contact_at dd_axle_contact_still
#define dd_wheel_contact_at dd_wheel_contact_still
#endif
/* Trailer pitch at which the last axle's hub is tyre_radius + lift above the ground, with the coupling on the unloaded ball. */
double dd_axles_standing_pitch(const dd_rig *rig, const dd_ramp *ramp, double x, double lift);
#endif
