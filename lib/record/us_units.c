/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/record/us_units.h"
#include "lib/base/numbers.h"
#include "lib/base/units.h"
#include "lib/record/text.h"
#include <ctype.h>
#include <math.h>
#include <string.h>

enum { UNIT = 16, MOST_LISTED = 8, FEWEST_DIGITS = 3 };

/* What a metric unit becomes: `of` and `us` are units of one dimension, `told` the US one as it is written; for figures up to `most`. */
static const struct us_unit {
    const char *metric;
    dd_dimension dimension;
    const char *of, *us, *told;
    int more_decimals;
    double most;
} us_units[] = {
    {"kg", DD_MASS, "kg", "lb", "lb", 0, INFINITY},
    {"t", DD_MASS, "t", "lb", "lb", -3, INFINITY},
    {"mm", DD_LENGTH, "mm", "in", "in", 2, INFINITY},
    {"cm", DD_LENGTH, "cm", "in", "in", 1, INFINITY},
    {"m", DD_LENGTH, "m", "in", "in", -1, 1},
    {"m", DD_LENGTH, "m", "ft", "ft", 0, INFINITY},
    {"km", DD_LENGTH, "km", "ft", "ft", -3, INFINITY},
    {"m2", DD_AREA, "m2", "ft2", "ft2", -1, INFINITY},
    {"L", DD_VOLUME, "L", "US gal", "US gal", 1, INFINITY},
    {"N", DD_FORCE, "N", "lbf", "lbf", 0, INFINITY},
    {"kN", DD_FORCE, "kN", "lbf", "lbf", -2, INFINITY},
    {"N m", DD_MOMENT, "N m", "lbf ft", "lbf ft", 0, INFINITY},
    {"kN m", DD_MOMENT, "kN m", "lbf ft", "lbf ft", -2, INFINITY},
    {"N m/rad", DD_MOMENT, "N m", "lbf ft", "lbf ft/rad", 0, INFINITY},
    {"J", DD_MOMENT, "N m", "lbf ft", "ft lbf", 0, INFINITY},
    {"kJ", DD_MOMENT, "kN m", "lbf ft", "ft lbf", -2, INFINITY},
    {"kW", DD_POWER, "kW", "hp", "hp", 0, INFINITY},
    {"kPa", DD_PRESSURE, "kPa", "psi", "psi", 1, INFINITY},
    {"bar", DD_PRESSURE, "bar", "psi", "psi", -1, INFINITY},
    {"MPa", DD_PRESSURE, "MPa", "psi", "psi", -2, INFINITY},
    {"km/h", DD_SPEED, "km/h", "mph", "mph", 0, INFINITY},
    {"m/s", DD_SPEED, "m/s", "ft/s", "ft/s", 0, INFINITY},
    {"m/s2", DD_ACCELERATION, "m/s2", "ft/s2", "ft/s2", 0, INFINITY},
    {"kg/m3", DD_DENSITY, "kg/m3", "lb/ft3", "lb/ft3", 1, INFINITY},
    {"degC", DD_TEMPERATURE, "degC", "degF", "degF", 0, INFINITY},
};

double dd_us_value(const char *metric, double largest, double value, const char **unit, int *decimals)
{
    const struct us_unit *row = NULL;
    *unit = metric;
    for (size_t i = 0; i < sizeof us_units / sizeof us_units[0] && !row; i++)
        if (strcmp(us_units[i].metric, metric) == 0 && !(fabs(largest) > us_units[i].most)) row = &us_units[i];
    const dd_unit *of = row ? dd_unit_find(row->of, row->dimension) : NULL, *us = row ? dd_unit_find(row->us, row->dimension) : NULL;
    if (!of || !us) return value;
    *unit = row->told;
    if (decimals) *decimals += row->more_decimals;
    return (value + of->offset) * of->numerator / of->denominator * us->denominator / us->numerator - us->offset;
}

char *dd_us_number(double value, int decimals, char text[DD_US_NUMBER])
{
    double step = decimals < 0 ? pow(10, -decimals) : 1;
    while (step > 1 && fabs(value) < step * pow(10, FEWEST_DIGITS - 1)) step /= 10;
    if (step > 1) value = round(value / step) * step;
    if (decimals < 0) decimals = 0;
    if (fabs(value) < 0.5 * pow(10, -decimals)) value = 0.0;
    dd_text(text, DD_US_NUMBER, "%.*f", decimals, value);
    return text;
}

/* Sentences ------------------------------------------------------------------------------------------------------ */

typedef struct number {
    double value;
    int decimals, digits; /* digits: of a number with an exponent, else 0 */
    bool plus;
    size_t length;
} number;

/* A number at the beginning of a text; false: there is none. */
static bool find_number(const char *text, number *n)
{
    const char *end;
    size_t at = (size_t)(text[0] == '-' || text[0] == '+'), digits = 0, point = 0;
    *n = (number){.plus = text[0] == '+'};
    for (; isdigit((unsigned char)text[at]) || (text[at] == '.' && !point && isdigit((unsigned char)text[at + 1])); at++)
        if (text[at] == '.')
            point = at;
        else
            digits++;
    if (digits == 0) return false;
    n->decimals = point ? (int)(at - point) - 1 : 0;
    const size_t sign = at + 1 + (size_t)(text[at] == 'e' && (text[at + 1] == '+' || text[at + 1] == '-'));
    if (text[at] == 'e' && isdigit((unsigned char)text[sign])) {
        n->digits = (int)digits;
        for (at = sign; isdigit((unsigned char)text[at]);) at++;
    }
    n->length = at;
    return dd_number_parse(text, &end, &n->value) && end == text + at;
}

static bool ends_word(char c) { return !isalnum((unsigned char)c) && c != '/'; }

/* Length of a space and a word that may be a unit; 0: there is none. */
static size_t find_unit(const char *text, char unit[UNIT])
{
    size_t end = 1;
    if (text[0] != ' ') return 0;
    while (isalpha((unsigned char)text[end]) || (end > 1 && (isdigit((unsigned char)text[end]) || (text[end] == '/' && isalpha((unsigned char)text[end + 1]))))) end++;
    if (text[end - 1] == 'N' && strncmp(text + end, " m/rad", 6) == 0 && ends_word(text[end + 6]))
        end += 6;
    else if (text[end - 1] == 'N' && strncmp(text + end, " m", 2) == 0 && ends_word(text[end + 2]))
        end += 2; /* a moment */
    if (end == 1 || end > UNIT || !ends_word(text[end])) return 0;
    memcpy(unit, text + 1, end - 1);
    unit[end - 1] = '\0';
    return end;
}

/* Between two numbers of one unit: its length; 0: they do not belong together. */
static size_t find_separator(const char *text, const number *first, const number *second, size_t *length)
{
    static const char *const words[] = {" to ", " and ", " or ", ", and ", ", "};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        *length = strlen(words[i]);
        if (strncmp(text, words[i], *length) != 0) continue;
        if (!second) return *length;
        /* "axle 2, 5.00 m": only figures of one kind are a list */
        return i == 0 || (first->decimals > 0 && first->decimals == second->decimals) ? *length : 0;
    }
    return 0;
}

static void add_number(dd_string *out, const number *n, double value, int decimals)
{
    char text[DD_US_NUMBER];
    if (n->digits > 0)
        dd_text(text, sizeof text, "%.*g", n->digits, value);
    else
        dd_us_number(value, decimals, text);
    if (n->plus && value >= 0) dd_string_add(out, "+");
    dd_string_add(out, text);
}

static bool is_rounded(const number *n, double value) { return n->digits == 0 && fabs(value - n->value) <= 0.5000001 * pow(10, -n->decimals); }

/* The figure that the report knows behind a rounded one, so that a sentence agrees with the tables; else the rounded one. Every figure that
   rounds to it will do. */
static double find_exact(const number *n, const char *unit, const dd_report *report)
{
    for (int i = 0; report && i < report->told_count; i++)
        if (strcmp(report->told[i].unit, unit) == 0 && is_rounded(n, report->told[i].value)) return report->told[i].value;
    for (int i = 0; report && i < report->check_count; i++) {
        const dd_check *check = &report->checks[i];
        if (strcmp(check->unit, unit) == 0 && is_rounded(n, check->value)) return check->value;
        if (strcmp(check->unit, unit) == 0 && is_rounded(n, check->limit)) return check->limit;
    }
    for (int t = 0; report && t < report->table_count; t++)
        for (int i = 0; i < report->tables[t].row_count * report->tables[t].column_count; i++) {
            const dd_report_column *column = &report->tables[t].columns[i % report->tables[t].column_count];
            const double value = report->tables[t].cells[i].value;
            if (column->decimals <= n->decimals + 1 && strcmp(column->unit, unit) == 0 && is_rounded(n, value)) return value;
        }
    return n->value;
}

typedef struct run_of_numbers {
    number n[MOST_LISTED];
    size_t starts[MOST_LISTED]; /* where the separator before it begins */
    int count;
    size_t length; /* with the unit, where there is one */
    char unit[UNIT]; /* ""; none */
} run_of_numbers;

static bool is_turned(const char *unit)
{
    const char *us;
    dd_us_value(unit, 0, 0, &us, NULL);
    return us != unit;
}

/* Numbers of one unit at the beginning of a text; false: there are none. */
static bool find_numbers(const char *text, run_of_numbers *r)
{
    size_t between = 0;
    r->unit[0] = '\0';
    for (r->count = 0, r->length = 0; r->count < MOST_LISTED; r->count++) {
        number *n = &r->n[r->count];
        const size_t start = r->length;
        if (r->count > 0 && (find_separator(text + start, NULL, NULL, &between) == 0 || !find_number(text + start + between, n) ||
                             find_separator(text + start, n - 1, n, &between) == 0))
            break;
        if (r->count == 0 && !find_number(text, n)) break;
        r->starts[r->count] = start;
        r->length += between + n->length;
        const size_t of_unit = find_unit(text + r->length, r->unit);
        if (of_unit > 0 && is_turned(r->unit)) {
            r->length += of_unit;
            r->count++;
            return true;
        }
        r->unit[0] = '\0';
    }
    return r->count > 0;
}

/* Quantities at the beginning of a text, turned: their length; 0: there are none. metres: size of the largest figure in metres of the
   sentence; last: metric unit of the quantity before. */
static size_t turn(dd_string *out, const char *text, const dd_report *report, double metres, char last[UNIT])
{
    run_of_numbers r;
    if (!find_numbers(text, &r)) return 0;
    const bool bare = r.unit[0] == '\0';
    if (bare && (r.count != 2 || !*last || text[r.length] != ')' || strncmp(text + r.starts[1], " to ", 4) != 0)) return 0;
    if (bare) memcpy(r.unit, last, sizeof r.unit);
    const char *us = r.unit;
    for (int i = 0; i < r.count; i++) {
        int decimals = r.n[i].decimals;
        size_t between;
        const double value = dd_us_value(r.unit, metres, find_exact(&r.n[i], r.unit, report), &us, &decimals);
        if (i > 0 && find_separator(text + r.starts[i], NULL, NULL, &between) > 0) dd_string_add_bytes(out, text + r.starts[i], between);
        add_number(out, &r.n[i], value, decimals);
    }
    if (!bare) {
        dd_string_add(out, " ");
        dd_string_add(out, us);
    }
    memcpy(last, r.unit, sizeof r.unit);
    return r.length;
}

/* Length of a quoted text that begins here; 0: none does. */
static size_t find_quoted(const char *text, const dd_report *report)
{
    size_t longest = 0;
    for (int i = 0; report && i < report->quoted_count; i++) {
        const size_t length = strlen(report->quoted[i]);
        if (length > longest && strncmp(text, report->quoted[i], length) == 0) longest = length;
    }
    return longest;
}

/* A number begins after a space, a bracket or a quotation mark only. */
static bool goes_before_number(char c) { return strchr(" (\"", c) != NULL; }

static double largest_in_metres(const char *text)
{
    run_of_numbers r;
    double largest = 0;
    for (const char *at = text; *at; at++)
        if ((at == text || goes_before_number(at[-1])) && find_numbers(at, &r) && strcmp(r.unit, "m") == 0)
            for (int i = 0; i < r.count; i++) largest = fmax(largest, fabs(r.n[i].value));
    return largest;
}

char *dd_us_sentence(const char *text, const dd_report *report)
{
    dd_string out = {0};
    char last[UNIT] = "";
    const double metres = largest_in_metres(text);
    bool inside = false;
    while (*text) {
        const size_t quoted = inside ? 0 : find_quoted(text, report), length = inside || quoted > 0 ? 0 : turn(&out, text, report, metres, last);
        if (quoted > 0) dd_string_add_bytes(&out, text, quoted);
        if (quoted + length > 0) {
            text += quoted + length;
            inside = true;
            continue;
        }
        inside = !goes_before_number(*text);
        dd_string_add_bytes(&out, text++, 1);
    }
    return dd_string_take(&out);
}
