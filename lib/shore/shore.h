/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_SHORE_SHORE_H
#define DD_SHORE_SHORE_H
#include <drawdock/shore.h>
#include "lib/base/key.h"
extern const dd_key dd_ramp_keys[], dd_water_keys[];
extern const dd_key_rule dd_ramp_rules[], dd_water_rules[]; /* end with holds NULL */
#endif
