# SPDX-License-Identifier: GPL-3.0-or-later
dist_check_SCRIPTS += \
	tests/cli/begin.py \
	tests/cli/brochure.sh tests/cli/cases.py tests/cli/depth.sh tests/cli/fleet.sh tests/cli/handover.py \
	tests/cli/folder.sh \
	tests/cli/help.sh tests/cli/manual.sh \
	tests/cli/output.sh tests/cli/pictures.py \
	tests/cli/readme.sh \
	tests/cli/road.sh \
	tests/cli/scenario.sh \
	tests/cli/terminal.py tests/cli/units.py \
	tests/cli/windows.py
check_PROGRAMS += tests/cli/test_tool
tests_cli_test_tool_SOURCES = tests/cli/test_tool.c \
	tools/drawdock/child.c tools/drawdock/child.h \
	tools/drawdock/command.h \
	tools/drawdock/data.c \
	tools/drawdock/figures.c \
	tools/drawdock/folder.c tools/drawdock/folder.h \
	tools/drawdock/interrupt.c \
	tools/drawdock/lists.c tools/drawdock/lists.h \
	tools/drawdock/output.c tools/drawdock/output.h \
	tools/drawdock/plot.c tools/drawdock/plot.h \
	tools/drawdock/progress.c \
	tools/drawdock/scenario.c \
	tools/drawdock/screen.c \
	tools/drawdock/study.c
tests_cli_test_tool_LDFLAGS = -Wl,--wrap=renameat2
EXTRA_DIST += tests/cli/common.sh tests/cli/pictures.txt
