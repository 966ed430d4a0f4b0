/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units against UDUNITS-2, and quantities as people write them. */
#include "lib/base/sources.h"
#include "lib/base/units.h"
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include <udunits2.h>

/* Every factor and offset: 1e-15 relative, since UDUNITS-2 multiplies up to four rounded factors. Grade: library (UDUNITS-2); `-` needs a source. */
static void units_agree_with_udunits(void **state)
{
    (void)state;
    ut_set_error_message_handler(ut_ignore);
    ut_system *system = ut_read_xml(NULL);
    assert_non_null(system);
    int checked = 0;
    for (int i = 0; dd_unit_at(i) != NULL; i++) {
        const dd_unit *unit = dd_unit_at(i);
        assert_non_null(dd_source_find(unit->source));
        if (strcmp(unit->udunits, "-") == 0) continue;
        ut_unit *theirs = ut_parse(system, unit->udunits, UT_ASCII);
        if (theirs == NULL) fail_msg("UDUNITS-2 does not know '%s'", unit->udunits);
        ut_unit *si = ut_parse(system, dd_dimension_unit(unit->dimension)[0] == '\0' ? "1" : dd_dimension_unit(unit->dimension),
                               UT_ASCII);
        if (si == NULL) fail_msg("UDUNITS-2 does not know the SI unit of '%s'", unit->spelling);
        cv_converter *converter = ut_get_converter(theirs, si);
        if (converter == NULL) fail_msg("'%s' is not a unit of %s", unit->udunits, dd_dimension_name(unit->dimension));
        const double values[] = {1, 7.25, 350};
        for (int k = 0; k < 3; k++) {
            char text[64], message[256];
            double ours, oracle = cv_convert_double(converter, values[k]);
            snprintf(text, sizeof text, "%g %s", values[k], unit->spelling);
            if (!dd_quantity_parse(text, unit->dimension, &ours, message, sizeof message)) fail_msg("'%s': %s", text, message);
            if (fabs(ours - oracle) > 1e-15 * fabs(oracle) + (unit->offset != 0 ? 1e-13 : 0))
                fail_msg("'%s': %.17g, UDUNITS-2 %.17g", text, ours, oracle);
        }
        checked++;
        cv_free(converter);
        ut_free(theirs);
        ut_free(si);
    }
    ut_free_system(system);
    assert_true(checked >= 60);
}

/* Each unit read in its own dimension and in no other that lacks its spelling. */
static void spellings_belong_to_dimensions(void **state)
{
    (void)state;
    for (int i = 0; dd_unit_at(i) != NULL; i++)
        for (int dimension = 0; dimension < DD_DIMENSION_COUNT; dimension++) {
            const dd_unit *unit = dd_unit_at(i);
            char text[64], message[256] = "";
            double value;
            snprintf(text, sizeof text, "2 %s", unit->spelling);
            bool known = dd_unit_find(unit->spelling, (dd_dimension)dimension) != NULL ||
                         (dimension == DD_SLOPE && strcmp(unit->spelling, "%") == 0);
            assert_int_equal(dd_quantity_parse(text, (dd_dimension)dimension, &value, message, sizeof message), known);
            if (!known) assert_non_null(strstr(message, "expected"));
        }
}

typedef struct reading {
    const char *text;
    dd_dimension dimension;
    double si; /* closed form: correctly rounded, or the same expression */
} reading;

static void quantities_are_read(void **state)
{
    (void)state;
    const reading readings[] = {{"2.05 m", DD_LENGTH, 2.05},
                                {"350 mm", DD_LENGTH, 0.35},
                                {"350mm", DD_LENGTH, 0.35},
                                {" 350  mm ", DD_LENGTH, 0.35},
                                {"18 ft 4 in", DD_LENGTH, 18 * 0.3048 + 4 * 0.0254},
                                {"18'4\"", DD_LENGTH, 18 * 0.3048 + 4 * 0.0254},
                                {"18' 4\"", DD_LENGTH, 18 * 0.3048 + 4 * 0.0254},
                                {"-6\"", DD_LENGTH, -6 * 0.0254},
                                {"-1 ft 6 in", DD_LENGTH, -(0.3048 + 6 * 254.0 / 10000)},
                                {"+.5 m", DD_LENGTH, 0.5},
                                {"5. m", DD_LENGTH, 5},
                                {"1e-3 m", DD_LENGTH, 0.001},
                                {"1:8", DD_SLOPE, atan(1.0 / 8)},
                                {"1 : 8", DD_SLOPE, atan(1.0 / 8)},
                                {"-1:8", DD_SLOPE, -atan(1.0 / 8)},
                                {"1 in 8", DD_SLOPE, atan(1.0 / 8)},
                                {"12.5 %", DD_SLOPE, atan(0.125)},
                                {"-2 %", DD_SLOPE, -atan(0.02)},
                                {"90 deg", DD_ANGLE, 1.57079632679489661923},
                                {"80 %", DD_RATIO, 0.8},
                                {"0.8", DD_RATIO, 0.8},
                                {"18 degC", DD_TEMPERATURE, 18 + 273.15},
                                {"18 deg C", DD_TEMPERATURE, 18 + 273.15},
                                {"32 degF", DD_TEMPERATURE, 273.15},
                                {"1 h 30 min", DD_TIME, 5400},
                                {"1650 kg", DD_MASS, 1650},
                                {"4.5 kN", DD_FORCE, 4500},
                                {"2 lb 8 oz", DD_MASS, 2.5 * 0.45359237},
                                {"0.02 1/m", DD_PER_LENGTH, 0.02},
                                {"6 N m", DD_MOMENT, 6},
                                {"-3", DD_NUMBER, -3}};
    for (size_t i = 0; i < sizeof readings / sizeof readings[0]; i++) {
        char message[256];
        double si;
        if (!dd_quantity_parse(readings[i].text, readings[i].dimension, &si, message, sizeof message))
            fail_msg("'%s': %s", readings[i].text, message);
        if (fabs(si - readings[i].si) > 2.3e-16 * fabs(readings[i].si)) /* one unit in the last place */
            fail_msg("'%s': %.17g, expected %.17g", readings[i].text, si, readings[i].si);
    }
}

/* A unit of a length that is also a wrong text of others: each refused with the whole message. */
static void errors_say_what_would_do(void **state)
{
    (void)state;
    const struct {
        const char *text;
        dd_dimension dimension;
        const char *message;
    } refused[] = {
        {"2.05", DD_LENGTH, "found '2.05' without a unit; expected a length in m, mm, cm, km, ft, in or nmi"},
        {"2 ton", DD_MASS,
         "found '2 ton'; 'ton' is three units; write t (1000 kg), short ton (907.18474 kg) or long ton (1016.0469088 kg)"},
        {"3 gal", DD_VOLUME, "found '3 gal'; 'gal' is two units; write US gal (3.785411784 L) or imp gal (4.54609 L)"},
        {"3 kn", DD_FORCE, "found '3 kn' (did you mean 'kN'?); expected a force in N, daN, kN, kgf or lbf"},
        {"3 kg", DD_FORCE, "found '3 kg', a mass; expected a force in N, daN, kN, kgf or lbf"},
        {"0,5 m", DD_LENGTH,
         "found '0,5 m' with a decimal comma (write a point); expected a length in m, mm, cm, km, ft, in or nmi"},
        {"5 m", DD_NUMBER, "found '5 m', a length; expected a bare number without a unit"},
        {"", DD_TIME, "found nothing; expected a time in s, ms, min or h"},
        {"1:8", DD_ANGLE, "found '1:8' with the unknown unit ':8'; expected an angle in rad or deg"},
        {"1:-8", DD_SLOPE, "found '1:-8' with the unknown unit ':-8'; expected a slope in 1:n, %, rad or deg"},
        {"1 degC 2 degC", DD_TEMPERATURE, "found '1 degC 2 degC'; expected a temperature in K, degC or degF"},
        {"nan", DD_NUMBER, "found 'nan'; expected a bare number without a unit"}};
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        char message[256] = "";
        double si = 42;
        assert_false(dd_quantity_parse(refused[i].text, refused[i].dimension, &si, message, sizeof message));
        assert_string_equal(message, refused[i].message);
        assert_true(si == 42);
    }
}

static uint64_t next_random(uint64_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    return *seed ^= *seed << 17;
}

/* parse(format(x)) has the bits of x, in any unit asked for. */
static void format_reads_back(void **state)
{
    (void)state;
    uint64_t seed = 88172645463325252u;
    for (int i = 0; dd_unit_at(i) != NULL; i++)
        for (int k = 0; k < 300; k++) {
            const dd_unit *unit = dd_unit_at(i);
            double x = (double)next_random(&seed) / 1.8446744073709552e19, back;
            if (k % 3 == 0)
                x = round(x * 1000) * unit->numerator / unit->denominator; /* round numbers in the unit */
            else if (k % 3 == 1)
                x *= 1e-9;
            if (k % 5 == 0) x = -x;
            char text[DD_QUANTITY_TEXT], message[256];
            dd_quantity_format(x, unit->dimension, k % 2 == 0 ? unit->spelling : NULL, text);
            if (!dd_quantity_parse(text, unit->dimension, &back, message, sizeof message) || memcmp(&x, &back, sizeof x) != 0)
                fail_msg("%.17g -> '%s' -> %.17g", x, text, back);
        }
}

static void nice_texts_stay_nice(void **state)
{
    (void)state;
    const struct {
        const char *text;
        dd_dimension dimension;
        const char *unit, *shown;
    } rows[] = {{"1:8", DD_SLOPE, NULL, "1:8"},
                {"7 deg", DD_SLOPE, NULL, "7 deg"},
                {"12.5 %", DD_SLOPE, "%", "12.5 %"},
                {"0.3 knot", DD_SPEED, "knot", "0.3 knot"},
                {"18 degC", DD_TEMPERATURE, "degC", "18 degC"},
                {"90 hp", DD_POWER, "hp", "90 hp"},
                {"0.35 m", DD_LENGTH, "mm", "350 mm"},
                {"80 %", DD_RATIO, "%", "80 %"},
                {"2 lb", DD_MASS, "lb", "2 lb"},
                {"0 deg", DD_SLOPE, NULL, "0 deg"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char message[256], text[DD_QUANTITY_TEXT];
        double si;
        assert_true(dd_quantity_parse(rows[i].text, rows[i].dimension, &si, message, sizeof message));
        assert_string_equal(dd_quantity_format(si, rows[i].dimension, rows[i].unit, text), rows[i].shown);
    }
    char text[DD_QUANTITY_TEXT];
    assert_string_equal(dd_quantity_round(0.123456789, DD_LENGTH, "mm", 4, text), "123.5 mm");
    assert_string_equal(dd_quantity_round(atan(0.125), DD_SLOPE, "%", 4, text), "12.5 %");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(units_agree_with_udunits), cmocka_unit_test(spellings_belong_to_dimensions),
        cmocka_unit_test(quantities_are_read),      cmocka_unit_test(errors_say_what_would_do),
        cmocka_unit_test(format_reads_back),        cmocka_unit_test(nice_texts_stay_nice)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
