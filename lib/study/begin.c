/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Questions and answers of `begin`. */
#include "lib/study/begin.h"
#include "lib/base/numbers.h"
#include "lib/hull/surface.h"
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#define DEGREE (3.14159265358979323846 / 180)
#define A(id) (answers->value[DD_BEGIN_##id])
#define LADEN (A(BOAT_MASS) + A(ENGINE_MASS) + mass_of_petrol(A(FUEL)) + A(GEAR))

static const dd_begin_row rows[] = {
#define DD_BEGIN(id, name, dimension, metric, metric_decimals, us, us_decimals, least, most, usual, choices, question, source, help)                    \
    {name, dimension, {metric, us}, {metric_decimals, us_decimals}, least, most, choices, question, source, help},
#include "lib/study/begin.def"
#undef DD_BEGIN
};

const dd_begin_row *dd_begin_row_at(int index) { return index >= 0 && index < DD_BEGIN_COUNT ? &rows[index] : NULL; }

int dd_begin_find(const char *name)
{
    for (int i = 0; i < DD_BEGIN_COUNT; i++)
        if (strcmp(rows[i].name, name) == 0) return i;
    return -1;
}

static double mass_of_petrol(double volume)
{
    dd_item tank;
    dd_item_defaults(&tank);
    tank.volume = volume;
    tank.contents = DD_CONTENTS_PETROL;
    return dd_item_mass_filled(&tank, 1);
}

/* The hull's own estimate, of a hull that has nothing else to say. */
static double usual_engine_mass(double power)
{
    dd_hull_parameters boat;
    dd_hull_estimates figures;
    dd_hull_defaults(&boat);
    boat.length = 5;
    boat.length_of = DD_LENGTH_OF_HULL;
    boat.beam = 2.1;
    boat.transom_deadrise = 15 * DEGREE;
    boat.mass = 600;
    boat.mass_of = DD_MASS_OF_BARE_HULL;
    boat.engine_power = power;
    return dd_hull_estimate(&boat, &figures, NULL) == DD_OK ? figures.engine_mass.likely : NAN;
}

static double usual(const dd_begin *answers, int index)
{
    switch (index) {
#define DD_BEGIN(id, name, dimension, metric, metric_decimals, us, us_decimals, least, most, usual, choices, question, source, help)                    \
    case DD_BEGIN_##id:                                                                                                                                 \
        return usual;
#include "lib/study/begin.def"
#undef DD_BEGIN
    default:
        return NAN;
    }
}

/* The choice's words one after the other; false past the last. */
static bool choice_at(const char *choices, int index, char *word, size_t size)
{
    for (; index > 0; index--) {
        choices = strchr(choices, '|');
        if (choices == NULL) return false;
        choices++;
    }
    snprintf(word, size, "%.*s", (int)strcspn(choices, "|"), choices);
    return true;
}

void dd_begin_usual(const dd_begin *answers, int index, char text[DD_QUANTITY_TEXT])
{
    const dd_begin_row *row = &rows[index];
    const char *unit = row->units[answers->us];
    double value = usual(answers, index);
    text[0] = '\0';
    if (isnan(value)) return;
    if (row->choices) {
        choice_at(row->choices, (int)value, text, DD_QUANTITY_TEXT);
    } else if (row->dimension == DD_SLOPE) {
        dd_quantity_format(value, row->dimension, NULL, text);
    } else {
        const dd_unit *to = dd_unit_find(unit, row->dimension);
        int decimals = row->decimals[answers->us];
        value = fmin(row->most, fmax(row->least, value)) * to->denominator / to->numerator;
        if (decimals < 0) {
            const double step = pow(10, -decimals);
            value = round(value / step) * step;
            decimals = 0;
        }
        dd_text(text, DD_QUANTITY_TEXT, "%.*f %s", decimals, value, unit);
    }
}

static bool take_choice(dd_begin *answers, int index, const char *said, char *message, size_t size)
{
    const dd_begin_row *row = &rows[index];
    char word[DD_QUANTITY_TEXT];
    int found = -1, count = 0;
    for (int i = 0; choice_at(row->choices, i, word, sizeof word); i++) {
        const bool number = said[0] == '1' + i && said[1] == '\0';
        if (number || strcasecmp(said, word) == 0) {
            found = i;
            count = 1;
            break;
        }
        if (strncasecmp(said, word, strlen(said)) != 0) continue;
        found = i;
        count++;
    }
    if (count != 1) {
        int length = snprintf(message, size, "found '%s', expected one of: ", said);
        for (int i = 0; length > 0 && (size_t)length < size && choice_at(row->choices, i, word, sizeof word); i++)
            length += snprintf(message + length, size - (size_t)length, "%s%d %s", i > 0 ? ", " : "", i + 1, word);
        return false;
    }
    answers->value[index] = found;
    choice_at(row->choices, found, answers->text[index], DD_QUANTITY_TEXT);
    return true;
}

/* An end of a range in the answerer's unit, short. */
static void show_end(const dd_begin *answers, const dd_begin_row *row, double end, char text[DD_QUANTITY_TEXT])
{
    dd_quantity_round(end, row->dimension, row->units[answers->us], 3, text);
}

bool dd_begin_answer(dd_begin *answers, int index, const char *said, char *message, size_t size)
{
    const dd_begin_row *row = &rows[index];
    char text[DD_QUANTITY_TEXT], least[DD_QUANTITY_TEXT], most[DD_QUANTITY_TEXT];
    double value, bare;
    const char *end;
    answers->given[index] = *said != '\0';
    if (*said == '\0') {
        dd_begin_usual(answers, index, text);
        if (*text == '\0') {
            answers->value[index] = NAN;
            answers->text[index][0] = '\0';
            return true;
        }
        said = text;
    }
    if (row->choices) return take_choice(answers, index, said, message, size);
    if (strlen(said) + strlen(row->units[answers->us]) + 2 > DD_QUANTITY_TEXT) {
        snprintf(message, size, "that is too long for a figure");
        return false;
    }
    char whole[DD_QUANTITY_TEXT];
    snprintf(whole, sizeof whole, "%.50s", said);
    /* A bare slope may be meant as 1 in so much, as per cent or as degrees. */
    if (row->dimension != DD_SLOPE && dd_number_parse(said, &end, &bare) && *end == '\0') snprintf(whole, sizeof whole, "%.50s %.10s", said, row->units[answers->us]);
    if (!dd_quantity_parse(whole, row->dimension, &value, message, size)) return false;
    if (!(value >= row->least * (1 - 1e-9) && value <= row->most * (1 + 1e-9))) {
        show_end(answers, row, row->least, least);
        show_end(answers, row, row->most, most);
        snprintf(message, size, "found %s, expected %s to %s", whole, least, most);
        return false;
    }
    answers->value[index] = value;
    snprintf(answers->text[index], DD_QUANTITY_TEXT, "%s", whole);
    return true;
}
