/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/fault/spoiled.h"
#include <string.h>

static struct {
    spoil how;
    double from;
    const dd_force_kind *original;
    dd_force_kind kind;
} spoiled;

const dd_force_kind *__real_dd_force_at(int index);
const dd_force_kind *__wrap_dd_force_at(int index);

static void evaluate(const void *instance, const dd_kinematics *kinematics, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    spoiled.original->evaluate(instance, kinematics, commands, memory, load, gradient, channels);
    if (kinematics->time < spoiled.from)
        return;
    switch (spoiled.how) {
    case SPOIL_NOT_A_NUMBER:
        load->hull[0] = NAN;
        break;
    case SPOIL_INFINITE:
        load->hull[0] = INFINITY;
        break;
    case SPOIL_TOO_STIFF:
        load->hull[0] += 1e12 * sin(1e15 * (kinematics->motion.twist[0] + kinematics->motion.twist[4]) + 1e12 * kinematics->time);
        break;
    case SPOIL_UNTRUE:
        load->hull[2] += channels != NULL ? 500 : 0;
        break;
    case SPOIL_NOTHING:
    case SPOIL_COUNT:
        break;
    }
}

const dd_force_kind *__wrap_dd_force_at(int index)
{
    const dd_force_kind *kind = __real_dd_force_at(index);
    return kind != NULL && kind == spoiled.original ? &spoiled.kind : kind;
}

void spoil_force(const char *name, spoil how, double from)
{
    spoiled.original = NULL;
    for (int i = 0; __real_dd_force_at(i) != NULL; i++)
        if (strcmp(__real_dd_force_at(i)->name, name) == 0)
            spoiled.original = __real_dd_force_at(i);
    if (spoiled.original == NULL)
        return;
    spoiled.how = how;
    spoiled.from = from;
    spoiled.kind = *spoiled.original;
    spoiled.kind.evaluate = evaluate;
}
