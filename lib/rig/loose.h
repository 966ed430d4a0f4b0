/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What lets a trailer move by itself: jockey wheel, rope to the vehicle, tilting frame. Keys, and what they make of the rig. */
#ifndef DD_RIG_LOOSE_H
#define DD_RIG_LOOSE_H
#include "lib/rig/rig.h"

extern const dd_key dd_jockey_keys[], dd_rope_keys[], dd_tilt_keys[];
bool dd_loose_parts_fit(const void *trailer, char *message, size_t size, const char **key); /* a dd_key_rule */
/* After the trailer's lengths stand. Error: bed and chassis so far apart that the given pitch radius cannot be. */
dd_status dd_loose_place(dd_rig *rig, dd_error *error);
#endif
