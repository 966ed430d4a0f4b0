# SPDX-License-Identifier: GPL-3.0-or-later
libdrawdock_a_SOURCES += \
	lib/crew/steps.c lib/crew/steps.h lib/crew/order.c \
	lib/crew/skipper.c lib/crew/skipper.h \
	lib/crew/actions.c lib/crew/actions.h lib/crew/reached.c \
	lib/crew/procedure.c lib/crew/procedure.h
