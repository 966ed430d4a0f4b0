# SPDX-License-Identifier: GPL-3.0-or-later
libcore_la_SOURCES += lib/hull/surface.h
