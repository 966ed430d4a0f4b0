/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Density and viscosity of water by kind and temperature. */
#include "lib/shore/shore.h"
#include "lib/base/check.h"
#include "lib/base/error.h"
#include <string.h>

/* Practical salinity of standard sea water, and the same water's salt by mass, kg/kg. */
#define STANDARD_SALINITY 35.0
#define STANDARD_SALT 35.16504e-3
#define ICE_POINT 273.15

void dd_water_copy(dd_water *to, const dd_water *from)
{
    const size_t first = offsetof(dd_water, tide.points), used = first + (size_t)from->tide.point_count * sizeof from->tide.points[0],
                 after = first + sizeof from->tide.points;
    memcpy(to, from, used);
    memcpy((char *)to + after, (const char *)from + after, sizeof *from - after);
}

void dd_water_defaults(dd_water *water)
{
    memset(water, 0, sizeof *water);
    dd_key_clear(dd_water_keys, water);
    dd_key_defaults(dd_water_keys, water);
    water->cookie = sizeof *water;
}

/* EOS-80 at one atmosphere (UNESCO 1983). Temperatures of IPTS-68 and ITS-90 differ by 0.024 %: below 0.002 kg/m3 here. */
double dd_sea_density(double s, double t)
{
    double pure =
        999.842594 + t * (6.793952e-2 + t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
    double a = 0.824493 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
    double b = -5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6);
    return pure + s * (a + b * sqrt(s) + 4.8314e-4 * s);
}

/* Recommended by the CIPM in 2001. */
double dd_fresh_density(double t)
{
    double d = t - 3.983035;
    return 999.974950 * (1 - d * d * (t + 301.797) / (522528.9 * (t + 69.34881)));
}

/* IAPWS 2008, equation for liquid water at 0.1 MPa. */
double dd_fresh_viscosity(double temperature)
{
    double r = (temperature + ICE_POINT) / 300;
    return 1e-6 * (280.68 * pow(r, -1.9) + 511.45 * pow(r, -7.7) + 61.131 * pow(r, -19.6) + 0.45903 * pow(r, -40));
}

/* Desalination and Water Treatment 16 (2010) 354-380, equations 22 and 23. */
double dd_sea_viscosity(double salt, double t)
{
    double pure = 4.2844e-5 + 1 / (0.157 * (t + 64.993) * (t + 64.993) - 91.296);
    double a = 1.541 + t * (1.998e-2 - t * 9.52e-5), b = 7.974 + t * (-7.561e-2 + t * 4.724e-4);
    return pure * (1 + salt * (a + b * salt));
}

dd_status dd_water_complete(dd_water *water, dd_error *error)
{
    if (water->cookie != sizeof *water)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_water_complete", "the struct was not filled with dd_water_defaults()");
    dd_status status = dd_key_check(dd_water_keys, water, "dd_water_complete", error);
    if (status == DD_OK) status = dd_key_check_rules(dd_water_rules, water, "dd_water_complete", error);
    if (status != DD_OK) return status;
    dd_key_fill(dd_water_keys, water);
    double t = water->temperature - ICE_POINT;
    double sea = dd_sea_density(STANDARD_SALINITY, t), fresh = dd_fresh_density(t);
    double sea_viscosity = dd_sea_viscosity(STANDARD_SALT, t) / sea, fresh_viscosity = dd_fresh_viscosity(t) / fresh;
    double share = water->kind == DD_WATER_SEA ? 1 : water->kind == DD_WATER_FRESH ? 0 : 0.5;
    if (isnan(water->density)) water->density = share * sea + (1 - share) * fresh;
    if (isnan(water->viscosity)) water->viscosity = share * sea_viscosity + (1 - share) * fresh_viscosity;
    return DD_OK;
}
