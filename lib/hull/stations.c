/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Are measured stations a hull? */
#include <math.h>
#include <stdio.h>
#include "lib/hull/lines.h"

static int half_section(const dd_station *s, double *y, double *z)
{
    int n = 0;
    y[n] = 0, z[n++] = s->keel_height;
    for (int i = 0; i < s->strake_half_breadth_count; i++)
        y[n] = s->strake_half_breadth[i], z[n++] = s->strake_height[i];
    y[n] = s->chine_half_breadth, z[n++] = s->chine_height;
    y[n] = s->sheer_half_breadth, z[n++] = s->sheer_height;
    return n;
}

/* Which side of the line a-b the point c lies on. */
static double turn(const double *y, const double *z, int a, int b, int c)
{
    return (y[b] - y[a]) * (z[c] - z[a]) - (y[c] - y[a]) * (z[b] - z[a]);
}

/* Do the edges i, i+1 and j, j+1 cross inside both? */
static bool edges_cross(const double *y, const double *z, int i, int j)
{
    return turn(y, z, i, i + 1, j) * turn(y, z, i, i + 1, j + 1) < 0 && turn(y, z, j, j + 1, i) * turn(y, z, j, j + 1, i + 1) < 0;
}

static bool station_is_sound(const dd_station *s, int number, char *message, size_t size)
{
    double y[DD_SECTION_POINTS], z[DD_SECTION_POINTS], area = 0, breadth = 0;
    int n = half_section(s, y, z);
    for (int i = 0; i < n; i++) {
        area += i ? y[i - 1] * z[i] - y[i] * z[i - 1] : 0;
        breadth = fmax(breadth, y[i]);
    }
    area += y[n - 1] * z[n - 1]; /* the deck, in to the middle */
    if (s->sheer_height < s->keel_height || s->chine_height > s->sheer_height) {
        snprintf(message, size, "station %d: keel %g m, chine %g m, sheer %g m, expected a sheer no lower than the others", number,
                 s->keel_height, s->chine_height, s->sheer_height);
        return false;
    }
    if (breadth > 1e-3 && !(area > 0)) {
        snprintf(message, size, "station %d: its section has no area, expected points from the keel out and up to the sheer", number);
        return false;
    }
    for (int i = 0; i < n - 1; i++)
        for (int j = i + 2; j < n - 1; j++)
            if (edges_cross(y, z, i, j)) {
                snprintf(message, size, "station %d: the section crosses itself, expected points from the keel out to the sheer", number);
                return false;
            }
    return true;
}

bool dd_stations_check(const dd_station *stations, int count, char *message, size_t size)
{
    const int strakes = stations[0].strake_half_breadth_count;
    bool any = false;
    for (int i = 0; i < count; i++) {
        const dd_station *s = &stations[i];
        if (s->strake_half_breadth_count != s->strake_height_count) {
            snprintf(message, size, "station %d: %d strake half breadths but %d strake heights, expected as many", i + 1,
                     s->strake_half_breadth_count, s->strake_height_count);
            return false;
        }
        if (s->strake_half_breadth_count != strakes) {
            snprintf(message, size, "station %d has %d strakes, station 1 has %d, expected the same number at all stations", i + 1,
                     s->strake_half_breadth_count, strakes);
            return false;
        }
        if (i && !(s->at - stations[i - 1].at >= 1e-3)) {
            snprintf(message, size, "station %d at %g m, expected forward of station %d at %g m, by 1 mm or more", i + 1, s->at, i,
                     stations[i - 1].at);
            return false;
        }
        if (!station_is_sound(s, i + 1, message, size))
            return false;
        any = any || s->chine_half_breadth > 1e-3 || s->sheer_half_breadth > 1e-3;
    }
    if (!any)
        snprintf(message, size, "all stations are without breadth");
    return any;
}
