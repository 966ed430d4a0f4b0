/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/rig/hitch.h"
#include <math.h>

#define POUND 0.45359237    /* kg, source "yard and pound" */
#define POUND_FORCE (POUND * 9.80665)

static const struct {
    int number;
    double mass, chain; /* lb, lbf */
} classes[] = {
#define DD_HITCH_CLASS(number, mass, chain) {number, mass, chain},
#include "lib/rig/hitch.def"
#undef DD_HITCH_CLASS
};

static int index_of(int hitch_class)
{
    for (int i = 0; i < (int)(sizeof classes / sizeof classes[0]); i++)
        if (classes[i].number == hitch_class) return i;
    return -1;
}

double dd_hitch_class_mass(int hitch_class)
{
    const int i = index_of(hitch_class);
    return i < 0 ? (double)NAN : POUND * classes[i].mass;
}

double dd_hitch_class_chain(int hitch_class, double trailer_rating)
{
    const int i = index_of(hitch_class);
    if (i < 0) return NAN;
    return POUND_FORCE * (classes[i].chain > 0 ? classes[i].chain : trailer_rating / POUND);
}
