/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_RIG_ADJUST_H
#define DD_RIG_ADJUST_H
#include "lib/rig/rig.h"

/* A rule of the block trailer: each travel has two ends, about where the part stands. */
bool dd_travels_hold(const void *trailer, char *message, size_t size, const char **key);
#endif
