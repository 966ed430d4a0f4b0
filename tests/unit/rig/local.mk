# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/unit/rig/test_rig
tests_unit_rig_test_rig_SOURCES = tests/unit/rig/test_rig.c tests/unit/rig/rigs.c tests/unit/rig/rigs.h
check_PROGRAMS += tests/unit/rig/test_winch
tests_unit_rig_test_winch_SOURCES = tests/unit/rig/test_winch.c
check_PROGRAMS += tests/unit/rig/test_road
tests_unit_rig_test_road_SOURCES = tests/unit/rig/test_road.c tests/unit/rig/rigs.c tests/unit/rig/rigs.h
check_PROGRAMS += tests/unit/rig/test_tyres
tests_unit_rig_test_tyres_SOURCES = tests/unit/rig/test_tyres.c
EXTRA_DIST += tests/reference/road/load_index.csv tests/reference/road/speed_symbol.csv tests/reference/road/dvalue.csv
check_PROGRAMS += tests/unit/rig/test_section
tests_unit_rig_test_section_SOURCES = tests/unit/rig/test_section.c
