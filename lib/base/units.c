/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/base/units.h"
#include "lib/base/calendar.h"
#include "lib/base/numbers.h"
#include <ctype.h>
#include <string.h>
#include <strings.h>

#define DD_PI 3.14159265358979323846

static const dd_unit units[] = {
#define DD_UNIT(spelling, dimension, numerator, denominator, offset, source, udunits)                                          \
    {spelling, dimension, numerator, denominator, offset, source, udunits},
#include "lib/base/units.def"
#undef DD_UNIT
};
enum { UNIT_COUNT = sizeof units / sizeof units[0] };

static const char *const dimension_names[DD_DIMENSION_COUNT] = {[DD_NUMBER] = "a bare number",
                                                                [DD_RATIO] = "a number or a percentage",
                                                                [DD_LENGTH] = "a length",
                                                                [DD_MASS] = "a mass",
                                                                [DD_TIME] = "a time",
                                                                [DD_SPEED] = "a speed",
                                                                [DD_ACCELERATION] = "an acceleration",
                                                                [DD_FORCE] = "a force",
                                                                [DD_ANGLE] = "an angle",
                                                                [DD_SLOPE] = "a slope",
                                                                [DD_ANGULAR_SPEED] = "an angular speed",
                                                                [DD_DENSITY] = "a density",
                                                                [DD_VOLUME] = "a volume",
                                                                [DD_POWER] = "a power",
                                                                [DD_PRESSURE] = "a pressure",
                                                                [DD_TEMPERATURE] = "a temperature",
                                                                [DD_STIFFNESS] = "a stiffness",
                                                                [DD_DAMPING] = "a damping",
                                                                [DD_MOMENT] = "a moment",
                                                                [DD_AREA] = "an area",
                                                                [DD_INERTIA] = "a moment of inertia",
                                                                [DD_BENDING_STIFFNESS] = "a bending stiffness",
                                                                [DD_ROLL_DAMPING] = "a roll damping",
                                                                [DD_PER_LENGTH] = "a figure per length",
                                                                [DD_VISCOSITY] = "a kinematic viscosity",
                                                                [DD_DATE] = "a date and time"};

/* Spellings that mean different things to different people. */
static const struct {
    const char *spelling, *choices;
} refused[] = {
    {"ton", "'ton' is three units; write t (1000 kg), short ton (907.18474 kg) or long ton (1016.0469088 kg)"},
    {"tons", "'tons' is three units; write t (1000 kg), short ton (907.18474 kg) or long ton (1016.0469088 kg)"},
    {"gal", "'gal' is two units; write US gal (3.785411784 L) or imp gal (4.54609 L)"},
    {"M", "'M' is not a unit here; write m, or nmi for a nautical mile"},
};

const dd_unit *dd_unit_at(int index) { return index >= 0 && index < UNIT_COUNT ? &units[index] : NULL; }

const dd_unit *dd_unit_find(const char *spelling, dd_dimension dimension)
{
    for (int i = 0; i < UNIT_COUNT; i++)
        if (units[i].dimension == dimension && strcmp(units[i].spelling, spelling) == 0) return &units[i];
    return NULL;
}

const char *dd_dimension_name(dd_dimension dimension)
{
    return (unsigned)dimension < DD_DIMENSION_COUNT ? dimension_names[dimension] : "";
}

static const dd_unit *si_unit(dd_dimension dimension)
{
    for (int i = 0; i < UNIT_COUNT; i++)
        if (units[i].dimension == dimension) return &units[i];
    return &units[0];
}

const char *dd_dimension_unit(dd_dimension dimension) { return si_unit(dimension)->spelling; }

/* A second spelling of a unit already listed is left out. */
static bool is_alias(int index)
{
    for (int i = 0; i < index; i++)
        if (units[i].dimension == units[index].dimension && units[i].numerator == units[index].numerator &&
            units[i].denominator == units[index].denominator && units[i].offset == units[index].offset)
            return true;
    return false;
}

char *dd_dimension_choices(dd_dimension dimension, char *text, size_t size)
{
    const char *names[UNIT_COUNT + 2];
    int count = 0;
    if (dimension == DD_DATE) names[count++] = "year-month-day hour:minute and the offset from UTC, as 2026-07-14 08:30 +10:00, or Z";
    if (dimension == DD_SLOPE) {
        names[count++] = "1:n";
        names[count++] = "%";
    }
    for (int i = 0; i < UNIT_COUNT; i++)
        if (units[i].dimension == dimension && units[i].spelling[0] != '\0' && !is_alias(i)) names[count++] = units[i].spelling;
    text[0] = '\0';
    for (int i = 0; i < count; i++) {
        size_t used = strlen(text);
        dd_text(text + used, size - used, "%s%s", i == 0 ? "" : i == count - 1 ? " or " : ", ", names[i]);
    }
    return text;
}

/* Reading -------------------------------------------------------------------------------------------------------- */

static const char *skip_spaces(const char *text)
{
    while (*text == ' ' || *text == '\t') text++;
    return text;
}

/* Copies the unit that starts at text, up to the next number of a compound ("18 ft 4 in"), one space between words; 18'4" has the marks of
   feet and inches. */
static const char *take_unit(const char *text, char *unit, size_t size)
{
    size_t length = 0;
    if (*text == '\'' || *text == '"') {
        dd_text(unit, size, "%s", *text == '"' ? "in" : "ft");
        return skip_spaces(text + 1);
    }
    while (*text != '\0') {
        if (*text == ' ' || *text == '\t') {
            text = skip_spaces(text);
            if (*text == '\0' || (isdigit((unsigned char)*text) && strncmp(text, "1/", 2) != 0)) break;
            if (length + 1 < size) unit[length++] = ' ';
            continue;
        }
        if (length + 1 < size) unit[length++] = *text;
        text++;
    }
    unit[length] = '\0';
    return text;
}

static bool expected(dd_dimension dimension, const char *found, char *message, size_t size)
{
    char choices[256];
    dd_dimension_choices(dimension, choices, sizeof choices);
    if (dimension == DD_RATIO)
        dd_text(message, size, "found %s; expected %s (0.8 or 80 %%)", found, dd_dimension_name(dimension));
    else if (choices[0] == '\0')
        dd_text(message, size, "found %s; expected %s without a unit", found, dd_dimension_name(dimension));
    else
        dd_text(message, size, "found %s; expected %s in %s", found, dd_dimension_name(dimension), choices);
    return false;
}

/* Why `unit` does not do for the dimension. */
static bool explain_unit(const char *text, const char *unit, dd_dimension dimension, char *message, size_t size)
{
    char found[256];
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++)
        if (strcmp(unit, refused[i].spelling) == 0) {
            dd_text(message, size, "found '%.60s'; %s", text, refused[i].choices);
            return false;
        }
    if (unit[0] == ',') {
        dd_text(found, sizeof found, "'%.60s' with a decimal comma (write a point)", text);
        return expected(dimension, found, message, size);
    }
    for (int i = 0; i < UNIT_COUNT; i++)
        if (units[i].dimension == dimension && strcasecmp(units[i].spelling, unit) == 0) {
            dd_text(found, sizeof found, "'%.60s' (did you mean '%s'?)", text, units[i].spelling);
            return expected(dimension, found, message, size);
        }
    for (int i = 0; i < UNIT_COUNT; i++)
        if (strcmp(units[i].spelling, unit) == 0) {
            dd_text(found, sizeof found, "'%.60s', %s", text, dd_dimension_name(units[i].dimension));
            return expected(dimension, found, message, size);
        }
    dd_text(found, sizeof found, "'%.60s' with the unknown unit '%.40s'", text, unit);
    return expected(dimension, found, message, size);
}

static double to_si(double value, const dd_unit *unit) { return (value + unit->offset) * unit->numerator / unit->denominator; }

/* "1:8", "1 in 8", "12.5 %": 1 read, 0 not of this form. */
static int parse_slope(const char *text, double *si)
{
    const char *at = text + (*text == '-' || *text == '+');
    double sign = *text == '-' ? -1 : 1, rise, run;
    if (!dd_number_parse(at, &at, &rise) || rise < 0) return 0;
    at = skip_spaces(at);
    if (at[0] == '%' && *skip_spaces(at + 1) == '\0') {
        *si = sign * atan(rise / 100);
        return 1;
    }
    if (at[0] == ':')
        at = skip_spaces(at + 1);
    else if (strncmp(at, "in ", 3) == 0)
        at = skip_spaces(at + 3);
    else
        return 0;
    if (*at == '-' || *at == '+' || !dd_number_parse(at, &at, &run) || *skip_spaces(at) != '\0' || !(run > 0)) return 0;
    *si = sign * atan(rise / run);
    return 1;
}

bool dd_quantity_parse(const char *text, dd_dimension dimension, double *si, char *message, size_t size)
{
    char found[128], name[64];
    double total = 0, value;
    const dd_unit *before = NULL;
    const char *at = text = skip_spaces(text);
    if (dimension == DD_SLOPE && parse_slope(text, si)) return true;
    if (dimension == DD_DATE) {
        if (dd_calendar_parse(text, si)) return true;
        dd_text(found, sizeof found, text[0] == '\0' ? "nothing" : "'%.60s'", text);
        return expected(dimension, found, message, size);
    }
    bool negative = *text == '-';
    do {
        bool is_number = dd_number_parse(at, &at, &value);
        if (!is_number || (before != NULL && value < 0)) {
            dd_text(found, sizeof found, text[0] == '\0' ? "nothing" : "'%.60s'", text);
            return expected(dimension, found, message, size);
        }
        at = take_unit(skip_spaces(at), name, sizeof name);
        const dd_unit *unit = dd_unit_find(name, dimension);
        if (unit == NULL && name[0] == '\0') {
            dd_text(found, sizeof found, "'%.60s' without a unit", text);
            return expected(dimension, found, message, size);
        }
        if (unit == NULL) return explain_unit(text, name, dimension, message, size);
        /* Compounds go from large to small: 18 ft 4 in, 1 h 30 min. */
        if (before != NULL && (unit->offset != 0 || to_si(1, unit) >= to_si(1, before))) {
            dd_text(found, sizeof found, "'%.60s'", text);
            return expected(dimension, found, message, size);
        }
        double part = to_si(value, unit);
        total = before == NULL ? part : negative ? total - part : total + part;
        before = unit;
    } while (*at != '\0');
    if (!isfinite(total)) {
        dd_text(found, sizeof found, "'%.60s', too large", text);
        return expected(dimension, found, message, size);
    }
    *si = total;
    return true;
}

const char *dd_quantity_unit(const char *text, dd_dimension dimension)
{
    double value;
    char name[64];
    if (dimension == DD_SLOPE && parse_slope(text = skip_spaces(text), &value)) return strchr(text, '%') != NULL ? "%" : "deg";
    if (!dd_number_parse(skip_spaces(text), &text, &value)) return NULL;
    take_unit(skip_spaces(text), name, sizeof name);
    const dd_unit *unit = dd_unit_find(name, dimension);
    return unit == NULL ? NULL : unit->spelling;
}

/* Writing -------------------------------------------------------------------------------------------------------- */

static bool reads_back(const char *text, dd_dimension dimension, double si)
{
    char message[16];
    double back;
    return dd_quantity_parse(text, dimension, &back, message, sizeof message) && memcmp(&back, &si, sizeof si) == 0;
}

/* Shortest text in a unit (name "%" or "1:" for slopes) that reads back to si. */
static bool format_in(double si, dd_dimension dimension, const char *name, char *text)
{
    const dd_unit *unit = dd_unit_find(name, dimension);
    bool is_ratio = strcmp(name, "1:") == 0, is_percent = dimension == DD_SLOPE && strcmp(name, "%") == 0;
    if (unit == NULL && !is_ratio && !is_percent) return false;
    double value = is_percent ? 100 * tan(si)
                   : is_ratio ? 1 / fabs(tan(si))
                              : si * unit->denominator / unit->numerator - unit->offset;
    if (!isfinite(value)) return false;
    for (int digits = is_ratio ? 1 : 6; digits <= (is_ratio ? 6 : 17); digits++) {
        char number[DD_NUMBER_TEXT];
        dd_number_digits(value, digits, number);
        if (digits < 15 && strstr(number, "e+") != NULL) continue; /* 2000000, as without a unit, not 2e+06 */
        if (is_ratio)
            dd_text(text, DD_QUANTITY_TEXT, "%s1:%s", signbit(si) ? "-" : "", number);
        else
            dd_text(text, DD_QUANTITY_TEXT, "%s%s%s", number, name[0] == '\0' ? "" : " ", name);
        if (reads_back(text, dimension, si)) return true;
    }
    return false;
}

char *dd_quantity_format(double si, dd_dimension dimension, const char *unit, char text[DD_QUANTITY_TEXT])
{
    if (dimension == DD_DATE) return dd_calendar_text(si, text, DD_QUANTITY_TEXT);
    if (unit == NULL && dimension == DD_SLOPE && si == 0) unit = "deg";
    if ((unit != NULL && format_in(si, dimension, unit, text)) ||
        (unit == NULL && dimension == DD_SLOPE &&
         (format_in(si, dimension, "1:", text) || format_in(si, dimension, "deg", text))))
        return text;
    char number[DD_NUMBER_TEXT];
    const char *name = dd_dimension_unit(dimension);
    dd_text(text, DD_QUANTITY_TEXT, "%s%s%s", dd_number_format(si, number), name[0] == '\0' ? "" : " ", name);
    return text;
}

char *dd_quantity_round(double si, dd_dimension dimension, const char *unit, int digits, char text[DD_QUANTITY_TEXT])
{
    char number[DD_NUMBER_TEXT];
    if (dimension == DD_DATE) return dd_calendar_text(si, text, DD_QUANTITY_TEXT);
    if (dimension == DD_SLOPE && unit != NULL && strcmp(unit, "%") == 0) {
        dd_text(text, DD_QUANTITY_TEXT, "%s %%", dd_number_digits(100 * tan(si), digits, number));
        return text;
    }
    const dd_unit *in = unit == NULL ? NULL : dd_unit_find(unit, dimension);
    if (in == NULL) in = dimension == DD_SLOPE ? dd_unit_find("deg", dimension) : si_unit(dimension);
    dd_number_digits(si * in->denominator / in->numerator - in->offset, digits, number);
    dd_text(text, DD_QUANTITY_TEXT, "%s%s%s", number, in->spelling[0] == '\0' ? "" : " ", in->spelling);
    return text;
}
