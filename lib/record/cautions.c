/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/record/cautions.h"
#include <stddef.h>

enum { RAMP = DD_CAUTION_RAMP, ROAD = DD_CAUTION_ROAD };

static const dd_caution cautions[] = {
#define DD_CAUTION(where, brief, text) {where, brief, text},
#include "lib/record/cautions.def"
#undef DD_CAUTION
};

const dd_caution *dd_caution_at(int index)
{
    if (index < 0 || index >= (int)(sizeof cautions / sizeof cautions[0])) return NULL;
    return &cautions[index];
}
