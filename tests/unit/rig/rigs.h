/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Invented rigs and ramps that several tests share. */
#ifndef DD_TESTS_RIGS_H
#define DD_TESTS_RIGS_H
#include <drawdock/rig.h>
#include <drawdock/shore.h>

/* 1:8 slab from 2 m to -1.5 m, level approach, bed of 1:25 with a step of 80 mm. */
dd_ramp_parameters test_ramp_parameters(void);
/* A slope without breaks anywhere near x = 0. */
dd_ramp_parameters test_straight_ramp_parameters(double grade);
dd_vehicle_parameters test_vehicle_parameters(void);
/* Tandem, a keel roller and two cradles. */
dd_trailer_parameters test_trailer_parameters(void);
/* The rig of road references C07 to C10: trailer of 1500 kg, coupling to axle 4.5 m, centre 0.315 m ahead of it
   and 1.0 m high, coupling 0.45 m high; vehicle of 1800 kg, wheelbase 2.7 m, centre 1.25 m behind the front axle and 0.6 m high,
   ball 1.1 m behind the rear axle. Springs next to rigid, no rolling resistance of the trailer. */
void reference_rig(dd_vehicle_parameters *vehicle, dd_trailer_parameters *trailer);
dd_ramp *test_ramp_of(const dd_ramp_parameters *parameters);
dd_rig *test_rig_of(const dd_vehicle_parameters *vehicle, const dd_trailer_parameters *trailer);
#endif
