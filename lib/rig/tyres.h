/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tyres and wheels: markings, what they carry at a pressure, keys. */
#ifndef DD_RIG_TYRES_H
#define DD_RIG_TYRES_H
#include <drawdock/rig.h>
#include "lib/base/key.h"

extern const dd_key dd_wheel_keys[], dd_hub_keys[], dd_vehicle_tyre_keys[]; /* of dd_wheel_parameters, dd_hub_parameters, dd_tyre_parameters */

enum { DD_LEAST_LOAD_INDEX = 60, DD_MOST_LOAD_INDEX = 130 };
/* kg; NaN: not in the table. */
double dd_load_index_mass(int index);
/* m/s; NaN: no such symbol. */
double dd_speed_symbol_speed(int symbol);
const char *dd_speed_symbol_name(int symbol); /* NULL: no such symbol */

/* What one tyre carries at its full pressure, kg: its rating or that of its index, divided by 1.10 for a car's tyre on a
   trailer. NaN: not known. */
double dd_tyre_rating(const dd_tyre_parameters *tyre, int car_tyre_on_trailer);
/* What it carries at the pressure that it has, kg: rating (p / full pressure)^0.8, never above the rating. NaN: not known. */
double dd_tyre_capacity(const dd_tyre_parameters *tyre, int car_tyre_on_trailer);
/* Pressure at which it carries the load (kg), Pa: full pressure (load / rating)^1.25; *linear (may be NULL): by simple proportion. Above
   the full pressure: no pressure will do. NaN: not known. */
double dd_tyre_pressure_for(const dd_tyre_parameters *tyre, int car_tyre_on_trailer, double load, double *linear);
/* Of the rim's middle inboard of its mounting face, m; from the backspace where the offset is not given. NaN: not known. */
double dd_wheel_offset(const dd_wheel_parameters *wheel);
/* Horizontal force between vehicle and trailer that a coupling is rated by, N. */
double dd_coupling_d_value(double vehicle_mass, double trailer_mass);
#endif
