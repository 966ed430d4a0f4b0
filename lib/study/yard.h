/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A rig with its boat at home on dry, even ground: the start of `weigh` and `seat`. */
#ifndef DD_STUDY_YARD_H
#define DD_STUDY_YARD_H
#include "lib/study/start.h"

/* A model of the scenario's rig on an even slope (rise over run, > 0: it stands on a ramp, tail down), no water near, whatever
   ramp and water the scenario has. Errors: those of dd_study_model_create(). */
dd_status dd_yard_create(const dd_case *scenario, double slope, dd_study_model **model, dd_error *error);

/* Where the boat lies: its frame in the trailer frame. */
typedef struct dd_placement {
    dd_vec3 origin;     /* of the boat, trailer frame, m */
    dd_mat3 to_trailer; /* boat axes to trailer axes */
} dd_placement;

/* The boat at home on level ground: as given, or the equilibrium on its supports with the strap at its pretension. Errors:
   DD_ERROR_NO_EQUILIBRIUM and those of dd_yard_create(). */
dd_status dd_yard_place(const dd_case *scenario, dd_placement *placement, dd_error *error);
/* A point of the boat in the trailer frame. */
dd_vec3 dd_placed_point(const dd_placement *placement, dd_vec3 in_boat);
/* A point of the trailer frame in boat axes. */
dd_vec3 dd_point_in_boat(const dd_placement *placement, dd_vec3 in_trailer);
#endif
