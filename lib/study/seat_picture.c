/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the pictures of seat are drawn from: the hull's lines, its section at each support, and where each roller stands. */
#include "lib/study/seat_meet.h"
#include "lib/force/roller.h"
#include <math.h>

enum { LINES = 61 };

dd_vec3 dd_seat_fitters(const dd_seat *s, dd_vec3 in_boat)
{
    const dd_vec3 p = dd_placed_point(&s->placement, in_boat);
    return dd_vec(p.x, -p.y, p.z + s->scenario->trailer.coupling_height);
}

static void put_lines(const dd_seat *s)
{
    dd_reporter *r = s->report;
    double first, last;
    dd_hull_extent(s->m->hull, &first, &last);
    dd_reporter_table(r, "lines", "Lines of the hull as it lies on the trailer", DD_REPORT_DRAWN);
    dd_reporter_column(r, "keel behind coupling", "m", 4, "of a point of the keel");
    dd_reporter_column(r, "keel above ground", "m", 4, "of the same, trailer level");
    dd_reporter_column(r, "chine behind coupling", "m", 4, "of the chine in that section");
    dd_reporter_column(r, "chine above ground", "m", 4, "of the same");
    dd_reporter_column(r, "chine half breadth", "m", 4, "of the same");
    dd_reporter_column(r, "sheer behind coupling", "m", 4, "of the sheer in that section");
    dd_reporter_column(r, "sheer above ground", "m", 4, "of the same");
    dd_reporter_column(r, "sheer half breadth", "m", 4, "of the same");
    for (int i = 0; i < LINES; i++) {
        const double x = first + (last - first) * i / (LINES - 1);
        double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
        const int count = dd_hull_section(s->m->hull, x, y, z), chine = count >= 3 ? count - 2 : count - 1;
        const dd_vec3 keel = dd_seat_fitters(s, dd_vec(x, y[0], z[0])), edge = dd_seat_fitters(s, dd_vec(x, y[chine], z[chine])),
                      sheer = dd_seat_fitters(s, dd_vec(x, y[count - 1], z[count - 1]));
        const double values[] = {keel.x, keel.z, edge.x, edge.z, y[chine], sheer.x, sheer.z, y[count - 1]};
        for (int c = 0; c < 8; c++) dd_reporter_value(r, values[c]);
    }
}

static void put_rollers(const dd_seat *s)
{
    dd_reporter *r = s->report;
    const dd_system_force *force = dd_system_find(s->m->system, &dd_force_roller);
    int number = 0, support = -1;
    dd_reporter_table(r, "rollers", "Rollers and their loads, boat home on level ground", DD_REPORT_LONG);
    dd_reporter_column(r, "roller", "", 0, "support, side, line and row");
    dd_reporter_column(r, "section", "", 0, "number of its support's section");
    dd_reporter_column(r, "behind coupling", "m", 4, "of its middle");
    dd_reporter_column(r, "to port", "m", 4, "of its middle");
    dd_reporter_column(r, "above ground", "m", 4, "of its middle, trailer level");
    dd_reporter_column(r, "radius", "m", 4, "of the roller; nothing for a place of a skid");
    dd_reporter_column(r, "load", "kN", 3, "that it bears");
    for (int i = 0; i < s->model.contact_count && force != NULL; i++) {
        const dd_seat_contact *c = &s->model.contacts[i];
        dd_vec3 centre, axis;
        if (c->roller < 0) continue;
        if (c->support != support) number++;
        support = c->support;
        dd_roller_stands(force->instance, c->roller, s->m->memory + force->memory_first, &centre, &axis);
        dd_reporter_words(r, "%s", c->name);
        dd_reporter_value(r, number);
        dd_reporter_value(r, centre.x);
        dd_reporter_value(r, -centre.y);
        dd_reporter_value(r, centre.z + s->scenario->trailer.coupling_height);
        dd_reporter_value(r, s->m->rig->rollers[c->roller].skid > 0 ? (double)NAN : s->m->rig->rollers[c->roller].radius);
        dd_reporter_value(r, s->level.load[i]);
    }
}

dd_status dd_seat_picture(dd_seat *s, dd_error *error)
{
    (void)error;
    put_lines(s);
    dd_seat_put_sections(s);
    put_rollers(s);
    return DD_OK;
}
