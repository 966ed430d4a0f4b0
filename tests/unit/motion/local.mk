# SPDX-License-Identifier: GPL-3.0-or-later
EXTRA_DIST += tests/unit/motion/local.mk
free_body_sources = tests/unit/motion/free_body.c tests/unit/motion/free_body.h tests/unit/force/whole.c \
	tests/unit/force/whole.h tests/unit/hull/hulls.c tests/unit/hull/hulls.h
check_PROGRAMS += tests/unit/motion/test_free_motion
tests_unit_motion_test_free_motion_SOURCES = tests/unit/motion/test_free_motion.c $(free_body_sources)
check_PROGRAMS += tests/unit/motion/test_jacobian
tests_unit_motion_test_jacobian_SOURCES = tests/unit/motion/test_jacobian.c tests/property/scenarios.c tests/property/scenarios.h
check_PROGRAMS += tests/unit/motion/test_equilibrium
tests_unit_motion_test_equilibrium_SOURCES = tests/unit/motion/test_equilibrium.c tests/unit/force/whole.c tests/unit/force/whole.h \
	tests/unit/hull/hulls.c tests/unit/hull/hulls.h
check_PROGRAMS += tests/unit/motion/test_moving_water
tests_unit_motion_test_moving_water_SOURCES = tests/unit/motion/test_moving_water.c $(free_body_sources)
check_PROGRAMS += tests/unit/motion/test_rocker
tests_unit_motion_test_rocker_SOURCES = tests/unit/motion/test_rocker.c tests/property/scenarios.c tests/property/scenarios.h
