# SPDX-License-Identifier: GPL-3.0-or-later
libdrawdock_a_SOURCES += \
	lib/motion/system.c lib/motion/system.h \
	lib/motion/evaluate.c \
	lib/motion/jacobian.c \
	lib/motion/ledger.c lib/motion/ledger.h \
	lib/motion/equilibrium.c lib/motion/follow.c lib/motion/equilibrium.h \
	lib/motion/stiffness.c \
	lib/motion/trust.c lib/motion/search.h
libdrawdock_a_SOURCES += lib/motion/descent.c
