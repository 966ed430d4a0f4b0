# SPDX-License-Identifier: GPL-3.0-or-later
libdrawdock_a_SOURCES += lib/hull/surface.h lib/hull/lines.h lib/hull/section.h lib/hull/brochure.c lib/hull/equilibrium.c lib/hull/estimate.c \
	lib/hull/hull.c lib/hull/hydrostatics.c lib/hull/item.c lib/hull/keys.c lib/hull/lines.c lib/hull/rails.c lib/hull/rules.c lib/hull/section.c \
	lib/hull/stations.c lib/hull/stem.c lib/hull/strips.c lib/hull/surface.c
