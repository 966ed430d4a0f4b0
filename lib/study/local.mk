# SPDX-License-Identifier: GPL-3.0-or-later
libdrawdock_a_SOURCES += \
	lib/study/model.c lib/study/model.h \
	lib/study/quote.c lib/study/quote.h lib/study/weigh.c lib/study/weigh.h \
	lib/study/weigh_road.c lib/study/weigh_ratings.c lib/study/weigh_wheels.c \
	lib/study/yard.c lib/study/yard.h \
	lib/study/fit.c lib/study/fit.h \
	lib/study/start.c lib/study/start.h \
	lib/study/wind_home.c \
	lib/study/run.c lib/study/run.h \
	lib/study/observe.c lib/study/observe.h \
	lib/study/causes.c lib/study/causes.h \
	lib/study/facts.c \
	lib/study/watch.c lib/study/watch.h \
	lib/study/picture.c lib/study/picture.h lib/study/shapes.c lib/study/shapes.h \
	lib/study/home.c \
	lib/study/margins.c \
	lib/study/verdict.c lib/study/verdict.h \
	lib/study/bands.c \
	lib/study/study_run.c \
	lib/study/settle.c lib/study/settle.h lib/study/settle_falls.c lib/study/settle_parts.h \
	lib/study/asides.c lib/study/asides.h \
	lib/study/study_settle.c lib/study/settle_study.h lib/study/settle_verdict.c
EXTRA_DIST += lib/study/observables.def lib/study/facts.def lib/study/causes.def
libdrawdock_a_SOURCES += lib/study/feasible.c lib/study/feasible.h
libdrawdock_a_SOURCES += lib/study/seat.c lib/study/seat.h lib/study/seat_loads.c lib/study/seat_model.c lib/study/seat_model.h lib/study/seat_picture.c lib/study/seat_solve.c lib/study/seat_what_if.c lib/study/seat_worst.c
libdrawdock_a_SOURCES += lib/study/seat_adjust.c lib/study/seat_adjust.h lib/study/seat_adjust_changes.c lib/study/seat_adjust_clear.c lib/study/seat_adjust_judge.c lib/study/seat_adjust_search.c \
	lib/study/seat_asked.c lib/study/seat_required.c lib/study/seat_required.h lib/study/seat_adjust_required.c lib/study/seat_pressure.c lib/study/seat_pressure.h lib/study/seat_coupling.c lib/study/seat_coupling.h lib/study/seat_adjust_setup.c lib/study/seat_adjust_tell.c lib/study/seat_adjust_tell.h
libdrawdock_a_SOURCES += lib/study/weigh_loads.c lib/study/weigh_rules.c lib/study/which_trailer.c
libdrawdock_a_SOURCES += lib/study/measured.c lib/study/measured.h
libdrawdock_a_SOURCES += lib/study/weigh_measured.c
libdrawdock_a_SOURCES += lib/study/coupling.c lib/study/coupling.h lib/study/weigh_coupling.c
libdrawdock_a_SOURCES += lib/study/seat_meet.c lib/study/seat_meet.h lib/study/seat_contacts.c lib/study/seat_sections.c lib/study/seat_travel.c
libdrawdock_a_SOURCES += lib/study/restraint.c lib/study/restraint.h lib/study/restraint_model.c lib/study/seat_road.c
libdrawdock_a_SOURCES += lib/study/seat_afloat.c lib/study/seat_afloat.h lib/study/seat_bow.c lib/study/seat_guides.c
libdrawdock_a_SOURCES += lib/study/depth.c lib/study/depth.h lib/study/depth_band.c lib/study/depth_grip.c lib/study/depth_haul.c lib/study/depth_level.c lib/study/depth_limits.c lib/study/depth_report.h \
	lib/study/depth_slide.c lib/study/depth_start.c lib/study/depth_tell.c lib/study/depth_tide.c lib/study/depth_walk.c \
	lib/study/depth_checks.c lib/study/depth_curve.c lib/study/depth_picture.c lib/study/depth_ramp.c lib/study/depth_reach.c
EXTRA_DIST += lib/study/depth_ends.def
libdrawdock_a_SOURCES += lib/study/windows.c lib/study/windows.h lib/study/windows_levels.c lib/study/windows_asked.c lib/study/windows_day.c lib/study/windows_year.c lib/study/windows_sure.c
libdrawdock_a_SOURCES += lib/study/brake_motion.c lib/study/brake_motion.h lib/study/brake_stop.c
libdrawdock_a_SOURCES += lib/study/brake.c lib/study/brake.h lib/study/brake_stops.c lib/study/brake_gain.c lib/study/brake_hills.c lib/study/brake_hold.c lib/study/brake_pull_out.c lib/study/brake_descent.c lib/study/brake_swing.c lib/study/brake_standards.c
libdrawdock_a_SOURCES += lib/study/seat_strength.c
libdrawdock_a_SOURCES += lib/study/fleet.c lib/study/fleet.h lib/study/fleet_ramp.c lib/study/fleet_reach.c lib/study/fleet_run.c lib/study/fleet_sample.c lib/study/fleet_tell.c lib/study/fleet_share.c
libdrawdock_a_SOURCES += lib/study/begin.c lib/study/begin.h lib/study/begin_place.c lib/study/begin_text.c lib/study/begin_set_up.c
EXTRA_DIST += lib/study/begin.def
