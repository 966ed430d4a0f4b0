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
	tools/drawdock/lists.c tools/drawdock/lists.h \
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
drawdock_LDADD = $(library) $(XSLT_LIBS)

# Manual pages and completions, from the same table as --help.
noinst_PROGRAMS += tools/drawdock/manual
tools_drawdock_manual_SOURCES = tools/drawdock/manual.c tools/drawdock/lists.c tools/drawdock/lists.h
tools_drawdock_manual_LDADD = $(library)
nodist_man1_MANS = drawdock.1 drawdock-begin.1 drawdock-run.1 drawdock-settle.1 drawdock-weigh.1 drawdock-seat.1 drawdock-depth.1 \
	drawdock-fleet.1 drawdock-brake.1 drawdock-handover.1 drawdock-check.1 drawdock-show.1 drawdock-keys.1
drawdock.1: tools/drawdock/manual$(EXEEXT)
	./tools/drawdock/manual man >$@.tmp && mv $@.tmp $@
drawdock-%.1: tools/drawdock/manual$(EXEEXT)
	./tools/drawdock/manual man $* >$@.tmp && mv $@.tmp $@
bashcompletiondir = $(datadir)/bash-completion/completions
bashcompletion_DATA = tools/drawdock/drawdock
zshcompletiondir = $(datadir)/zsh/site-functions
zshcompletion_DATA = tools/drawdock/_drawdock
fishcompletiondir = $(datadir)/fish/vendor_completions.d
fishcompletion_DATA = tools/drawdock/drawdock.fish
tools/drawdock/drawdock: tools/drawdock/manual$(EXEEXT)
	./tools/drawdock/manual bash >$@.tmp && mv $@.tmp $@
tools/drawdock/_drawdock: tools/drawdock/manual$(EXEEXT)
	./tools/drawdock/manual zsh >$@.tmp && mv $@.tmp $@
tools/drawdock/drawdock.fish: tools/drawdock/manual$(EXEEXT)
	./tools/drawdock/manual fish >$@.tmp && mv $@.tmp $@
CLEANFILES += $(nodist_man1_MANS) $(bashcompletion_DATA) $(zshcompletion_DATA) $(fishcompletion_DATA)
