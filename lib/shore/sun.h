/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sun over a place: J. Meeus, Astronomical Algorithms, chapters 12 and 25 (low accuracy, 0.01 degree). Angles in radians, latitude
   > 0 north, longitude > 0 east, times in seconds UTC since 1 January 1970. */
#ifndef DD_SHORE_SUN_H
#define DD_SHORE_SUN_H
#include "lib/shore/windows.h"

typedef struct dd_sun {
    double longitude, declination, right_ascension; /* apparent */
} dd_sun;
dd_sun dd_sun_at(double time);
/* Height of the sun's centre over the horizon, without refraction. */
double dd_sun_altitude(double latitude, double longitude, double time);
/* When any of the sun is over a level horizon: its centre above -0.833 degrees (34' of refraction and 16' of radius, as almanacs have
   it), between two times; each window ends at a sunset, or at the end of the span. None: polar night; one over all of the span: polar
   day. Sunrise is good to a minute at latitudes where the sun does not graze the horizon; hills and weather are not in it.
   free(*windows). */
dd_status dd_sun_daylight(double latitude, double longitude, double from, double to, dd_window **windows, size_t *count, dd_error *error);
#endif
