/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/record/cautions.h"
#include <stddef.h>

static const dd_caution cautions[] = {
#define DD_CAUTION(brief, text) {brief, text},
#include "lib/record/cautions.def"
#undef DD_CAUTION
};

const dd_caution *dd_caution_at(int index)
{
    if (index < 0 || index >= (int)(sizeof cautions / sizeof cautions[0])) return NULL;
    return &cautions[index];
}
