# SPDX-License-Identifier: GPL-3.0-or-later
bin_PROGRAMS += drawdock
drawdock_SOURCES = \
	tools/drawdock/begin.c \
	tools/drawdock/check.c \
	tools/drawdock/child.c tools/drawdock/child.h \
	tools/drawdock/command.h \
	tools/drawdock/data.c \
	tools/drawdock/figures.c \
	tools/drawdock/files.def \
	tools/drawdock/folder.c tools/drawdock/folder.h \
	tools/drawdock/handover.c tools/drawdock/handover.h tools/drawdock/handover_compute.c tools/drawdock/handover_page.c \
	tools/drawdock/handover_teach.c \
	tools/drawdock/interrupt.c \
	tools/drawdock/page.c tools/drawdock/page.h tools/drawdock/page_html.c tools/drawdock/page_report.c \
	tools/drawdock/page_result.c tools/drawdock/page_steps.c \
	tools/drawdock/keys.c \
	tools/drawdock/main.c \
	tools/drawdock/options.c tools/drawdock/options.def \
	tools/drawdock/output.c tools/drawdock/output.h \
	tools/drawdock/plot.c tools/drawdock/plot.h \
	tools/drawdock/progress.c \
	tools/drawdock/report.c tools/drawdock/report.h \
	tools/drawdock/run.c \
	tools/drawdock/scenario.c \
	tools/drawdock/screen.c tools/drawdock/screen.h \
	tools/drawdock/settle.c \
	tools/drawdock/show.c \
	tools/drawdock/study.c \
	tools/drawdock/windows.c tools/drawdock/zone.c tools/drawdock/zone.h \
	tools/drawdock/rigs.c tools/drawdock/trailers.c tools/drawdock/adjust.c tools/drawdock/fleet.c
drawdock_LDADD = libcore.la $(XSLT_LIBS)
