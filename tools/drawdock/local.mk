# SPDX-License-Identifier: GPL-3.0-or-later
# bin_PROGRAMS += drawdock and its drawdock_SOURCES come with the first command; built as build/drawdock.
drawdock_LDADD = libcore.la
