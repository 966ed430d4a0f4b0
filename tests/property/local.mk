# SPDX-License-Identifier: GPL-3.0-or-later
EXTRA_DIST += tests/property/local.mk
property_sources = tests/property/scenarios.c tests/property/scenarios.h
drawing_sources = \
	tests/property/drawing.h \
	tests/property/random_procedures.c \
	tests/property/random_rigs.c \
	tests/property/random_rigs.h \
	tests/property/random_shores.c \
	tests/property/random_trailers.c
check_PROGRAMS += \
	tests/property/test_centring \
	tests/property/test_determinism \
	tests/property/test_holding \
	tests/property/test_integrator \
	tests/property/test_ledger \
	tests/property/test_mirror \
	tests/property/test_practice_launch \
	tests/property/test_practice_retrieve \
	tests/property/test_practice_wrong \
	tests/property/test_random_rigs \
	tests/property/test_slow_limit \
	tests/property/test_soft_ground \
	tests/property/test_stem

tests_property_test_determinism_SOURCES = tests/property/test_determinism.c $(property_sources)
tests_property_test_determinism_LDADD = $(LDADD) -lpthread
tests_property_test_integrator_SOURCES = tests/property/test_integrator.c $(property_sources) $(cvode_sources)
tests_property_test_integrator_LDADD = $(LDADD) $(SUNDIALS_LIBS)
tests_property_test_soft_ground_SOURCES = tests/property/test_soft_ground.c $(property_sources)
tests_property_test_ledger_SOURCES = tests/property/test_ledger.c $(property_sources)
tests_property_test_mirror_SOURCES = tests/property/test_mirror.c $(property_sources)
tests_property_test_holding_SOURCES = tests/property/test_holding.c $(property_sources)
tests_property_test_slow_limit_SOURCES = tests/property/test_slow_limit.c $(property_sources)
tests_property_test_stem_SOURCES = tests/property/test_stem.c $(property_sources)
tests_property_test_centring_SOURCES = tests/property/test_centring.c $(property_sources)
practice_sources = tests/property/practice.c tests/property/practice.h $(property_sources)
tests_property_test_practice_launch_SOURCES = tests/property/test_practice_launch.c $(practice_sources)
tests_property_test_practice_retrieve_SOURCES = tests/property/test_practice_retrieve.c $(practice_sources)
tests_property_test_practice_wrong_SOURCES = tests/property/test_practice_wrong.c $(practice_sources)
tests_property_test_random_rigs_SOURCES = tests/property/test_random_rigs.c $(drawing_sources) $(property_sources)
tests_property_test_random_rigs_LDADD = $(LDADD) -lpthread

# `make soak`: many more random rigs than the suite has time for.
.PHONY: soak
soak: all tests/property/test_random_rigs
	./tests/property/test_random_rigs 2000
dist_check_SCRIPTS += tests/property/begin_grid.py
