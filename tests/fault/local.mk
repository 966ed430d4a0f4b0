# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += \
	tests/fault/test_incomplete \
	tests/fault/test_memory \
	tests/fault/test_status
dist_check_SCRIPTS += \
	tests/fault/allocators.sh \
	tests/fault/incomplete.sh

# The library's calls of these go to the test, which makes them fail.
tests_fault_test_memory_SOURCES = tests/fault/test_memory.c
tests_fault_test_memory_LDFLAGS = \
	-Wl,--wrap=malloc \
	-Wl,--wrap=calloc \
	-Wl,--wrap=realloc \
	-Wl,--wrap=free \
	-Wl,--wrap=gsl_eigen_nonsymm_alloc \
	-Wl,--wrap=gsl_eigen_symmv_alloc \
	-Wl,--wrap=gsl_integration_glfixed_table_alloc \
	-Wl,--wrap=gsl_interp_alloc \
	-Wl,--wrap=gsl_matrix_alloc \
	-Wl,--wrap=gsl_multifit_nlinear_alloc \
	-Wl,--wrap=gsl_odeiv2_evolve_alloc \
	-Wl,--wrap=gsl_odeiv2_step_alloc \
	-Wl,--wrap=gsl_permutation_alloc \
	-Wl,--wrap=gsl_qrng_alloc \
	-Wl,--wrap=gsl_rng_alloc \
	-Wl,--wrap=gsl_root_fsolver_alloc \
	-Wl,--wrap=gsl_vector_alloc \
	-Wl,--wrap=gsl_vector_calloc \
	-Wl,--wrap=gsl_vector_complex_alloc

tests_fault_test_incomplete_SOURCES = tests/fault/test_incomplete.c tests/fault/spoiled.c tests/fault/spoiled.h
tests_fault_test_incomplete_LDFLAGS = -Wl,--wrap=dd_force_at
tests_fault_test_status_SOURCES = tests/fault/test_status.c tests/fault/spoiled.c tests/fault/spoiled.h \
	tools/drawdock/folder.c tools/drawdock/folder.h tools/drawdock/lists.c tools/drawdock/lists.h
tests_fault_test_status_LDFLAGS = -Wl,--wrap=dd_force_at -Wl,--wrap=calloc -Wl,--wrap=gsl_root_fsolver_iterate

# The tool with a force that incomplete.sh spoils; built for it, no test itself.
EXTRA_PROGRAMS += tests/fault/spoiled_tool
tests_fault_spoiled_tool_SOURCES = tests/fault/spoiled_tool.c tests/fault/spoiled.c tests/fault/spoiled.h $(drawdock_SOURCES)
tests_fault_spoiled_tool_LDADD = $(library) $(XSLT_LIBS)
tests_fault_spoiled_tool_LDFLAGS = -Wl,--wrap=dd_force_at
tests/fault/incomplete.log: tests/fault/spoiled_tool$(EXEEXT)
CLEANFILES += tests/fault/spoiled_tool
