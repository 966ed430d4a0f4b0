/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/rig/section.h"
#include <stdio.h>

static const char *const section_names[] = {"box", "channel", "tube", "flat", "angle", NULL};

#define UNCHECKED .fallback = NAN, .fallback_text = "not checked", .source = "the program"
#define FIELD(field) .offset = offsetof(dd_member, field)
/* clang-format off */
const dd_key dd_member_keys[] = {
    {.name = "section", .type = DD_KEY_CHOICE, FIELD(section), .choices = section_names, UNCHECKED,
     .help = "box (rectangular hollow); channel, its web along the depth; round tube; solid flat; angle, one leg along the depth"},
    {.name = "depth", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, FIELD(depth), .least = 1e-3, .most = 1, UNCHECKED, .unit = "mm",
     .help = "outer size along its load: of the winch's post along the trailer, of a support's post across it, else upright; a tube's diameter"},
    {.name = "width", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, FIELD(width), .least = 1e-3, .most = 1, UNCHECKED, .unit = "mm",
     .help = "outer size across its load; a tube needs none"},
    {.name = "wall", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, FIELD(wall), .least = 1e-4, .most = 0.2, UNCHECKED, .unit = "mm",
     .help = "thickness of the wall; a flat needs none"},
    {.name = "modulus", .type = DD_KEY_QUANTITY, .dimension = DD_VOLUME, FIELD(modulus), .least = 1e-9, .most = 1, .fallback = NAN,
     .fallback_text = "from the sizes", .source = "elementary mechanics", .unit = "cm3", .help = "elastic section modulus along its load, from a table or reduced for holes"},
    {.name = "yield strength", .type = DD_KEY_QUANTITY, .dimension = DD_PRESSURE, FIELD(yield), .least = 1e6, .most = 3e9, UNCHECKED, .unit = "MPa",
     .help = "of its material as built: of aluminium beside a weld that of the softened zone"},
    {.name = "length", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, FIELD(length), .least = 0, .most = 5, UNCHECKED, .unit = "mm",
     .help = "from its root to its load: a post from foot or clamp to drum or roller, an arm out to the roller; a cross-member between the main members"},
    {.name = "offset", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, FIELD(offset), .least = 0, .most = 2, .fallback = 0, .source = "the program", .unit = "mm",
     .help = "of the load beside its axis: it twists an arm or a cross-member, and bends a post"},
    {0}};
#undef FIELD

#define FIELD(field) .offset = offsetof(dd_clamp, field)
static const dd_key clamp_keys[] = {
    {.name = "bolts", .type = DD_KEY_COUNT, FIELD(bolts), .least = 1, .most = 8, UNCHECKED, .help = "that press it together"},
    {.name = "faces", .type = DD_KEY_COUNT, FIELD(faces), .least = 1, .most = 4, .fallback = 1, .source = "the program", .help = "faces that would slip"},
    {.name = "bolt diameter", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, FIELD(bolt_diameter), .least = 3e-3, .most = 0.05, UNCHECKED, .unit = "mm",
     .help = "of each bolt, nominal"},
    {.name = "torque", .type = DD_KEY_QUANTITY, .dimension = DD_MOMENT, FIELD(torque), .least = 0.1, .most = 5000, UNCHECKED,
     .help = "that each nut is tightened to"},
    {.name = "preload", .type = DD_KEY_QUANTITY, .dimension = DD_FORCE, FIELD(preload), .least = 1, .most = 1e6, .fallback = NAN,
     .fallback_text = "torque / (nut factor x bolt diameter)", .source = "bolt torque", .unit = "kN", .help = "of each bolt"},
    {.name = "nut factor", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, FIELD(nut_factor), .least = 0.05, .most = 0.6, .fallback = 0.2,
     .source = "bolt torque", .help = "K of torque = K x preload x diameter"},
    {.name = "friction", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO, FIELD(friction), .least = 0.02, .most = 1, .fallback = 0.2,
     .source = "friction for restraint", .help = "of the faces; zinc and grease make it less"},
    {.name = "bolt spacing", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, FIELD(bolt_spacing), .least = 5e-3, .most = 1, UNCHECKED, .unit = "mm",
     .help = "of two bolts or more, between the outer ones"},
    {.name = "face diameter", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, FIELD(face_diameter), .least = 5e-3, .most = 0.5, UNCHECKED, .unit = "mm",
     .help = "of the face pressed by a single bolt, that alone keeps it from turning"},
    {0}};
#undef FIELD

#define FIELD(field) .offset = offsetof(dd_strength, field)
#define BLOCK(field_, rows_) .type = DD_KEY_BLOCK, FIELD(field_), .rows = rows_, .fallback = NAN
const dd_key dd_strength_keys[] = {
    {.name = "posts", .type = DD_KEY_COUNT, FIELD(posts), .least = 1, .most = 16, .fallback = 1, .source = "the program",
     .help = "posts, arms and clamps that share the load of one side, and cross-members that share all of it"},
    {.name = "post", BLOCK(post, dd_member_keys), .help = "upright that its rollers stand on"},
    {.name = "arm", BLOCK(arm, dd_member_keys), .help = "arm that its rollers stand out on"},
    {.name = "cross member", BLOCK(cross_member, dd_member_keys), .help = "beam across the trailer that it stands on"},
    {.name = "clamp", BLOCK(clamp, clamp_keys), .help = "what holds its post by friction"},
    {0}};
#undef FIELD
/* clang-format on */

static double pi(void) { return acos(-1.0); }

/* Webs of thickness `web` in all, outer b x h, hollow (b - gap) wide: bent along h. */
static void bent(double b, double h, double t, double web, double *modulus, double *shear)
{
    const double inner = b - web, hollow = h - 2 * t, second = (b * h * h * h - inner * hollow * hollow * hollow) / 12;
    *modulus = 2 * second / h;
    *shear = (b * h * h - inner * hollow * hollow) / 8 / (second * web);
}

/* An angle's leg h with its other leg b, bent along h. */
static void bent_angle(double b, double h, double t, double area, double *modulus, double *shear)
{
    const double centre = (0.5 * h * h * t + 0.5 * (b - t) * t * t) / area;
    const double second = t * h * h * h / 12 + t * h * (0.5 * h - centre) * (0.5 * h - centre) + (b - t) * t * t * t / 12 + (b - t) * t * (centre - 0.5 * t) * (centre - 0.5 * t);
    *modulus = second / fmax(centre, h - centre);
    *shear = 0.5 * (h - centre) * (h - centre) / second;
}

static dd_section channel(double b, double h, double t)
{
    dd_section s = {.area = b * h - (b - t) * (h - 2 * t), .torsion = (h + 2 * (b - t)) * t * t / 3};
    bent(b, h, t, t, &s.modulus, &s.shear);
    const double flange = b - t, centre = (0.5 * h * t * t + flange * t * (b + t)) / s.area, off = 0.5 * (b + t) - centre;
    const double second = h * t * t * t / 12 + h * t * (centre - 0.5 * t) * (centre - 0.5 * t) + 2 * (t * flange * flange * flange / 12 + flange * t * off * off);
    s.modulus_across = second / fmax(centre, b - centre);
    s.shear_across = t * (b - centre) * (b - centre) / (second * 2 * t);
    return s;
}

static dd_section tube(double outer, double t)
{
    const double inner = outer - 2 * t, o2 = outer * outer, i2 = inner * inner;
    dd_section s = {.area = pi() / 4 * (o2 - i2), .modulus = pi() / 32 * (o2 * o2 - i2 * i2) / outer};
    s.shear = 4 / (3 * s.area) * (o2 + outer * inner + i2) / (o2 + i2);
    s.modulus_across = s.modulus;
    s.shear_across = s.shear;
    s.torsion = 2 * s.modulus;
    return s;
}

dd_section dd_section_of(const dd_member *m)
{
    const double h = m->depth, b = m->width, t = m->wall;
    dd_section s = {NAN, NAN, NAN, NAN, NAN, NAN};
    switch (m->section) {
    case DD_SECTION_BOX:
        s.area = b * h - (b - 2 * t) * (h - 2 * t);
        bent(b, h, t, 2 * t, &s.modulus, &s.shear);
        bent(h, b, t, 2 * t, &s.modulus_across, &s.shear_across);
        s.torsion = 2 * (b - t) * (h - t) * t; /* Bredt */
        break;
    case DD_SECTION_CHANNEL: s = channel(b, h, t); break;
    case DD_SECTION_TUBE: s = tube(h, t); break;
    case DD_SECTION_FLAT: {
        const double least = fmin(b, h), most = fmax(b, h);
        s = (dd_section){b * h, b * h * h / 6, h * b * b / 6, 1.5 / (b * h), 1.5 / (b * h), most * least * least / (3 + 1.8 * least / most)};
        break;
    }
    case DD_SECTION_ANGLE:
        s.area = t * (h + b - t);
        bent_angle(b, h, t, s.area, &s.modulus, &s.shear);
        bent_angle(h, b, t, s.area, &s.modulus_across, &s.shear_across);
        s.torsion = (h + b - t) * t * t / 3;
        break;
    default: break;
    }
    if (!isnan(m->modulus)) s.modulus = m->modulus;
    return s;
}

double dd_clamp_preload(const dd_clamp *c) { return isnan(c->preload) ? c->torque / (c->nut_factor * c->bolt_diameter) : c->preload; }

double dd_clamp_slip(const dd_clamp *c, double force, double moment)
{
    if (moment == 0) return fabs(force);
    const double lever = c->bolts > 1 ? c->bolt_spacing / c->bolts : c->face_diameter / 3;
    return fabs(force) + fabs(moment) / lever;
}

void dd_beam_across(double span, int count, const double *y, const double *load, double *moment, double *shear)
{
    double left = 0, right = 0;
    *moment = *shear = 0;
    for (int i = 0; i < count; i++) {
        left += load[i] * (0.5 * span - y[i]) / span; /* at y = -span / 2 */
        right += load[i] * (0.5 * span + y[i]) / span;
    }
    for (int i = 0; i < count + 2; i++) {
        const double at = i < count ? y[i] : i == count ? -0.5 * span : 0.5 * span;
        double bends = fmax(at + 0.5 * span, 0) * left + fmax(at - 0.5 * span, 0) * right, before = 0, after = 0;
        for (int j = 0; j < count; j++) {
            bends -= fmax(at - y[j], 0) * load[j];
            before -= y[j] < at ? load[j] : 0;
            after -= y[j] <= at ? load[j] : 0;
        }
        before += (at > -0.5 * span ? left : 0) + (at > 0.5 * span ? right : 0);
        after += (at >= -0.5 * span ? left : 0) + (at >= 0.5 * span ? right : 0);
        *moment = fmax(*moment, fabs(bends));
        *shear = fmax(*shear, fmax(fabs(before), fabs(after)));
    }
}

/* A load of 0 needs no section. */
static double over(double load, double section) { return load == 0 ? 0 : fabs(load) / section; }
static double times(double load, double section) { return load == 0 ? 0 : fabs(load) * section; }

dd_member_stress dd_member_stress_of(const dd_section *s, const dd_member_load *l)
{
    dd_member_stress stress = {.bending = over(l->moment, s->modulus) + over(l->moment_across, s->modulus_across)};
    const double normal = stress.bending + over(l->axial, s->area);
    stress.shear = times(l->shear, s->shear) + times(l->shear_across, s->shear_across) + over(l->torque, s->torsion);
    stress.combined = sqrt(normal * normal + 3 * stress.shear * stress.shear);
    return stress;
}

/* The side needs room for so many walls. */
static bool wall_fits(double wall, double side, int walls, const char *place, const char *name, char *message, size_t size)
{
    if (isnan(wall) || isnan(side) || walls * wall < side) return true;
    snprintf(message, size, "%s: wall: found %g mm, expected less than %sits %s of %g mm", place, 1e3 * wall, walls == 2 ? "half " : "", name, 1e3 * side);
    return false;
}

static bool wall_holds(const dd_member *m, const char *what, const char *which, char *message, size_t size)
{
    char place[128];
    if (m->section < 0 || m->section == DD_SECTION_FLAT) return true;
    snprintf(place, sizeof place, "%s%s", what, which);
    return wall_fits(m->wall, m->depth, m->section == DD_SECTION_ANGLE ? 1 : 2, place, m->section == DD_SECTION_TUBE ? "diameter" : "depth", message, size) &&
           (m->section == DD_SECTION_TUBE || wall_fits(m->wall, m->width, m->section == DD_SECTION_BOX ? 2 : 1, place, "width", message, size));
}

bool dd_sections_hold(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    *key = "winch";
    if (!wall_holds(&t->winch.post, "", "post", message, size)) return false;
    *key = "supports";
    for (int i = 0; i < t->support_count; i++) {
        const dd_strength *s = &t->supports[i].strength;
        char what[96];
        snprintf(what, sizeof what, "supports[%d] %s, strength: ", i + 1, t->supports[i].name);
        if (!wall_holds(&s->post, what, "post", message, size) || !wall_holds(&s->arm, what, "arm", message, size) ||
            !wall_holds(&s->cross_member, what, "cross member", message, size))
            return false;
    }
    return true;
}
