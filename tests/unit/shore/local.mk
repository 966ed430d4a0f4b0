# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/unit/shore/test_ramp tests/unit/shore/test_water
tests_unit_shore_test_ramp_SOURCES = tests/unit/shore/test_ramp.c
tests_unit_shore_test_water_SOURCES = tests/unit/shore/test_water.c
check_PROGRAMS += tests/unit/shore/test_moving_water tests/unit/shore/test_ground
tests_unit_shore_test_moving_water_SOURCES = tests/unit/shore/test_moving_water.c
tests_unit_shore_test_ground_SOURCES = tests/unit/shore/test_ground.c
EXTRA_DIST += tests/reference/hydro/run_up.csv
EXTRA_DIST += \
	tests/reference/hydro/water_eos80.csv \
	tests/reference/hydro/water_properties.csv \
	tests/reference/hydro/water_table.csv
check_PROGRAMS += tests/unit/shore/test_tide tests/unit/shore/test_tide_tables tests/unit/shore/test_windows
tests_unit_shore_test_windows_SOURCES = tests/unit/shore/test_windows.c
tests_unit_shore_test_tide_SOURCES = tests/unit/shore/test_tide.c
tests_unit_shore_test_tide_tables_SOURCES = tests/unit/shore/test_tide_tables.c
EXTRA_DIST += \
	tests/reference/tide/arguments.csv tests/reference/tide/constants.csv tests/reference/tide/crossings.csv tests/reference/tide/datums.csv \
	tests/reference/tide/high_low.csv tests/reference/tide/hourly.csv tests/reference/tide/subordinate.csv
