/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/shore/sun.h"
#include "lib/base/calendar.h"
#include "lib/base/error.h"
#include "lib/ode/ode.h"
#include <math.h>
#include <stdlib.h>

#define PI 3.14159265358979323846
#define DEGREE (PI / 180)
#define HORIZON (-0.833 * DEGREE)
#define J2000 946728000.0      /* 1 January 2000 12:00 */
#define LOCATED 0.5            /* s */
#define CENTURY (36525 * DD_SECONDS_PER_DAY)

static double mean_longitude(double T) { return (280.46646 + T * (36000.76983 + T * 0.0003032)) * DEGREE; }

/* Meeus 25.2 to 25.8 with the correction for the apparent place; the minute between UTC and dynamical time moves the sun 0.0007 degree. */
dd_sun dd_sun_at(double time)
{
    const double T = (time - J2000) / CENTURY;
    const double M = (357.52911 + T * (35999.05029 - T * 0.0001537)) * DEGREE;
    const double centre = ((1.914602 - T * (0.004817 + T * 0.000014)) * sin(M) + (0.019993 - 0.000101 * T) * sin(2 * M) + 0.000289 * sin(3 * M)) * DEGREE;
    const double node = (125.04 - 1934.136 * T) * DEGREE;
    const double longitude = mean_longitude(T) + centre - (0.00569 + 0.00478 * sin(node)) * DEGREE;
    const double obliquity = (23.4392911 - T * (0.0130042 + T * (1.64e-7 - T * 5.04e-7)) + 0.00256 * cos(node)) * DEGREE;
    return (dd_sun){remainder(longitude, 2 * PI), asin(sin(obliquity) * sin(longitude)), atan2(cos(obliquity) * sin(longitude), cos(longitude))};
}

/* Mean sidereal time at Greenwich (Meeus 12.4) less the sun's right ascension, and the longitude. */
static double hour_angle(double longitude, double time, const dd_sun *sun)
{
    const double days = (time - J2000) / DD_SECONDS_PER_DAY, T = days / 36525;
    const double sidereal = (280.46061837 + 360.98564736629 * days + T * T * (0.000387933 - T / 38710000)) * DEGREE;
    return remainder(sidereal + longitude - sun->right_ascension, 2 * PI);
}

double dd_sun_altitude(double latitude, double longitude, double time)
{
    const dd_sun sun = dd_sun_at(time);
    return asin(sin(latitude) * sin(sun.declination) + cos(latitude) * cos(sun.declination) * cos(hour_angle(longitude, time, &sun)));
}

typedef struct place {
    double latitude, longitude;
} place;

static double over_horizon(double time, void *context)
{
    const place *p = context;
    return dd_sun_altitude(p->latitude, p->longitude, time) - HORIZON;
}

/* The next time, at least `after`, at which the sun stands due south or north: between two of them it only climbs or only sinks, but
   for the creep of its declination, which moves the turn by under a minute below 65 degrees of latitude. */
static double next_turn(const place *p, double after)
{
    double time = after;
    for (int i = 0; i < 4; i++) {
        const dd_sun sun = dd_sun_at(time);
        const double angle = hour_angle(p->longitude, time, &sun); /* turns at 0 and pi */
        double ahead = i == 0 ? (angle < 0 ? -angle : PI - angle) : -remainder(angle, PI);
        time += ahead / (2 * PI) * DD_SECONDS_PER_DAY;
    }
    return time > after ? time : next_turn(p, after + 3600);
}

static dd_status append(dd_window **windows, size_t *count, double from, double to, dd_error *error)
{
    if (*count > 0 && (*windows)[*count - 1].to >= from) {
        (*windows)[*count - 1].to = to;
        return DD_OK;
    }
    dd_window *grown = realloc(*windows, (*count + 1) * sizeof **windows);
    if (grown == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_sun_daylight", "no memory for the days");
    *windows = grown;
    grown[(*count)++] = (dd_window){from, to};
    return DD_OK;
}

dd_status dd_sun_daylight(double latitude, double longitude, double from, double to, dd_window **windows, size_t *count, dd_error *error)
{
    place p = {latitude, longitude};
    dd_status status = DD_OK;
    *windows = NULL;
    *count = 0;
    for (double now = from; now < to && status == DD_OK;) {
        const double next = fmin(to, next_turn(&p, now + 1));
        const double before = over_horizon(now, &p), after = over_horizon(next, &p);
        double root = now;
        if ((before > 0) != (after > 0)) status = dd_ode_locate(over_horizon, &p, now, next, before, after, LOCATED, &root, error);
        if (status == DD_OK && (before > 0 || after > 0))
            status = append(windows, count, before > 0 ? now : root, before > 0 && after <= 0 ? root : next, error);
        now = next;
    }
    if (status == DD_OK) return DD_OK;
    free(*windows);
    *windows = NULL;
    *count = 0;
    return status;
}
