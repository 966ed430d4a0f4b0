/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_FORCE_JOCKEY_H
#define DD_FORCE_JOCKEY_H
#include "lib/force/force.h"

#define DD_JOCKEY_STOWED 0.6 /* m, what the leg is drawn in on the road from where it gives the coupling its height */

/* Memory: deflection of the rolling bristle, m; how far the leg stands out of its stowed place, m; on soft ground what the wheel sank by
   standing and its rut, m. */
enum { DD_JOCKEY_BRISTLE, DD_JOCKEY_LEG, DD_JOCKEY_STOOD, DD_JOCKEY_RUT, DD_JOCKEY_MEMORY };
/* Winds the leg out (into memory) until the wheel carries `load` here, N: what is done before the coupling is lifted off. */
void dd_jockey_stand(const void *instance, const dd_kinematics *kinematics, double load, double *memory);
#endif
