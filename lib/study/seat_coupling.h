/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_STUDY_SEAT_COUPLING_H
#define DD_STUDY_SEAT_COUPLING_H
#include "lib/base/vector.h"
#include <drawdock/case.h>

/* Load on the coupling of the rig on level ground with a boat of that mass and centre (trailer frame) on that trailer: *load, N, and
   its share of the weight of the whole trailer. Errors: as dd_road_statics(). */
dd_status dd_seat_coupling_load(const dd_case *scenario, const dd_trailer_parameters *trailer, double mass, dd_vec3 centre, double *load,
                                double *share, dd_error *error);
#endif
