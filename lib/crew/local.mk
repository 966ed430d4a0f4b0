# SPDX-License-Identifier: GPL-3.0-or-later
libcore_la_SOURCES += \
	lib/crew/steps.c lib/crew/steps.h \
	lib/crew/procedure.c lib/crew/procedure.h
