/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/seat_pressure.h"
#include <gsl/gsl_math.h>
#include <math.h>

double dd_rubber_modulus(double shore_a) { return 1e6 * 0.0981 * (56 + 7.62336 * shore_a) / (0.137505 * (254 - 2.54 * shore_a)); }

dd_patch dd_roller_patch_of(double load, double width, double radius, double shore_a)
{
    const double stiff = dd_rubber_modulus(shore_a) / (1 - 0.25), along = load / width;
    return (dd_patch){2 * sqrt(4 * along * radius / (M_PI * stiff)), sqrt(along * stiff / (M_PI * radius))};
}
