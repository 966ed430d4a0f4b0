/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trailer's axles and the wheels of a rig at rest, from the same sources (jet.h says why). */
#define DD_JET_STILL
#include "lib/force/axles_contact.c"
#include "lib/force/wheels_look.c"
