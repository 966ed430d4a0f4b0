# SPDX-License-Identifier: GPL-3.0-or-later
libcore_la_SOURCES += \
	lib/case/case.c lib/case/case.h \
	lib/case/files.c \
	lib/case/keys.c \
	lib/case/memory.c \
	lib/case/messages.c \
	lib/case/node.c lib/case/node.h \
	lib/case/override.c \
	lib/case/reader.c lib/case/reader.h \
	lib/case/rules.c \
	lib/case/table.c
