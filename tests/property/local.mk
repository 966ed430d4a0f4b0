# SPDX-License-Identifier: GPL-3.0-or-later
EXTRA_DIST += tests/property/local.mk
property_sources = tests/property/scenarios.c tests/property/scenarios.h
check_PROGRAMS += tests/property/test_integrator
tests_property_test_integrator_SOURCES = tests/property/test_integrator.c $(property_sources) $(cvode_sources)
tests_property_test_integrator_LDADD = $(LDADD) $(SUNDIALS_LIBS)
