# SPDX-License-Identifier: GPL-3.0-or-later
libcore_la_SOURCES += \
	lib/study/model.c lib/study/model.h \
	lib/study/start.c lib/study/start.h
