# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/unit/shore/test_ramp tests/unit/shore/test_water
tests_unit_shore_test_ramp_SOURCES = tests/unit/shore/test_ramp.c
tests_unit_shore_test_water_SOURCES = tests/unit/shore/test_water.c
EXTRA_DIST += \
	tests/reference/hydro/water_eos80.csv \
	tests/reference/hydro/water_properties.csv \
	tests/reference/hydro/water_table.csv
