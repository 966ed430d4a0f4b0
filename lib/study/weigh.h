/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the rig weighs, in each state of loading. lib/study/weigh.c makes the states and calls the parts in order; each part
   adds its tables and checks to the report. */
#ifndef DD_STUDY_WEIGH_H
#define DD_STUDY_WEIGH_H
#include "lib/record/reporter.h"
#include "lib/rig/road.h"
#include "lib/study/measured.h"
#include "lib/study/yard.h"
#include <drawdock/case.h>

enum { DD_STATES = 9 }; /* as given, and the named ones */

/* The boat in one state of loading, at home on its trailer on level ground. */
typedef struct dd_state_of_loading {
    char name[48];            /* "as given", or the name of a loading */
    int item_count;
    dd_item items[DD_ABOARD]; /* aboard in this state */
    dd_mass_properties boat;  /* all of it, boat frame */
    dd_vec3 centre;           /* of the boat, trailer frame (behind the coupling, y, up from the coupling), as the trailer stands */
    dd_road_loads road;
} dd_state_of_loading;

typedef struct dd_weigh {
    const dd_case *scenario;
    int state_count;
    dd_state_of_loading states[DD_STATES];
    dd_mass_properties base;      /* of boat and engine without what is aboard: the same in every state */
    dd_placement placement;       /* of the boat on its trailer */
    dd_measured_solution solved;  /* of scale readings; the scenario has their figures already. No readings: empty */
    dd_reporter *report;
} dd_weigh;

/* The load of the trailer's most loaded wheel in that state, N. */
double dd_weigh_heaviest_wheel(const dd_weigh *weigh, const dd_state_of_loading *state);

/* The parts, in the order of the report; listed in weigh.c. */
dd_status dd_weigh_loads(dd_weigh *weigh, dd_error *error);    /* the load list and the totals of every state */
dd_status dd_weigh_measured(dd_weigh *weigh, dd_error *error); /* scale readings against the estimates */
dd_status dd_weigh_road(dd_weigh *weigh, dd_error *error);     /* loads on wheels, axles and coupling */
dd_status dd_weigh_ratings(dd_weigh *weigh, dd_error *error);  /* each against its rating */
dd_status dd_weigh_wheels(dd_weigh *weigh, dd_error *error);   /* what other wheels change, tyre pressure */
dd_status dd_weigh_rules(dd_weigh *weigh, dd_error *error);    /* brake class by the rule set */
dd_status dd_weigh_coupling(dd_weigh *weigh, dd_error *error); /* targets of the coupling load and what moves it there */
#endif
