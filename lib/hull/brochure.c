/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The form of a hull generated from brochure figures. Keel, plan of the sheer and plan of the chine are made of
   cubics that meet at stations with continuous second derivative, so the splines through the stations are those
   cubics. The stem rises from three fifths of the length; at the bow end the breadths close on an upright stem head. */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_interp.h>
#include <math.h>
#include "lib/hull/lines.h"

enum { BROCHURE_STATIONS = 11 };
/* Share of the length; the joints of the cubics (0.4, 0.6) are among them. */
static const double station_shares[BROCHURE_STATIONS] = {0, 0.15, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.88, 0.95, 1};
static const double keel_starts = 0.6;   /* the keel is straight up to here */
static const double sheer_widest = 0.4;
static const double chine_leaves = 0.4;  /* from here forward the chine runs in */
static const double transom_narrower = 0.05;
static const double chine_at_stem = 0.5; /* share of the stem's upright part where the chine meets it */

static double cubed_beyond(double share, double start, double end)
{
    double u = (share - start) / (end - start);
    return u > 0 ? u * u * u : 0;
}

static double keel_share(double share) { return cubed_beyond(share, keel_starts, 1); }

double dd_brochure_stem(const dd_hull_parameters *parameters, const dd_hull_estimates *figures, double height)
{
    const double length = dd_brochure_length(parameters);
    if (parameters->station_count <= 0) {
        double rise = fmin(fmax(height / figures->keel_rise.likely, 0), 1);
        return length * (keel_starts + (1 - keel_starts) * cbrt(rise));
    }
    /* Measured stations: straight between the two around the height. */
    for (int i = parameters->station_count - 1; i > 0; i--) {
        const dd_station *a = &parameters->stations[i - 1], *b = &parameters->stations[i];
        if (a->keel_height <= height && b->keel_height >= height && b->keel_height > a->keel_height)
            return a->at + (b->at - a->at) * (height - a->keel_height) / (b->keel_height - a->keel_height) - parameters->stations[0].at;
    }
    return length;
}

int dd_brochure_stations(const dd_hull_parameters *parameters, const dd_hull_estimates *figures, dd_station *stations)
{
    const double length = dd_brochure_length(parameters), half_chine = 0.5 * figures->chine_beam.likely, half_beam = 0.5 * parameters->beam;
    const double rise = figures->keel_rise.likely;
    const double sheer[3] = {figures->transom_sheer_height.likely, figures->midships_sheer_height.likely, figures->bow_sheer_height.likely};
    const double knots[4] = {0, 0.5, 0.8, 1};
    const double deadrise[3] = {parameters->transom_deadrise, figures->midships_deadrise.likely, figures->bow_deadrise.likely};
    double chine_plan[BROCHURE_STATIONS], sheer_plan[BROCHURE_STATIONS], above_keel[4];
    for (int i = 0; i < BROCHURE_STATIONS; i++) {
        double s = station_shares[i], aft = transom_narrower * cubed_beyond(-s, -sheer_widest, 0);
        sheer_plan[i] = half_beam * (1 - aft - cubed_beyond(s, sheer_widest, 1));
        chine_plan[i] = half_chine * (1 - aft - cubed_beyond(s, chine_leaves, 1));
    }
    /* Height of the chine above the keel: from the deadrise at transom, half and four fifths of the length, and the stem. */
    const int places[3] = {0, 4, 7};
    for (int k = 0; k < 3; k++)
        above_keel[k] = chine_plan[places[k]] * tan(deadrise[k]);
    above_keel[3] = chine_at_stem * (sheer[2] - rise);
    gsl_interp *curve = gsl_interp_alloc(gsl_interp_steffen, 4); /* monotone between its points */
    if (!curve || gsl_interp_init(curve, knots, above_keel, 4)) {
        if (curve)
            gsl_interp_free(curve);
        return 0;
    }
    for (int i = 0; i < BROCHURE_STATIONS; i++) {
        const double s = station_shares[i], a = (s - 0.5) * (s - 1) * 2, b = -4 * s * (s - 1), c = 2 * s * (s - 0.5);
        double keel = rise * keel_share(s), above = 0;
        gsl_interp_eval_e(curve, knots, above_keel, s, NULL, &above);
        stations[i] = (dd_station){.at = s * length,
                                   .keel_height = keel,
                                   .chine_half_breadth = chine_plan[i],
                                   .chine_height = keel + above,
                                   .sheer_half_breadth = sheer_plan[i],
                                   .sheer_height = a * sheer[0] + b * sheer[1] + c * sheer[2]};
    }
    gsl_interp_free(curve);
    return BROCHURE_STATIONS;
}
