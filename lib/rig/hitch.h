/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Classes that couplings and hitches are marked with. */
#ifndef DD_RIG_HITCH_H
#define DD_RIG_HITCH_H
double dd_hitch_class_mass(int hitch_class); /* heaviest trailer, kg; NaN: no such class */
/* Breaking strength of each safety chain, N, for a trailer rated for so much, kg (NaN: not known). NaN: no such class, or not known. */
double dd_hitch_class_chain(int hitch_class, double trailer_rating);
#endif
