# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/unit/record/test_record
tests_unit_record_test_record_SOURCES = tests/unit/record/test_record.c tests/unit/record/made_up.c tests/unit/record/made_up.h
check_PROGRAMS += tests/unit/record/test_report
tests_unit_record_test_report_SOURCES = tests/unit/record/test_report.c
