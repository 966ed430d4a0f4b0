/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/seat_coupling.h"
#include "lib/rig/road.h"

dd_status dd_seat_coupling_load(const dd_case *scenario, const dd_trailer_parameters *trailer, double mass, dd_vec3 centre, double *load,
                                double *share, dd_error *error)
{
    dd_road_loads road;
    const dd_status status = dd_road_statics(&scenario->vehicle, trailer, mass, centre, scenario->gravity, &road, error);
    *load = status == DD_OK ? road.coupling : 0;
    *share = status == DD_OK ? road.coupling / (road.aggregate_mass * scenario->gravity) : 0;
    return status;
}
