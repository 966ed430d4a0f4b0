/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_STUDY_SEAT_PRESSURE_H
#define DD_STUDY_SEAT_PRESSURE_H

/* A rubber roller pressed on a flat panel, as Hertz has the line contact of a solid cylinder on a rigid flat. */
typedef struct dd_patch {
    double length; /* of the contact, along the hull, m */
    double peak;   /* pressure in its middle, Pa: 4/pi of the mean */
} dd_patch;

/* Young's modulus of rubber of a Shore A hardness (20 to 98), Pa: 0.0981 (56 + 7.62336 S) / (0.137505 (254 - 2.54 S)) MPa. Grade: memory,
   source "roller pressure". */
double dd_rubber_modulus(double shore_a);
/* load N, its width along the axle m, its radius m; rubber does not change its volume (Poisson's ratio 1/2). load 0: all 0. */
dd_patch dd_roller_patch_of(double load, double width, double radius, double shore_a);
#endif
