/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rig's contact and wheels without derivatives, from the same sources (jet.h says why). */
#define DD_JET_PLAIN
#include "lib/force/axles_contact.c"
#include "lib/force/wheels_look.c"
