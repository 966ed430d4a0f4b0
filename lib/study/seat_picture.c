/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the pictures of seat are drawn from: the hull's lines, its section at each support, and where each roller stands. */
#include "lib/study/seat.h"
#include "lib/force/roller.h"
#include <math.h>

enum { LINES = 61 };

/* A point of the boat as a fitter measures: behind the coupling and above flat ground, trailer level; y to port. */
static dd_vec3 fitters(const dd_seat *s, dd_vec3 in_boat)
{
    const dd_vec3 p = dd_placed_point(&s->placement, in_boat);
    return dd_vec(p.x, -p.y, p.z + s->scenario->trailer.coupling_height);
}

static void put_lines(const dd_seat *s)
{
    dd_reporter *r = s->report;
    double first, last;
    dd_hull_extent(s->m->hull, &first, &last);
    dd_reporter_table(r, "lines", "Lines of the hull as it lies on the trailer", 0);
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
        const dd_vec3 keel = fitters(s, dd_vec(x, y[0], z[0])), edge = fitters(s, dd_vec(x, y[chine], z[chine])),
                      sheer = fitters(s, dd_vec(x, y[count - 1], z[count - 1]));
        const double values[] = {keel.x, keel.z, edge.x, edge.z, y[chine], sheer.x, sheer.z, y[count - 1]};
        for (int c = 0; c < 8; c++) dd_reporter_value(r, values[c]);
    }
}

/* The hull's section over each support's middle roller, from sheer to sheer. */
static void put_sections(const dd_seat *s)
{
    dd_reporter *r = s->report;
    dd_reporter_table(r, "sections", "Section of the hull over each support", 0);
    dd_reporter_column(r, "support", "", 0, "over which the section is taken");
    dd_reporter_column(r, "number", "", 0, "of the section");
    dd_reporter_column(r, "to port", "m", 4, "of a point of it");
    dd_reporter_column(r, "above ground", "m", 4, "of the same, trailer level");
    for (int k = 0, number = 0; k < s->scenario->trailer.support_count; k++) {
        double x = 0;
        int count = 0;
        for (int i = 0; i < s->model.contact_count; i++)
            if (s->model.contacts[i].support == k) x += s->model.contacts[i].at.x, count++;
        if (count == 0) continue;
        double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
        const int points = dd_hull_section(s->m->hull, x / count, y, z);
        number++;
        for (int j = -(points - 1); j < points; j++) {
            const int at = j < 0 ? -j : j;
            dd_reporter_words(r, "%s", s->scenario->trailer.supports[k].name);
            dd_reporter_value(r, number);
            dd_reporter_value(r, j < 0 ? -y[at] : y[at]);
            dd_reporter_value(r, fitters(s, dd_vec(x / count, y[at], z[at])).z);
        }
    }
}

/* What all rollers of one support that stand in the row of contact i bear; NaN for all but the first of them. */
static double row_load(const dd_seat *s, int i)
{
    static const double abreast = 0.01; /* m */
    const dd_seat_contact *c = &s->model.contacts[i];
    double sum = 0;
    for (int j = 0; j < s->model.contact_count; j++) {
        const dd_seat_contact *other = &s->model.contacts[j];
        if (other->support != c->support || other->roller < 0) continue;
        const double apart = s->m->rig->rollers[other->roller].centre.x - s->m->rig->rollers[c->roller].centre.x;
        if (fabs(apart) > abreast) continue;
        if (j < i) return NAN;
        sum += s->level.load[j];
    }
    return sum;
}

static void put_rollers(const dd_seat *s)
{
    dd_reporter *r = s->report;
    const dd_system_force *force = dd_system_find(s->m->system, &dd_force_roller);
    int number = 0, support = -1;
    dd_reporter_table(r, "rollers", "Rollers and their loads, boat home on level ground", 0);
    dd_reporter_column(r, "roller", "", 0, "support, side, line and row");
    dd_reporter_column(r, "section", "", 0, "number of its support's section");
    dd_reporter_column(r, "behind coupling", "m", 4, "of its middle");
    dd_reporter_column(r, "to port", "m", 4, "of its middle");
    dd_reporter_column(r, "above ground", "m", 4, "of its middle, trailer level");
    dd_reporter_column(r, "radius", "m", 4, "of the roller, or of a skid's face");
    dd_reporter_column(r, "load", "kN", 3, "that it bears");
    dd_reporter_column(r, "row", "kN", 3, "what all rollers of its row bear, at the first of them");
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
        dd_reporter_value(r, s->m->rig->rollers[c->roller].radius);
        dd_reporter_value(r, s->level.load[i]);
        dd_reporter_value(r, row_load(s, i));
    }
}

dd_status dd_seat_picture(dd_seat *s, dd_error *error)
{
    (void)error;
    put_lines(s);
    put_sections(s);
    put_rollers(s);
    return DD_OK;
}
