/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a hull's maker asks of where supports bear and how hard, measured. */
#ifndef DD_STUDY_SEAT_REQUIRED_H
#define DD_STUDY_SEAT_REQUIRED_H
#include "lib/study/seat_meet.h"

/* Bands of the supports that bear under those loads of the model's contacts, and what each bears, N; returns their number. */
int dd_seat_bearing_bands(const dd_seat_laid *laid, const dd_seat_model *model, const double *load, dd_seat_band bands[DD_SEAT_BANDS],
                          double borne[DD_SEAT_BANDS]);
/* How far a band lies from a zone without rollers, m; < 0: it lies in it, by so much. */
double dd_seat_apart_from_zone(const dd_seat_band *band, const dd_requirement *zone);
/* What a requirement of place measures, m: how far the nearest of the bands lies from the zone, transom or bulkhead, or the transom hangs
   over the last of them; and which band that is (-1: there is none; the distance then is NaN). */
double dd_seat_least_apart(const dd_seat_band *bands, int count, const dd_requirement *requirement, int *which);
/* Pressure in the middle of the contact of a roller of that support under a load N, Pa; NaN: hardness or width are not given. */
double dd_seat_peak_pressure(const dd_support *support, double load);
#endif
