# SPDX-License-Identifier: GPL-3.0-or-later
libdrawdock_a_SOURCES += \
	lib/ode/bdf.c \
	lib/ode/explicit.c \
	lib/ode/gsl.c lib/ode/gsl.h \
	lib/ode/locate.c \
	lib/ode/newton.c lib/ode/newton.h \
	lib/ode/ode.c lib/ode/ode.h
