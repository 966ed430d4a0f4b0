/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys of safety chain and transom ties. */
#ifndef DD_RIG_LINES_H
#define DD_RIG_LINES_H
#include "lib/rig/rig.h"
extern const dd_key dd_chain_keys[], dd_ties_keys[];
#endif
