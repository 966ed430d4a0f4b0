/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules across the figures of a boat, for the reader and for programs alike. */
#include <math.h>
#include <stdio.h>
#include "lib/base/check.h"
#include "lib/base/error.h"
#include "lib/hull/lines.h"

/* A boat has one form: the brochure's, or stations. */
static bool form_is_given(const void *structure, char *message, size_t size, const char **key)
{
    const dd_hull_parameters *p = structure;
    if (p->station_count == 1) {
        *key = "stations";
        snprintf(message, size, "found 1 station, expected at least 2");
        return false;
    }
    const struct {
        const char *key;
        double value;
    } needed[] = {{"length", p->length}, {"beam", p->beam}, {"transom deadrise", p->transom_deadrise}},
      form[] = {{"chine beam", p->chine_beam}, {"midships deadrise", p->midships_deadrise}, {"bow deadrise", p->bow_deadrise},
                {"keel rise", p->keel_rise}, {"transom sheer height", p->transom_sheer_height},
                {"midships sheer height", p->midships_sheer_height}, {"bow sheer height", p->bow_sheer_height}};
    for (size_t i = 0; p->station_count == 0 && i < sizeof needed / sizeof needed[0]; i++)
        if (isnan(needed[i].value)) {
            *key = needed[i].key;
            snprintf(message, size, "not given, expected the brochure's figure (or measured stations)");
            return false;
        }
    for (size_t i = 0; p->station_count > 1 && i < sizeof form / sizeof form[0]; i++)
        if (!isnan(form[i].value)) {
            *key = form[i].key;
            snprintf(message, size, "found with measured stations, expected one of the two: the stations give the form");
            return false;
        }
    return true;
}

static bool length_is_of_something(const void *structure, char *message, size_t size, const char **key)
{
    const dd_hull_parameters *p = structure;
    *key = "length of";
    if (!isnan(p->length) && p->length_of == -1) {
        snprintf(message, size, "not given, expected what the length measures: hull or overall");
        return false;
    }
    *key = "platform length";
    if (p->platform_length > 0 && p->length_of == DD_LENGTH_OF_HULL) {
        snprintf(message, size, "found %g m with a length of the hull, expected it with an overall length only", p->platform_length);
        return false;
    }
    if (!isnan(p->length) && p->length_of == DD_LENGTH_OVERALL && !(p->platform_length < 0.5 * p->length)) {
        snprintf(message, size, "found %g m, expected less than half of the overall length of %g m", p->platform_length, p->length);
        return false;
    }
    return true;
}

/* Length and beam given beside stations are a check on a slip of the tape. */
static bool stations_agree(const void *structure, char *message, size_t size, const char **key)
{
    const dd_hull_parameters *p = structure;
    if (p->station_count < 2)
        return true;
    double span = p->stations[p->station_count - 1].at - p->stations[0].at, half = 0;
    for (int i = 0; i < p->station_count; i++)
        half = fmax(half, fmax(p->stations[i].sheer_half_breadth, p->stations[i].chine_half_breadth));
    double platform = p->length_of == DD_LENGTH_OVERALL && p->platform_length > 0 ? p->platform_length : 0;
    *key = "length";
    if (fabs(p->length - platform - span) > 0.05 * span) {
        snprintf(message, size, "found %g m (hull), but the stations span %g m, expected agreement within 5 %%", p->length - platform, span);
        return false;
    }
    *key = "beam";
    if (fabs(p->beam - 2 * half) > 0.1 * half) {
        snprintf(message, size, "found %g m, but the stations are %g m broad, expected agreement within 5 %%", p->beam, 2 * half);
        return false;
    }
    const dd_station *transom = &p->stations[0];
    double rise = atan2(transom->chine_height - transom->keel_height, transom->chine_half_breadth);
    const double degree = 3.14159265358979323846 / 180;
    *key = "transom deadrise";
    if (fabs(p->transom_deadrise - rise) > 5 * degree) {
        snprintf(message, size, "found %g deg, but the first station has %g deg, expected agreement within 5 deg",
                 p->transom_deadrise / degree, rise / degree);
        return false;
    }
    return true;
}

static bool chine_is_inside(const void *structure, char *message, size_t size, const char **key)
{
    const dd_hull_parameters *p = structure;
    *key = "chine beam";
    if (!(p->chine_beam > p->beam))
        return true;
    snprintf(message, size, "found %g m, expected at most the beam of %g m", p->chine_beam, p->beam);
    return false;
}

static bool keel_meets_bow_below_sheer(const void *structure, char *message, size_t size, const char **key)
{
    const dd_hull_parameters *p = structure;
    *key = "keel rise";
    if (!(p->keel_rise >= p->bow_sheer_height))
        return true;
    snprintf(message, size, "found %g m, expected below the bow sheer height of %g m", p->keel_rise, p->bow_sheer_height);
    return false;
}

static bool eye_and_centre_are_within(const void *structure, char *message, size_t size, const char **key)
{
    const dd_hull_parameters *p = structure;
    double first = p->station_count > 1 ? p->stations[0].at : 0, length = dd_brochure_length(p);
    if (!isfinite(length))
        return true; /* another rule's error */
    const struct {
        const char *key;
        double value;
    } places[] = {{"bow eye from transom", p->bow_eye_from_transom}, {"centre from transom", p->centre_from_transom}};
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++)
        if (places[i].value < first || places[i].value > first + length + 1e-9 * length) {
            *key = places[i].key;
            snprintf(message, size, "found %g m, expected within the hull, %g to %g m", places[i].value, first, first + length);
            return false;
        }
    return true;
}

static bool items_are_whole(const void *structure, char *message, size_t size, const char **key)
{
    const dd_hull_parameters *p = structure;
    *key = "items";
    for (int i = 0; i < p->item_count; i++) {
        const int start = snprintf(message, size, "item %d (%s): ", i + 1, p->items[i].item);
        if (!dd_item_check(&p->items[i], message + start, size - (size_t)start)) return false;
    }
    return true;
}

static bool stations_are_sound(const void *structure, char *message, size_t size, const char **key)
{
    const dd_hull_parameters *p = structure;
    *key = "stations";
    return p->station_count < 2 || dd_stations_check(p->stations, p->station_count, message, size);
}

static bool strakes_are_sound(const void *structure, char *message, size_t size, const char **key)
{
    const dd_hull_parameters *p = structure;
    *key = "strakes";
    return dd_rails_check(p->rails, p->rail_count, message, size);
}

const dd_key_rule dd_hull_rules[] = {
    {"the form is given once: length, beam and transom deadrise, or measured stations", form_is_given},
    {"the length says what it measures, and a platform is counted in an overall length only", length_is_of_something},
    {"stations run forward, have as many strakes each, rise from keel to sheer and do not cross themselves", stations_are_sound},
    {"length, beam and deadrise given beside stations agree with them", stations_agree},
    {"the chine lies within the beam", chine_is_inside},
    {"the keel meets the bow below the sheer", keel_meets_bow_below_sheer},
    {"bow eye and centre of mass lie within the hull's length", eye_and_centre_are_within},
    {"a strake has as many half breadths as points, runs forward, and lies clear of the keel and of other strakes", strakes_are_sound},
    {"things aboard have a mass, by one way, and three lengths for their place or none", items_are_whole},
    {0}};

dd_status dd_brochure_check(const dd_hull_parameters *parameters, dd_error *error)
{
    if (parameters->cookie != sizeof *parameters)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_hull_create", "the struct was not filled with dd_hull_defaults()");
    dd_status status = dd_key_check(dd_hull_keys, parameters, "dd_hull_create", error);
    return status ? status : dd_key_check_rules(dd_hull_rules, parameters, "dd_hull_create", error);
}
