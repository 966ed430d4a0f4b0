/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/hull/hulls.h"

/* One cell, quotes taken off; *at moves behind it. Returns the character that ended it. */
static char next_cell(char **at, char **cell)
{
    char *from = *at, *to = *at, end;
    int quoted = 0;
    *cell = to;
    for (; *from && (quoted || (*from != ',' && *from != '\n')); from++)
        if (*from == '"')
            quoted = !quoted;
        else
            *to++ = *from;
    end = *from;
    *at = end ? from + 1 : from;
    *to = '\0';
    return end;
}

table table_read(const char *name)
{
    char path[1024];
    table t = {0, 0, NULL, NULL};
    snprintf(path, sizeof path, "%s/tests/reference/hydro/%s", SOURCE_DIR, name);
    FILE *file = fopen(path, "r");
    if (!file)
        fail_msg("cannot open %s", path);
    t.text = calloc(1, 1 << 20);
    t.cells = calloc(1 << 14, sizeof *t.cells);
    assert_non_null(t.text);
    assert_non_null(t.cells);
    assert_true(fread(t.text, 1, (1 << 20) - 1, file) > 0);
    fclose(file);
    int count = 0;
    for (char *at = t.text; *at;) {
        if (*at == '#') {
            at = strchr(at, '\n') + 1;
            continue;
        }
        char end = ',';
        while (end == ',') {
            assert_true(count < 1 << 14);
            end = next_cell(&at, &t.cells[count++]);
        }
        if (t.columns == 0)
            t.columns = count;
    }
    t.rows = count / t.columns - 1;
    assert_int_equal(count % t.columns, 0);
    return t;
}

void table_free(table *t)
{
    free(t->cells);
    free(t->text);
}

const char *table_text(const table *t, int row, const char *column)
{
    for (int i = 0; i < t->columns; i++)
        if (strcmp(t->cells[i], column) == 0)
            return t->cells[row * t->columns + i];
    fail_msg("no column %s", column);
    return "";
}

double table_number(const table *t, int row, const char *column)
{
    const char *text = table_text(t, row, column);
    char *end;
    double value = strtod(text, &end);
    if (end == text)
        fail_msg("row %d, %s: %s is not a number", row, column, text);
    return value;
}

double value_in(const char *text, const char *name)
{
    size_t length = strlen(name);
    for (const char *at = text; (at = strstr(at, name)) != NULL; at++)
        if ((at == text || at[-1] == ';' || at[-1] == ' ') && at[length] == '=')
            return strtod(at + length + 1, NULL);
    return NAN;
}

dd_item item_of(const char *name, double mass, int lengths, dd_vec3 at)
{
    dd_item item;
    dd_item_defaults(&item);
    snprintf(item.item, sizeof item.item, "%s", name);
    item.mass = mass;
    item.at_count = lengths;
    item.at[0] = at.x, item.at[1] = at.y, item.at[2] = at.z;
    return item;
}

void set_mass(dd_hull_parameters *p, double mass, dd_vec3 centre)
{
    p->mass = mass / 2;
    p->mass_of = DD_MASS_READY_TO_GO;
    p->engine_power = 0;
    p->centre_from_transom = centre.x;
    p->centre_height = centre.z;
    p->item_count = 1;
    p->items[0] = item_of("ballast", mass / 2, 3, dd_vec(centre.x, 2 * centre.y, centre.z));
}

dd_hull *create(const dd_hull_parameters *p)
{
    dd_hull *hull = NULL;
    dd_error error = {0};
    if (dd_hull_create(p, &hull, &error) != DD_OK)
        fail_msg("%s: %s", error.place, error.message);
    return hull;
}

/* n half-section points into a station. */
static void set_station(dd_station *s, double at, int points, const double *y, const double *z)
{
    *s = (dd_station){.at = at, .keel_height = z[0]};
    s->strake_half_breadth_count = s->strake_height_count = points - 3;
    for (int i = 1; i < points - 2; i++) {
        s->strake_half_breadth[i - 1] = y[i];
        s->strake_height[i - 1] = z[i];
    }
    s->chine_half_breadth = y[points - 2];
    s->chine_height = z[points - 2];
    s->sheer_half_breadth = y[points - 1];
    s->sheer_height = z[points - 1];
}

dd_hull *prism(double first, double last, int points, const double *y, const double *z, double mass, dd_vec3 centre)
{
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    dd_hull_defaults(p);
    set_mass(p, mass, centre);
    p->station_count = 2;
    set_station(&p->stations[0], first, points, y, z);
    set_station(&p->stations[1], last, points, y, z);
    dd_hull *hull = create(p);
    free(p);
    return hull;
}

dd_hull *box(double first, double last, double breadth, double depth, double mass, dd_vec3 centre)
{
    const double y[3] = {0, breadth / 2, breadth / 2}, z[3] = {0, 0, depth};
    return prism(first, last, 3, y, z, mass, centre);
}

dd_hull *v_prism(double length, double deadrise, double mass, dd_vec3 centre)
{
    const double y[3] = {0, 1, 6}, z[3] = {0, tan(deadrise), 6 * tan(deadrise)};
    return prism(0, length, 3, y, z, mass, centre);
}

/* Stations at X[], each with a half-section given by a function of the station's number and the point's share. */
typedef void (*section_at)(const double *shape, double x, double share, double *y, double *z);

static dd_hull *by_sections(section_at section, const double *shape, double half_length, int edges, double mass, dd_vec3 centre)
{
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    dd_hull_defaults(p);
    set_mass(p, mass, centre);
    p->lines = DD_LINES_STRAIGHT;
    p->station_count = 2 * edges + 1;
    for (int i = 0; i < p->station_count; i++) {
        double y[DD_STRAKES + 3], z[DD_STRAKES + 3], x = -half_length * cos(PI * i / (2 * edges));
        int end = i == 0 || i == 2 * edges;
        x = i == edges ? 0 : x;
        for (int j = 0; j <= edges; j++) {
            section(shape, x, (double)j / edges, &y[j], &z[j]);
            y[j] = end || j == 0 || y[j] < 0 ? 0 : y[j];
        }
        set_station(&p->stations[i], x, edges + 1, y, z);
    }
    dd_hull *hull = create(p);
    free(p);
    return hull;
}

dd_hull *round_prism(double radius, double length, int edges, double mass, dd_vec3 centre)
{
    double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    for (int j = 0; j <= edges; j++) {
        y[j] = j == 0 || j == edges ? 0 : radius * sin(PI * j / edges);
        z[j] = radius * (1 - cos(PI * j / edges));
    }
    return prism(-length / 2, length / 2, edges + 1, y, z, mass, centre);
}

static void cylinder_section(const double *shape, double x, double share, double *y, double *z)
{
    double breadth = sqrt(fmax(0, shape[0] * shape[0] - x * x));
    *y = breadth * fmin(1, 2 * share); /* half of the edges on the bottom, half up the side */
    *z = shape[1] * fmax(0, 2 * share - 1);
}

dd_hull *upright_cylinder(double radius, double depth, int edges, double mass, dd_vec3 centre)
{
    const double shape[2] = {radius, depth};
    return by_sections(cylinder_section, shape, radius, edges, mass, centre);
}

static void cone_section(const double *shape, double x, double share, double *y, double *z)
{
    double radius = shape[0] * shape[1], breadth = sqrt(fmax(0, radius * radius - x * x));
    *y = breadth * share;
    *z = sqrt(x * x + *y * *y) / shape[0];
}

dd_hull *upright_cone(double half_angle, double depth, int edges, double mass, dd_vec3 centre)
{
    const double shape[2] = {tan(half_angle), depth};
    return by_sections(cone_section, shape, shape[0] * depth, edges, mass, centre);
}

static void ellipsoid_section(const double *shape, double x, double share, double *y, double *z)
{
    double scale = sqrt(fmax(0, 1 - x * x / (shape[0] * shape[0])));
    *y = scale * shape[1] * sin(PI * share);
    *z = shape[3] - scale * shape[2] * cos(PI * share);
}

dd_hull *ellipsoid(double a, double b, double c, double centre_z, int edges, double mass, dd_vec3 centre)
{
    const double shape[4] = {a, b, c, centre_z};
    return by_sections(ellipsoid_section, shape, a, edges, mass, centre);
}

void synthetic_chine_parameters(dd_hull_parameters *p)
{
    table t = table_read("synthetic_chine_offsets.csv");
    dd_hull_defaults(p);
    p->station_count = t.rows;
    for (int i = 0; i < t.rows; i++)
        p->stations[i] = (dd_station){.at = table_number(&t, i + 1, "x_from_transom_m"),
                                      .keel_height = table_number(&t, i + 1, "keel_z_m"),
                                      .chine_half_breadth = table_number(&t, i + 1, "chine_halfbreadth_m"),
                                      .chine_height = table_number(&t, i + 1, "chine_z_m"),
                                      .sheer_half_breadth = table_number(&t, i + 1, "sheer_halfbreadth_m"),
                                      .sheer_height = table_number(&t, i + 1, "sheer_z_m")};
    table_free(&t);
}

dd_hull *synthetic_chine(int lines, double mass, dd_vec3 centre)
{
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    synthetic_chine_parameters(p);
    set_mass(p, mass, centre);
    p->lines = lines;
    dd_hull *hull = create(p);
    free(p);
    return hull;
}

double level_for(const dd_hull *hull, double heel, double trim, double volume)
{
    double low = -100, high = 100, level = 0;
    dd_hydrostatics r;
    for (int i = 0; i < 200; i++) {
        dd_hull_hydrostatics(hull, dd_waterplane_at(heel, trim, level), &r);
        if (r.volume > volume)
            high = level;
        else
            low = level;
        double next = level - (r.volume - volume) / r.waterplane_area;
        next = next > low && next < high ? next : (low + high) / 2;
        if (next == level)
            break;
        level = next;
    }
    return level;
}

double metacentric_radius(const dd_hydrostatics *r, int axis)
{
    double m = axis ? r->waterplane_moment.y : r->waterplane_moment.x;
    return (r->waterplane_second[axis][axis] - m * m / r->waterplane_area) / r->volume;
}
