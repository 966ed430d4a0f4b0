/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For the pictures of seat: the hull's half-section at each support with the rollers that stand in it, the strakes, and distances
   between them; strakes and faces of the supports as seen from the side and from above. */
#include "lib/study/seat_meet.h"
#include <math.h>

enum { BETWEEN = 10, CORNERS = 6, LEVELS = 6 };
static const double abreast = 0.01;       /* m */
static const double side_shown = 0.12;    /* m: of the side above the chine */
static const double skid_thickness = 0.04, unknown_height = 0.02; /* m: drawn so where nothing is given */

/* The section of a support: at the row of it that bears most, on port where the support has two sides. */
typedef struct section {
    int number, side, count;
    double x;
    dd_seat_band bands[DD_SEAT_BANDS];
} section;

static double height_of(const dd_seat *s, double x, double y, double z) { return dd_seat_fitters(s, dd_vec(x, y, z)).z; }

static bool is_skid(const dd_seat *s, const dd_seat_band *b) { return s->m->rig->rollers[b->roller].skid > 0; }

/* What a band bears at home on level ground; *meets: something of it lies under the hull; *angle: of its axle to the hull there. */
static double load_of(const dd_seat *s, const dd_seat_band *b, bool *meets, double *angle)
{
    const int places = is_skid(s, b) ? s->m->rig->trailer.supports[b->support].points : 1;
    double sum = 0;
    *meets = false;
    *angle = NAN;
    for (int i = 0; i < s->model.contact_count; i++) {
        const dd_seat_contact *c = &s->model.contacts[i];
        if (c->roller < b->roller || c->roller >= b->roller + places) continue;
        sum += s->level.load[i];
        *meets = true;
        if (b->side != 0) *angle = asin(fmax(-1, fmin(1, dd_dot(b->across, c->push))));
    }
    return sum;
}

/* What all rollers, or the skids, of one support that stand in one row bear; NaN for all but the first of them. */
static double row_of(const dd_seat *s, const dd_seat_band *bands, int count, int i)
{
    bool meets;
    double sum = 0, angle;
    for (int j = 0; j < count; j++) {
        if (bands[j].support != bands[i].support || fabs(bands[j].middle.x - bands[i].middle.x) > abreast) continue;
        if (j < i) return NAN;
        sum += load_of(s, &bands[j], &meets, &angle);
    }
    return sum;
}

static bool find_section(const dd_seat *s, int support, section *sec)
{
    const dd_seat_contact *most = NULL;
    for (int i = 0; i < s->model.contact_count; i++) {
        const dd_seat_contact *c = &s->model.contacts[i];
        if (c->support == support && (most == NULL || s->level.load[i] > s->level.load[most - s->model.contacts])) most = c;
    }
    if (most == NULL) return false;
    dd_seat_band all[DD_SEAT_BANDS];
    const int count = dd_seat_bands(s, support, 0, all);
    const dd_seat_band *heaviest = &all[0];
    for (int i = 0; i < count; i++)
        if (all[i].roller <= most->roller) heaviest = &all[i];
    double first, last;
    dd_hull_extent(s->m->hull, &first, &last);
    sec->x = fmin(fmax(heaviest->middle.x, first), last);
    sec->side = heaviest->side == 0 ? 1 : heaviest->side;
    sec->count = 0;
    for (int i = 0; i < count; i++)
        if (all[i].side > 0 && fabs(all[i].middle.x - heaviest->middle.x) < abreast) sec->side = 1;
    for (int i = 0; i < count; i++) {
        const bool here = fabs(all[i].middle.x - heaviest->middle.x) < abreast || (all[i].front >= sec->x && all[i].rear <= sec->x);
        if (here && (all[i].side == 0 || all[i].side == sec->side)) sec->bands[sec->count++] = all[i];
    }
    return true;
}

/* Numbers the supports that have a section, in their order. */
static bool next_section(const dd_seat *s, int support, section *sec)
{
    if (!find_section(s, support, sec)) return false;
    sec->number++;
    return true;
}

static void put_outline(const dd_seat *s, const section *sec, const char *name)
{
    dd_reporter *r = s->report;
    double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    const int count = dd_hull_section(s->m->hull, sec->x, y, z), chine = count - 2;
    const double part = fmin(1, side_shown / fmax(z[count - 1] - z[chine], 1e-9));
    y[count - 1] = y[chine] + part * (y[count - 1] - y[chine]);
    z[count - 1] = z[chine] + part * (z[count - 1] - z[chine]);
    for (int j = 0; j < count; j++) {
        dd_reporter_words(r, "%s", name);
        dd_reporter_value(r, sec->number);
        dd_reporter_words(r, "%s", sec->side > 0 ? "port" : "starboard");
        dd_reporter_value(r, y[j]);
        dd_reporter_value(r, height_of(s, sec->x, sec->side * y[j], z[j]));
        dd_reporter_value(r, s->placement.origin.x - sec->x);
    }
}

static void put_outlines(const dd_seat *s)
{
    dd_reporter *r = s->report;
    section sec = {.number = 0};
    dd_reporter_table(r, "sections", "Half-section of the hull at each support, where it bears most", DD_REPORT_DRAWN);
    dd_reporter_column(r, "support", "", 0, "at which the section is taken");
    dd_reporter_column(r, "number", "", 0, "of the section");
    dd_reporter_column(r, "side", "", 0, "of the boat");
    dd_reporter_column(r, "half breadth", "m", 4, "of a point of it");
    dd_reporter_column(r, "above ground", "m", 4, "of the same, trailer level");
    dd_reporter_column(r, "behind coupling", "m", 3, "of the section");
    for (int k = 0; k < s->scenario->trailer.support_count; k++)
        if (next_section(s, k, &sec)) put_outline(s, &sec, s->scenario->trailer.supports[k].name);
}

/* --- parts in a section ------------------------------------------------------------------------------------------- */

enum { PART_STRAKE = 1, PART_BEARS, PART_CLEAR };

static void put_corner(const dd_seat *s, const section *sec, int piece, int kind, double y, double z)
{
    dd_reporter *r = s->report;
    dd_reporter_value(r, sec->number);
    dd_reporter_value(r, piece);
    dd_reporter_value(r, kind);
    dd_reporter_value(r, y);
    dd_reporter_value(r, height_of(s, sec->x, sec->side * y, z));
}

static void put_strake_part(const dd_seat *s, const section *sec, int piece, const dd_rail *rail)
{
    const double middle = dd_rail_middle(rail, sec->x), half = 0.5 * rail->width, h = isnan(rail->height) ? unknown_height : rail->height;
    const double across[CORNERS] = {-1, 1, 1, -1, -1}, down[CORNERS] = {0, 0, 1, 1, 0};
    if (isnan(middle)) return;
    for (int c = 0; c < 5; c++) {
        const double y = middle + across[c] * half;
        const dd_bottom_point p = dd_hull_bottom(s->m->hull, sec->x, sec->side * y, sec->side);
        const double slope = sec->side * p.zy, length = sqrt(1 + slope * slope);
        put_corner(s, sec, piece, PART_STRAKE, y + down[c] * h * slope / length, p.z - down[c] * h / length);
    }
}

static void put_band_part(const dd_seat *s, const section *sec, int piece, const dd_seat_band *b)
{
    const dd_roller *roller = &s->m->rig->rollers[b->roller];
    const double thick = is_skid(s, b) ? skid_thickness : 2 * roller->radius;
    bool meets;
    double angle, inner, outer;
    dd_seat_band drawn = *b;
    const int kind = load_of(s, b, &meets, &angle) > 0 ? PART_BEARS : PART_CLEAR;
    if (!isfinite(drawn.half)) drawn.half = roller->radius;
    dd_seat_reach(&drawn, &inner, &outer);
    if (b->side == 0) {
        const double start = fmin(roller->profile_start, outer), z = b->middle.z;
        const double y[2 * CORNERS] = {-outer, -start, start, outer, outer, -outer, -outer};
        const double up[2 * CORNERS] = {b->flange, 0, 0, b->flange, -thick, -thick, b->flange};
        for (int c = 0; c < 7; c++) put_corner(s, sec, piece, kind, y[c], z + up[c]);
        return;
    }
    const double y[CORNERS] = {inner, outer, outer, inner, inner}, down[CORNERS] = {0, 0, 1, 1, 0};
    const double ay = fabs(b->across.y), az = b->across.z;
    for (int c = 0; c < 5; c++)
        put_corner(s, sec, piece, kind, y[c] + down[c] * thick * az, dd_seat_band_height(b, y[c]) - down[c] * thick * ay);
}

static void put_parts(const dd_seat *s)
{
    dd_reporter *r = s->report;
    const dd_hull_parameters *boat = &s->m->scenario.boat;
    section sec = {.number = 0};
    dd_reporter_table(r, "section_parts", "Rollers and strakes in each section", DD_REPORT_DRAWN);
    dd_reporter_column(r, "section", "", 0, "number of the section");
    dd_reporter_column(r, "piece", "", 0, "number of the piece in it");
    dd_reporter_column(r, "kind", "", 0, "1: strake, 2: roller or skid that bears, 3: one that does not");
    dd_reporter_column(r, "half breadth", "m", 4, "of a corner of it");
    dd_reporter_column(r, "above ground", "m", 4, "of the same, trailer level");
    for (int k = 0; k < s->scenario->trailer.support_count; k++) {
        if (!next_section(s, k, &sec)) continue;
        int piece = 0;
        for (int i = 0; i < boat->rail_count; i++) put_strake_part(s, &sec, ++piece, &boat->rails[i]);
        for (int i = 0; i < sec.count; i++) put_band_part(s, &sec, ++piece, &sec.bands[i]);
    }
}

/* --- distances ---------------------------------------------------------------------------------------------------- */

typedef struct distance {
    double from, to;  /* half breadths, m */
    double asked;     /* least, m; NaN: nothing is asked of it */
    bool roller_first; /* from is the roller's edge */
    double over;      /* > 0: the roller lies on it by so much, m */
    const char *to_what;
} distance;

/* The nearest of strakes, and chine or keel, on one side of a band; false: nothing. */
static bool find_distance(const dd_seat *s, const section *sec, const dd_seat_band *b, bool outward, distance *d)
{
    const dd_hull_parameters *boat = &s->m->scenario.boat;
    double inner, outer, least = INFINITY;
    if (b->side == 0 && (!outward || !isfinite(b->half))) return false;
    dd_seat_reach(b, &inner, &outer);
    *d = (distance){.asked = s->scenario->seating.clearance, .roller_first = outward};
    if (b->side != 0) {
        least = outward ? dd_seat_chine(s->m->hull, sec->x) - outer : inner;
        d->to_what = outward ? "chine" : "keel";
        if (!outward) d->asked = NAN;
    }
    for (int i = 0; i < boat->rail_count; i++) {
        const double middle = dd_rail_middle(&boat->rails[i], sec->x), half = 0.5 * boat->rails[i].width;
        if (isnan(middle) || (middle > 0.5 * (inner + outer)) != outward) continue;
        const double away = outward ? middle - half - outer : inner - middle - half;
        if (away >= least) continue;
        least = away;
        d->to_what = boat->rails[i].name;
        d->asked = s->scenario->seating.clearance;
    }
    d->from = outward ? outer : inner - least;
    d->to = outward ? outer + least : inner;
    d->over = fmax(0, -least);
    return isfinite(least);
}

static void put_distance(const dd_seat *s, const section *sec, const dd_seat_band *b, const distance *d, int level)
{
    dd_reporter *r = s->report;
    const double at_roller = dd_seat_band_height(b, d->roller_first ? d->from : d->to), other = d->roller_first ? d->to : d->from;
    const double at_other = dd_hull_bottom(s->m->hull, sec->x, sec->side * other, sec->side).z;
    dd_reporter_value(r, sec->number);
    dd_reporter_value(r, level);
    dd_reporter_value(r, d->from);
    dd_reporter_value(r, d->to);
    dd_reporter_value(r, height_of(s, sec->x, sec->side * d->from, d->roller_first ? at_roller : at_other));
    dd_reporter_value(r, height_of(s, sec->x, sec->side * d->to, d->roller_first ? at_other : at_roller));
    dd_reporter_value(r, d->to - d->from);
    dd_reporter_value(r, d->asked);
    dd_reporter_words(r, "%s to %s", b->name, d->to_what);
}

/* The first line below the section on which nothing else stands there. */
static int free_level(double ends[LEVELS], const distance *d)
{
    const double from = fmin(d->from, d->to), to = fmax(d->from, d->to);
    int level = 0;
    while (level < LEVELS - 1 && ends[level] > from + 1e-9) level++;
    ends[level] = to;
    return level;
}

static void put_distances(const dd_seat *s)
{
    dd_reporter *r = s->report;
    section sec = {.number = 0};
    dd_reporter_table(r, "distances", "Distances across the boat in each section, between nearest edges", DD_REPORT_LONG);
    dd_reporter_column(r, "section", "", 0, "number of the section");
    dd_reporter_column(r, "level", "", 0, "line that it stands on in the picture");
    dd_reporter_column(r, "from", "m", 4, "half breadth where it begins");
    dd_reporter_column(r, "to", "m", 4, "half breadth where it ends");
    dd_reporter_column(r, "from above ground", "m", 4, "of what it begins at");
    dd_reporter_column(r, "to above ground", "m", 4, "of what it ends at");
    dd_reporter_column(r, "distance", "mm", 0, "negative: one over the other");
    dd_reporter_column(r, "asked", "mm", 0, "at least");
    dd_reporter_column(r, "between", "", 0, "which roller, and to what");
    for (int k = 0; k < s->scenario->trailer.support_count; k++) {
        double ends[LEVELS] = {0};
        if (!next_section(s, k, &sec)) continue;
        for (int i = 0; i < sec.count; i++)
            for (int outward = 0; outward < 2; outward++) {
                distance d;
                if (find_distance(s, &sec, &sec.bands[i], outward, &d)) put_distance(s, &sec, &sec.bands[i], &d, free_level(ends, &d));
            }
    }
}

/* --- from the side and from above ---------------------------------------------------------------------------------- */

static void put_faces(const dd_seat *s)
{
    dd_reporter *r = s->report;
    dd_seat_band bands[DD_SEAT_BANDS];
    const int count = dd_seat_bands(s, -1, 0, bands);
    section sec = {.number = 0};
    dd_reporter_table(r, "faces", "Rollers and skids as they lie under the hull", DD_REPORT_DRAWN);
    dd_reporter_column(r, "face", "", 0, "support, side, line and row");
    dd_reporter_column(r, "section", "", 0, "number of the section that it stands in");
    dd_reporter_column(r, "front behind coupling", "m", 4, "of its fore end");
    dd_reporter_column(r, "rear behind coupling", "m", 4, "of its aft end");
    dd_reporter_column(r, "inner to port", "m", 4, "of its inner edge");
    dd_reporter_column(r, "outer to port", "m", 4, "of its outer edge");
    dd_reporter_column(r, "half breadth", "m", 4, "of its middle");
    dd_reporter_column(r, "above ground", "m", 4, "of its middle, trailer level");
    dd_reporter_column(r, "load", "kN", 3, "that it bears");
    dd_reporter_column(r, "angle to panel", "deg", 1, "of its axle; > 0: its outer end comes nearer to the hull");
    dd_reporter_column(r, "row", "kN", 3, "what all of its row bear, at the first of them");
    for (int k = 0, i = 0; k < s->scenario->trailer.support_count; k++) {
        const bool shown = next_section(s, k, &sec);
        for (; i < count && bands[i].support == k; i++) {
            const dd_seat_band *b = &bands[i];
            const double radius = is_skid(s, b) ? 0 : s->m->rig->rollers[b->roller].radius;
            dd_seat_band drawn = *b;
            double inner, outer, angle;
            bool meets, in = false;
            if (!isfinite(drawn.half)) drawn.half = s->m->rig->rollers[b->roller].radius;
            dd_seat_reach(&drawn, &inner, &outer);
            for (int n = 0; shown && n < sec.count; n++) in |= sec.bands[n].roller == b->roller;
            const int side = b->side != 0 ? b->side : 1;
            const double load = load_of(s, b, &meets, &angle);
            dd_reporter_words(r, "%s", b->name);
            dd_reporter_value(r, in ? (double)sec.number : (double)NAN);
            dd_reporter_value(r, dd_seat_fitters(s, dd_vec(b->front + radius, b->middle.y, b->middle.z)).x);
            dd_reporter_value(r, dd_seat_fitters(s, dd_vec(b->rear - radius, b->middle.y, b->middle.z)).x);
            dd_reporter_value(r, side * inner);
            dd_reporter_value(r, side * outer);
            dd_reporter_value(r, 0.5 * (inner + outer));
            dd_reporter_value(r, height_of(s, b->middle.x, b->middle.y, b->middle.z));
            dd_reporter_value(r, load);
            dd_reporter_value(r, meets ? angle : NAN);
            dd_reporter_value(r, row_of(s, bands, count, i));
        }
    }
}

static void put_strakes(const dd_seat *s)
{
    dd_reporter *r = s->report;
    const dd_hull_parameters *boat = &s->m->scenario.boat;
    dd_reporter_table(r, "strakes", "Strakes as the hull lies on the trailer", DD_REPORT_DRAWN);
    dd_reporter_column(r, "strake", "", 0, "its name");
    dd_reporter_column(r, "number", "", 0, "of the strake");
    dd_reporter_column(r, "behind coupling", "m", 4, "of a point of it");
    dd_reporter_column(r, "inner half breadth", "m", 4, "of its inner edge there");
    dd_reporter_column(r, "outer half breadth", "m", 4, "of its outer edge there");
    dd_reporter_column(r, "above ground", "m", 4, "of the bottom at its middle, trailer level");
    for (int k = 0; k < boat->rail_count; k++) {
        const dd_rail *rail = &boat->rails[k];
        const int pieces = BETWEEN * (rail->at_count - 1);
        for (int i = 0; i <= pieces; i++) {
            const int j = i < pieces ? i / BETWEEN : rail->at_count - 2;
            const double x = rail->at[j] + (rail->at[j + 1] - rail->at[j]) * (i - j * BETWEEN) / BETWEEN, middle = dd_rail_middle(rail, fmin(x, rail->at[rail->at_count - 1]));
            const dd_vec3 at = dd_vec(x, middle, dd_hull_bottom(s->m->hull, x, middle, 1).z);
            dd_reporter_words(r, "%s", rail->name);
            dd_reporter_value(r, k + 1);
            dd_reporter_value(r, dd_seat_fitters(s, at).x);
            dd_reporter_value(r, middle - 0.5 * rail->width);
            dd_reporter_value(r, middle + 0.5 * rail->width);
            dd_reporter_value(r, dd_seat_fitters(s, at).z);
        }
    }
}

void dd_seat_put_sections(const dd_seat *s)
{
    put_outlines(s);
    put_parts(s);
    put_distances(s);
    put_faces(s);
    put_strakes(s);
}
