/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/force/force.h"

static const dd_force_kind *const kinds[] = {
#define DD_FORCE(kind) &kind,
#include "lib/force/forces.def"
#undef DD_FORCE
};

int dd_force_count(void) { return (int)(sizeof kinds / sizeof kinds[0]); }

const dd_force_kind *dd_force_at(int index)
{
    return index >= 0 && index < dd_force_count() ? kinds[index] : NULL;
}
