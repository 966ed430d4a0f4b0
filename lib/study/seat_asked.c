/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the scenario asks of the coupling's share, beside the loads of the supports: seat --adjust shifts post and axles for it. */
#include "lib/base/numbers.h"
#include "lib/study/seat.h"
#include "lib/study/seat_coupling.h"
#include <math.h>

const char *dd_seat_asker(const dd_seating *asked, const char *own) { return *own ? own : *asked->source ? asked->source : "given"; }

dd_status dd_seat_asked(dd_seat *s, dd_error *error)
{
    const dd_seating *asked = &s->scenario->seating;
    const double limits[] = {asked->least_coupling_share, asked->greatest_coupling_share};
    const dd_mass_properties *boat = dd_hull_mass(s->m->hull);
    double load, share;
    if (isnan(limits[0]) && isnan(limits[1])) return DD_OK;
    dd_status status = dd_seat_coupling_load(s->scenario, &s->m->rig->trailer, boat->mass, dd_placed_point(&s->placement, boat->centre), &load, &share, error);
    for (int i = 0; i < 2 && status == DD_OK; i++) {
        if (isnan(limits[i])) continue;
        dd_check check = dd_check_of("coupling", NULL, share, limits[i], "%", dd_seat_asker(asked, asked->coupling_source), "%s",
                                     i == 0 ? "coupling share at least" : "coupling share at most");
        check.least = i == 0;
        dd_reporter_check(s->report, &check);
    }
    return status;
}
