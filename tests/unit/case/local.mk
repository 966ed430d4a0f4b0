# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += \
	tests/unit/case/test_bad_files \
	tests/unit/case/test_keys \
	tests/unit/case/test_memory \
	tests/unit/case/test_mutations \
	tests/unit/case/test_overrides \
	tests/unit/case/test_reader \
	tests/unit/case/test_schema \
	tests/unit/case/test_tide \
	tests/unit/case/test_tide_file
case_test_sources = tests/unit/case/cases.c tests/unit/case/cases.h
tests_unit_case_test_bad_files_SOURCES = tests/unit/case/test_bad_files.c $(case_test_sources)
tests_unit_case_test_keys_SOURCES = tests/unit/case/test_keys.c $(case_test_sources)
tests_unit_case_test_memory_SOURCES = tests/unit/case/test_memory.c $(case_test_sources)
tests_unit_case_test_memory_LDFLAGS = -Wl,--wrap=malloc,--wrap=calloc,--wrap=realloc
tests_unit_case_test_mutations_SOURCES = tests/unit/case/test_mutations.c $(case_test_sources)
tests_unit_case_test_overrides_SOURCES = tests/unit/case/test_overrides.c $(case_test_sources)
tests_unit_case_test_reader_SOURCES = tests/unit/case/test_reader.c $(case_test_sources)
tests_unit_case_test_schema_SOURCES = tests/unit/case/test_schema.c $(case_test_sources)
tests_unit_case_test_tide_SOURCES = tests/unit/case/test_tide.c $(case_test_sources)
tests_unit_case_test_tide_file_SOURCES = tests/unit/case/test_tide_file.c $(case_test_sources)
EXTRA_DIST += \
	tests/cli/bad \
	tests/unit/case/brochure.yaml \
	tests/unit/case/moving-water.yaml tests/unit/case/tide.yaml tests/unit/case/tide-table.yaml \
	tests/unit/case/tide-file.yaml tests/unit/case/tide-constants.csv tests/unit/case/tide-table-file.yaml tests/unit/case/tide-table.csv \
	tests/reference/tide/agency_constants.csv tests/reference/tide/agency_hourly.csv tests/reference/tide/agency_high_low.tsv \
	tests/unit/case/invented-points.yaml \
	tests/unit/case/invented-stations.yaml \
	tests/unit/case/supports.yaml \
	tests/unit/case/people.yaml \
	tests/unit/case/road.yaml \
	tests/unit/case/adjusted.yaml tests/unit/case/braked.yaml tests/unit/case/fleet.yaml \
	tests/unit/case/ruled.yaml \
	tests/unit/case/surveyed.yaml \
	tests/unit/case/validate_schema.py
