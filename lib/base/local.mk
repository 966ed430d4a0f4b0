# SPDX-License-Identifier: GPL-3.0-or-later
libdrawdock_a_SOURCES += \
	lib/base/error.c lib/base/error.h \
	lib/base/status.c \
	lib/base/calendar.c lib/base/calendar.h \
	lib/base/numbers.c lib/base/numbers.h \
	lib/base/key.c lib/base/key.h lib/base/check.c lib/base/check.h \
	lib/base/sources.c lib/base/sources.h lib/base/sources.def \
	lib/base/units.c lib/base/units.h lib/base/units.def \
	lib/base/vector.h
