/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The procedure as XML: each step's kind and figures by its rows of the key table, so that a new step or key is there at once.
   The words are the template's. */
#include "lib/base/numbers.h"
#include "lib/base/units.h"
#include "lib/crew/steps.h"
#include "tools/drawdock/page.h"
#include <math.h>
#include <string.h>

static void name_of(const char *key, char name[48])
{
    dd_text(name, 48, "%s", key);
    for (char *c = name; *c; c++)
        if (*c == ' ') *c = '-';
}

/* As people take it: short lengths in mm, speeds as on the dashboard, shares in per cent. */
static void add_figure(page *p, xmlNodePtr parent, const char *name, dd_dimension dimension, double value)
{
    if (dimension == DD_RATIO)
        page_quantity(p, parent, name, 100 * value, "%", PAGE_THREE_DIGITS);
    else if (dimension == DD_LENGTH && fabs(value) < 1)
        page_quantity(p, parent, name, 1000 * value, "mm", PAGE_THREE_DIGITS);
    else if (dimension == DD_SPEED)
        page_quantity(p, parent, name, 3.6 * value, "km/h", 1);
    else
        page_quantity(p, parent, name, value, dd_dimension_unit(dimension), PAGE_THREE_DIGITS);
}

static void add_rows(page *p, xmlNodePtr parent, const dd_key *rows, const void *structure)
{
    char name[48];
    for (const dd_key *row = rows; row && row->name; row++) {
        const char *field = (const char *)structure + row->offset;
        double value = NAN;
        int choice = -1;
        name_of(row->name, name);
        switch (row->type) {
        case DD_KEY_QUANTITY:
            memcpy(&value, field, sizeof value);
            if (isfinite(value) && strcmp(name, "time-limit") != 0) add_figure(p, parent, name, row->dimension, value);
            break;
        case DD_KEY_CHOICE:
            memcpy(&choice, field, sizeof choice);
            if (choice >= 0) page_text(p, parent, name, row->choices[choice]);
            break;
        case DD_KEY_FLAG:
            memcpy(&choice, field, sizeof choice);
            if (choice == 1) page_add(p, parent, name);
            break;
        case DD_KEY_BLOCK:
            add_rows(p, page_add(p, parent, name), row->rows, field);
            break;
        default:
            break;
        }
    }
}

/* The rig rolls on from where its driver lets off to where it comes to stand, as the next step begins. */
static void add_stand(page *p, xmlNodePtr node, const dd_result *result, int step)
{
    char next[16];
    dd_text(next, sizeof next, "step %d:", step + 2);
    for (int e = 0; e < result->event_count; e++)
        if (strncmp(result->events[e].name, next, strlen(next)) == 0) add_figure(p, node, "stands", DD_LENGTH, result->events[e].hub_depth);
}

void page_steps(page *p, xmlNodePtr parent, const dd_case *scenario, const dd_result *result)
{
    if (isfinite(scenario->start.hub_depth)) add_figure(p, parent, "start", DD_LENGTH, scenario->start.hub_depth);
    for (int i = 0; i < scenario->step_count; i++) {
        const dd_step *step = &scenario->steps[i];
        xmlNodePtr node = page_add(p, parent, "step");
        page_put(p, node, "kind", "%s", dd_step_name(step->kind));
        add_rows(p, node, dd_step_variants[step->kind].rows, step);
        if (step->kind == DD_STEP_BACK_DOWN && isfinite(step->until.hub_depth)) add_stand(p, node, result, i);
    }
}
