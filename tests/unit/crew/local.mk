# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/unit/crew/test_procedure tests/unit/crew/test_skipper tests/unit/crew/test_order
tests_unit_crew_test_procedure_SOURCES = tests/unit/crew/test_procedure.c tests/unit/crew/people.h
tests_unit_crew_test_skipper_SOURCES = tests/unit/crew/test_skipper.c tests/unit/crew/people.h
tests_unit_crew_test_order_SOURCES = tests/unit/crew/test_order.c tests/unit/crew/people.h
check_PROGRAMS += tests/unit/crew/test_people
tests_unit_crew_test_people_SOURCES = tests/unit/crew/test_people.c tests/unit/crew/people.h
