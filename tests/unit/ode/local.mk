# SPDX-License-Identifier: GPL-3.0-or-later
EXTRA_DIST += tests/unit/ode/local.mk
check_PROGRAMS += \
	tests/unit/ode/test_accuracy \
	tests/unit/ode/test_contact \
	tests/unit/ode/test_events \
	tests/unit/ode/test_gsl_handler \
	tests/unit/ode/test_newton \
	tests/unit/ode/test_stepper \
	tests/unit/ode/test_stiff

ode_test_sources = tests/unit/ode/problems.c tests/unit/ode/problems.h tests/unit/ode/checks.h
cvode_sources = tests/unit/ode/cvode_stepper.c tests/unit/ode/cvode_stepper.h

tests_unit_ode_test_accuracy_SOURCES = tests/unit/ode/test_accuracy.c $(ode_test_sources)
tests_unit_ode_test_events_SOURCES = tests/unit/ode/test_events.c $(ode_test_sources)
tests_unit_ode_test_gsl_handler_SOURCES = tests/unit/ode/test_gsl_handler.c $(ode_test_sources)
tests_unit_ode_test_newton_SOURCES = tests/unit/ode/test_newton.c tests/unit/ode/checks.h
tests_unit_ode_test_stepper_SOURCES = tests/unit/ode/test_stepper.c $(ode_test_sources)
tests_unit_ode_test_contact_SOURCES = tests/unit/ode/test_contact.c $(ode_test_sources) $(cvode_sources)
tests_unit_ode_test_contact_LDADD = $(LDADD) $(SUNDIALS_LIBS)
tests_unit_ode_test_stiff_SOURCES = tests/unit/ode/test_stiff.c $(ode_test_sources) $(cvode_sources)
tests_unit_ode_test_stiff_LDADD = $(LDADD) $(SUNDIALS_LIBS)
