# SPDX-License-Identifier: GPL-3.0-or-later
libcore_la_SOURCES += lib/force/added_mass.h
libcore_la_SOURCES += lib/force/force.h
EXTRA_DIST += lib/force/forces.def
libcore_la_SOURCES += lib/force/bristle.c lib/force/bristle.h lib/force/smooth.h
