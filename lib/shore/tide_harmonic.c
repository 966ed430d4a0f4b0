/* SPDX-License-Identifier: GPL-3.0-or-later */
/* h = Z0 + sum f H cos(V + u - g). */
#include "lib/base/calendar.h"
#include "lib/base/error.h"
#include "lib/shore/tide_constituents.h"
#include "lib/shore/tide_kind.h"
#include <math.h>
#include <stdlib.h>

#define FIRST_YEAR 1700
#define LAST_YEAR 2300

typedef struct wave {
    int constituent;
    double amplitude, phase, speed;
} wave;
typedef struct harmonic {
    dd_tide base;
    double mean_level;
    dd_tide_nodes nodes;
    size_t count;
    wave *waves;
    int first_year, years;
    double *new_years;            /* of each year and the one after the last */
    double *amplitude, *argument; /* of each year and wave: f H; V0 + u - g */
} harmonic;

static const char here[] = "dd_tide_harmonic";

static dd_tide_state sum_of_year(const harmonic *h, double time)
{
    int year = (int)((time - h->new_years[0]) / (365.25 * DD_SECONDS_PER_DAY));
    if (year >= h->years) year = h->years - 1;
    while (year > 0 && h->new_years[year] > time) year--;
    while (year < h->years - 1 && h->new_years[year + 1] <= time) year++;
    const double *amplitude = h->amplitude + (size_t)year * h->count, *argument = h->argument + (size_t)year * h->count;
    double t = time - h->new_years[year];
    dd_tide_state state = {h->mean_level, 0};
    for (size_t k = 0; k < h->count; k++) {
        double angle = h->waves[k].speed * t + argument[k];
        state.level += amplitude[k] * cos(angle);
        state.rate -= amplitude[k] * h->waves[k].speed * sin(angle);
    }
    return state;
}

static dd_tide_state sum_of_moment(const harmonic *h, double time)
{
    dd_tide_sky sky = dd_tide_sky_at(time);
    dd_tide_node node = dd_tide_node_at(time);
    dd_tide_state state = {h->mean_level, 0};
    for (size_t k = 0; k < h->count; k++) {
        double u, f;
        dd_tide_node_factor(h->waves[k].constituent, &node, &u, &f);
        double angle = dd_tide_argument(h->waves[k].constituent, &sky) + u - h->waves[k].phase;
        state.level += f * h->waves[k].amplitude * cos(angle);
        state.rate -= f * h->waves[k].amplitude * h->waves[k].speed * sin(angle);
    }
    return state;
}

static dd_tide_state harmonic_at(const dd_tide *tide, double time)
{
    const harmonic *h = (const harmonic *)tide;
    return h->nodes == DD_TIDE_MID_YEAR ? sum_of_year(h, time) : sum_of_moment(h, time);
}

static void harmonic_free(dd_tide *tide)
{
    harmonic *h = (harmonic *)tide;
    free(h->waves);
    free(h->new_years);
    free(h->amplitude);
    free(h->argument);
    free(h);
}

static void fill_year(harmonic *h, int index)
{
    int year = h->first_year + index;
    dd_tide_sky sky = dd_tide_sky_at(h->new_years[index]);
    dd_tide_node node = dd_tide_node_at((double)dd_calendar_days(year, 7, 2) * DD_SECONDS_PER_DAY + DD_SECONDS_PER_DAY / 2);
    for (size_t k = 0; k < h->count; k++) {
        double u, f;
        size_t at = (size_t)index * h->count + k;
        dd_tide_node_factor(h->waves[k].constituent, &node, &u, &f);
        h->amplitude[at] = f * h->waves[k].amplitude;
        h->argument[at] = dd_tide_argument(h->waves[k].constituent, &sky) + u - h->waves[k].phase;
    }
}

static dd_status check_constants(const dd_tide_constant *constants, size_t count, dd_error *error)
{
    static const char *const main_ones[] = {"M2", "S2", "K1", "O1"};
    for (size_t k = 0; k < count; k++) {
        int constituent = dd_tide_constituent(constants[k].name);
        if (constituent < 0)
            return dd_fail(error, DD_ERROR_ARGUMENT, here, "constituent '%s' is not known", constants[k].name);
        if (!isfinite(constants[k].amplitude) || !isfinite(constants[k].phase) || constants[k].amplitude < 0)
            return dd_fail(error, DD_ERROR_ARGUMENT, here, "constituent '%s' needs an amplitude of 0 or more and a phase",
                           constants[k].name);
        for (size_t other = 0; other < k; other++)
            if (dd_tide_constituent(constants[other].name) == constituent)
                return dd_fail(error, DD_ERROR_ARGUMENT, here, "constituent '%s' is given twice (also as '%s')",
                               constants[k].name, constants[other].name);
    }
    for (size_t m = 0; m < sizeof main_ones / sizeof *main_ones; m++) {
        size_t k = 0;
        while (k < count && dd_tide_constituent(constants[k].name) != dd_tide_constituent(main_ones[m])) k++;
        if (k == count)
            return dd_fail(error, DD_ERROR_ARGUMENT, here, "constituent '%s' is missing: give amplitude 0 where the place has none",
                           main_ones[m]);
    }
    return DD_OK;
}

dd_status dd_tide_harmonic(const dd_tide_constant *constants, size_t count, double mean_level, dd_tide_nodes nodes, double from,
                           double to, dd_tide **tide, dd_error *error)
{
    *tide = NULL;
    dd_status status = check_constants(constants, count, error);
    if (status != DD_OK) return status;
    if (!isfinite(mean_level)) return dd_fail(error, DD_ERROR_ARGUMENT, here, "the mean level above the datum is not given");
    if (!(from < to)) return dd_fail(error, DD_ERROR_ARGUMENT, here, "the span ends before it begins");
    if (!(from >= dd_calendar_new_year(FIRST_YEAR)) || !(to <= dd_calendar_new_year(LAST_YEAR + 1)))
        return dd_fail(error, DD_ERROR_ARGUMENT, here, "node factors are valid from %d to %d", FIRST_YEAR, LAST_YEAR);
    harmonic *h = calloc(1, sizeof *h);
    if (!h) return dd_fail(error, DD_ERROR_MEMORY, here, "no memory for the tide");
    h->base = (dd_tide){from, to, harmonic_at, harmonic_free};
    h->mean_level = mean_level;
    h->nodes = nodes;
    h->count = count;
    h->first_year = dd_calendar_year(from);
    h->years = dd_calendar_year(to) - h->first_year + 1;
    size_t cells = (size_t)h->years * count;
    h->waves = calloc(count, sizeof *h->waves);
    h->new_years = calloc((size_t)h->years + 1, sizeof *h->new_years);
    h->amplitude = calloc(cells, sizeof *h->amplitude);
    h->argument = calloc(cells, sizeof *h->argument);
    if (!h->waves || !h->new_years || !h->amplitude || !h->argument) {
        harmonic_free(&h->base);
        return dd_fail(error, DD_ERROR_MEMORY, here, "no memory for the tide");
    }
    for (size_t k = 0; k < count; k++) {
        int constituent = dd_tide_constituent(constants[k].name);
        h->waves[k] = (wave){constituent, constants[k].amplitude, constants[k].phase, dd_tide_speed(constituent)};
    }
    for (int year = 0; year <= h->years; year++) h->new_years[year] = dd_calendar_new_year(h->first_year + year);
    for (int year = 0; year < h->years; year++) fill_year(h, year);
    *tide = &h->base;
    return DD_OK;
}
