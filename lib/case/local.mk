# SPDX-License-Identifier: GPL-3.0-or-later
libdrawdock_a_SOURCES += \
	lib/case/buffer.c lib/case/buffer.h \
	lib/case/case.c lib/case/case.h \
	lib/case/files.c \
	lib/case/fingerprint.c \
	lib/case/json.c \
	lib/case/json_text.c lib/case/json_text.h \
	lib/case/braking.c lib/case/fleet.c lib/case/keys.c lib/case/requirements.c \
	lib/case/loading.c lib/case/loading.h \
	lib/case/measured.c lib/case/measured.h \
	lib/case/memory.c \
	lib/case/messages.c \
	lib/case/node.c lib/case/node.h \
	lib/case/override.c \
	lib/case/reader.c lib/case/reader.h \
	lib/case/reference.c \
	lib/case/rules.c \
	lib/case/schema.c \
	lib/case/show.c lib/case/show.h \
	lib/case/table.c \
	lib/case/tide_file.c
