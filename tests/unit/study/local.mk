# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/unit/study/test_settle_launching
tests_unit_study_test_settle_launching_SOURCES = tests/unit/study/test_settle_launching.c tests/unit/study/ways.c tests/unit/study/ways.h \
	tests/unit/hull/hulls.c tests/unit/hull/hulls.h
EXTRA_DIST += tests/reference/hydro/launch_cases.csv tests/reference/hydro/launch_events.csv \
	tests/reference/hydro/launch_sequence.csv tests/reference/hydro/synthetic_chine_launch.csv
check_PROGRAMS += tests/unit/study/test_settle_docking
tests_unit_study_test_settle_docking_SOURCES = tests/unit/study/test_settle_docking.c tests/unit/study/ways.c tests/unit/study/ways.h \
	tests/unit/hull/hulls.c tests/unit/hull/hulls.h
EXTRA_DIST += tests/reference/hydro/docking_exact.csv tests/reference/hydro/docking_published.csv
tests_unit_study_test_key_effects_SOURCES = tests/unit/study/test_key_effects.c tests/unit/study/fleet_of_skids.c tests/unit/study/fleet_of_skids.h
check_PROGRAMS += tests/unit/study/test_causes
tests_unit_study_test_causes_SOURCES = tests/unit/study/test_causes.c
check_PROGRAMS += tests/unit/study/test_bands
tests_unit_study_test_bands_SOURCES = tests/unit/study/test_bands.c
check_PROGRAMS += tests/unit/study/test_tilting_frame
tests_unit_study_test_tilting_frame_SOURCES = tests/unit/study/test_tilting_frame.c tests/property/scenarios.c tests/property/scenarios.h $(whole_sources)
check_PROGRAMS += tests/unit/study/test_settle_asides
tests_unit_study_test_settle_asides_SOURCES = tests/unit/study/test_settle_asides.c tests/property/scenarios.c tests/property/scenarios.h
check_PROGRAMS += tests/unit/study/test_settle_moves
tests_unit_study_test_settle_moves_SOURCES = tests/unit/study/test_settle_moves.c tests/property/scenarios.c tests/property/scenarios.h
tests_unit_study_test_settle_moves_LDFLAGS = -Wl,--wrap=dd_system_evaluate
check_PROGRAMS += tests/unit/study/test_ties
tests_unit_study_test_ties_SOURCES = tests/unit/study/test_ties.c
check_PROGRAMS += tests/unit/study/test_fit
tests_unit_study_test_fit_SOURCES = tests/unit/study/test_fit.c tests/property/scenarios.c tests/property/scenarios.h
check_PROGRAMS += tests/unit/study/test_margins
tests_unit_study_test_margins_SOURCES = tests/unit/study/test_margins.c tests/property/scenarios.c tests/property/scenarios.h
check_PROGRAMS += tests/unit/study/test_weigh_loads
tests_unit_study_test_weigh_loads_SOURCES = tests/unit/study/test_weigh_loads.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_road_home
tests_unit_study_test_road_home_SOURCES = tests/unit/study/test_road_home.c tests/property/scenarios.c tests/property/scenarios.h
check_PROGRAMS += tests/unit/study/test_seat_solve
tests_unit_study_test_seat_solve_SOURCES = tests/unit/study/test_seat_solve.c
check_PROGRAMS += tests/unit/study/test_seat_convex
tests_unit_study_test_seat_convex_SOURCES = tests/unit/study/test_seat_convex.c tests/unit/study/seats_drawn.c tests/unit/study/seats_drawn.h
check_PROGRAMS += tests/unit/study/test_measured
tests_unit_study_test_measured_SOURCES = tests/unit/study/test_measured.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_weigh_ratings
tests_unit_study_test_weigh_ratings_SOURCES = tests/unit/study/test_weigh_ratings.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_weigh_wheels
tests_unit_study_test_weigh_wheels_SOURCES = tests/unit/study/test_weigh_wheels.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_weigh_coupling
tests_unit_study_test_weigh_coupling_SOURCES = tests/unit/study/test_weigh_coupling.c tests/unit/study/reports.c tests/unit/study/reports.h
EXTRA_DIST += tests/reference/road/coupling_load.csv
check_PROGRAMS += tests/unit/study/test_seat
tests_unit_study_test_seat_SOURCES = tests/unit/study/test_seat.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_rules
tests_unit_study_test_rules_SOURCES = tests/unit/study/test_rules.c tests/unit/study/reports.c tests/unit/study/reports.h
EXTRA_DIST += tests/reference/road/rule_classes.csv tests/reference/road/rule_limits.csv tests/reference/road/hitch_classes.csv
check_PROGRAMS += tests/unit/study/test_seat_worst
tests_unit_study_test_seat_worst_SOURCES = tests/unit/study/test_seat_worst.c tests/unit/study/seats_drawn.c tests/unit/study/seats_drawn.h
check_PROGRAMS += tests/unit/study/test_seat_adjust
tests_unit_study_test_seat_adjust_SOURCES = tests/unit/study/test_seat_adjust.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_seat_road
tests_unit_study_test_seat_road_SOURCES = tests/unit/study/test_seat_road.c tests/unit/study/reports.c tests/unit/study/reports.h
EXTRA_DIST += tests/reference/road/restraint.csv
check_PROGRAMS += tests/unit/study/test_seat_bow
tests_unit_study_test_seat_bow_SOURCES = tests/unit/study/test_seat_bow.c tests/unit/study/reports.c tests/unit/study/reports.h
EXTRA_DIST += tests/unit/study/prism.yaml
check_PROGRAMS += tests/unit/study/test_seat_contacts
tests_unit_study_test_seat_contacts_SOURCES = tests/unit/study/test_seat_contacts.c tests/unit/study/reports.c tests/unit/study/reports.h \
	tests/unit/hull/hulls.c tests/unit/hull/hulls.h
EXTRA_DIST += tests/unit/study/vee-on-rollers.yaml
check_PROGRAMS += tests/unit/study/test_brake_stop
tests_unit_study_test_brake_stop_SOURCES = tests/unit/study/test_brake_stop.c tests/unit/study/reports.c tests/unit/study/reports.h \
	tests/unit/ode/cvode_stepper.c tests/unit/ode/cvode_stepper.h
tests_unit_study_test_brake_stop_LDADD = $(LDADD) $(SUNDIALS_LIBS)
EXTRA_DIST += tests/reference/road/aashto_ssd_level.csv tests/reference/road/aashto_ssd_grade.csv tests/reference/road/overrun_worked.csv
check_PROGRAMS += tests/unit/study/test_windows
tests_unit_study_test_windows_SOURCES = tests/unit/study/test_windows.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_depth
tests_unit_study_test_depth_SOURCES = tests/unit/study/test_depth.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_brake
tests_unit_study_test_brake_SOURCES = tests/unit/study/test_brake.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_brake_rules
tests_unit_study_test_brake_rules_SOURCES = tests/unit/study/test_brake_rules.c tests/unit/study/reports.c tests/unit/study/reports.h
EXTRA_DIST += tests/reference/road/holding.csv
check_PROGRAMS += tests/unit/study/test_depth_told
tests_unit_study_test_depth_told_SOURCES = tests/unit/study/test_depth_told.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_depth_run
# `make levels`: every shipped launch and retrieve 20 mm below and above the least level of depth; the suite has time for four and six.
.PHONY: levels
levels: tests/unit/study/test_depth_run
	./tests/unit/study/test_depth_run levels $(srcdir)/scenarios/launch.yaml $(srcdir)/scenarios/launch-cross-stream.yaml $(srcdir)/scenarios/rigs/*-launch.yaml \
	  $(srcdir)/scenarios/retrieve.yaml $(srcdir)/scenarios/retrieve-cross-stream.yaml $(srcdir)/scenarios/rigs/*-retrieve*.yaml
tests_unit_study_test_depth_run_SOURCES = tests/unit/study/test_depth_run.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_seat_strength
tests_unit_study_test_seat_strength_SOURCES = tests/unit/study/test_seat_strength.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_practice_road
tests_unit_study_test_practice_road_SOURCES = tests/unit/study/test_practice_road.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_seat_required
tests_unit_study_test_seat_required_SOURCES = tests/unit/study/test_seat_required.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_begin
tests_unit_study_test_begin_SOURCES = tests/unit/study/test_begin.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_fleet
tests_unit_study_test_fleet_SOURCES = tests/unit/study/test_fleet.c tests/unit/study/reports.c tests/unit/study/reports.h
check_PROGRAMS += tests/unit/study/test_drawing
tests_unit_study_test_drawing_SOURCES = tests/unit/study/test_drawing.c
