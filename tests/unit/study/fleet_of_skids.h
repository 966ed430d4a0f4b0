/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_TESTS_FLEET_OF_SKIDS_H
#define DD_TESTS_FLEET_OF_SKIDS_H
#include <drawdock/study.h>

/* The fleet of a scenario whose one listed rig is five-skid, launched and retrieved; a rig needs as much water as it is long and heavy: what
   the levels are is no matter of the keys of a fleet. */
dd_status fleet_of_skids(const dd_case *scenario, dd_report **report, dd_error *error);
#endif
