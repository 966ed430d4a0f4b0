# SPDX-License-Identifier: GPL-3.0-or-later
EXTRA_PROGRAMS += tests/bench/bench_run
bench_programs += tests/bench/bench_run
tests_bench_bench_run_SOURCES = tests/bench/bench_run.c tests/unit/ode/cvode_stepper.c tests/unit/ode/cvode_stepper.h
tests_bench_bench_run_LDADD = $(library) $(SUNDIALS_LIBS)
EXTRA_PROGRAMS += tests/bench/bench_settle
bench_programs += tests/bench/bench_settle
tests_bench_bench_settle_SOURCES = tests/bench/bench_settle.c tests/bench/cost.c tests/bench/cost.h
tests_bench_bench_settle_LDADD = $(library)
tests_bench_bench_settle_LDFLAGS = -Wl,--wrap=dd_system_evaluate
EXTRA_PROGRAMS += tests/bench/bench_depth
bench_programs += tests/bench/bench_depth
tests_bench_bench_depth_SOURCES = tests/bench/bench_depth.c tests/bench/cost.c tests/bench/cost.h
tests_bench_bench_depth_LDADD = $(library)
tests_bench_bench_depth_LDFLAGS = -Wl,--wrap=dd_system_evaluate
EXTRA_DIST += tests/bench/results.md tests/property/rocker-stream-launch.yaml tests/property/rocker-stream-retrieve.yaml
