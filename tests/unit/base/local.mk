# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/unit/base/test_base tests/unit/base/test_units tests/unit/base/test_calendar
tests_unit_base_test_calendar_SOURCES = tests/unit/base/test_calendar.c
tests_unit_base_test_base_SOURCES = tests/unit/base/test_base.c tests/unit/base/comma_locale.h
tests_unit_base_test_units_SOURCES = tests/unit/base/test_units.c
tests_unit_base_test_units_LDADD = $(LDADD) $(UDUNITS_LIBS)
dist_check_SCRIPTS += tests/unit/base/sources_used.py
EXTRA_DIST += tests/unit/near.h
