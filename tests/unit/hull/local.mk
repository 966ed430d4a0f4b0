# SPDX-License-Identifier: GPL-3.0-or-later
EXTRA_DIST += tests/unit/hull/local.mk
check_PROGRAMS += \
	tests/unit/hull/test_brochure \
	tests/unit/hull/test_closed_forms \
	tests/unit/hull/test_cuts \
	tests/unit/hull/test_equilibrium \
	tests/unit/hull/test_rails \
	tests/unit/hull/test_strips \
	tests/unit/hull/test_surface \
	tests/unit/hull/test_wigley

hull_test_sources = tests/unit/hull/hulls.c tests/unit/hull/hulls.h

tests_unit_hull_test_brochure_SOURCES = tests/unit/hull/test_brochure.c $(hull_test_sources)
tests_unit_hull_test_closed_forms_SOURCES = tests/unit/hull/test_closed_forms.c $(hull_test_sources)
tests_unit_hull_test_cuts_SOURCES = tests/unit/hull/test_cuts.c $(hull_test_sources)
tests_unit_hull_test_equilibrium_SOURCES = tests/unit/hull/test_equilibrium.c $(hull_test_sources)
tests_unit_hull_test_rails_SOURCES = tests/unit/hull/test_rails.c $(hull_test_sources)
tests_unit_hull_test_strips_SOURCES = tests/unit/hull/test_strips.c $(hull_test_sources)
tests_unit_hull_test_surface_SOURCES = tests/unit/hull/test_surface.c $(hull_test_sources)
tests_unit_hull_test_wigley_SOURCES = tests/unit/hull/test_wigley.c $(hull_test_sources)

EXTRA_DIST += \
	tests/reference/hydro/closed_forms.csv \
	tests/reference/hydro/free_equilibrium.csv \
	tests/reference/hydro/gz_prismatic_sections.csv \
	tests/reference/hydro/oblique_plane_cuts.csv \
	tests/reference/hydro/outboard_weights.csv \
	tests/reference/hydro/synthetic_chine_cuts.csv \
	tests/reference/hydro/synthetic_chine_equilibrium.csv \
	tests/reference/hydro/synthetic_chine_hydrostatics.csv \
	tests/reference/hydro/synthetic_chine_offsets.csv \
	tests/reference/hydro/synthetic_chine_waterplane.csv \
	tests/reference/hydro/textbook_small.csv \
	tests/reference/hydro/wigley.csv
