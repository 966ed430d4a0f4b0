/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command line with a force spoiled before main: SPOIL='force name', SPOIL_HOW=number of tests/fault/spoiled.h's list,
   SPOIL_FROM=seconds. */
#include "tests/fault/spoiled.h"
#include <stdlib.h>

__attribute__((constructor)) static void spoil_before_main(void)
{
    const char *name = getenv("SPOIL"), *how = getenv("SPOIL_HOW"), *from = getenv("SPOIL_FROM");
    if (name != NULL && how != NULL && from != NULL)
        spoil_force(name, (spoil)atoi(how), atof(from));
}
