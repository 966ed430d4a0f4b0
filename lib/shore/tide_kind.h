/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each kind of tide is to the rest of lib/shore. */
#ifndef DD_SHORE_TIDE_KIND_H
#define DD_SHORE_TIDE_KIND_H
#include "lib/shore/tide.h"
struct dd_tide {
    double from, to; /* span it is made for */
    dd_tide_state (*at)(const dd_tide *tide, double time);
    void (*free)(dd_tide *tide);
};
#endif
