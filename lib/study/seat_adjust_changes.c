/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The adjusted scenario as overrides of the given one. */
#include "lib/base/numbers.h"
#include "lib/base/units.h"
#include "lib/record/text.h"
#include "lib/study/seat_adjust_tell.h"
#include <math.h>
#include <stdlib.h>

static void add(dd_string *out, const char *block, const char *key, double before, double now)
{
    char text[DD_QUANTITY_TEXT];
    if (before == now || (isnan(before) && isnan(now))) return;
    dd_string_add(out, block);
    dd_string_add(out, key);
    dd_string_add(out, "=");
    dd_string_add(out, dd_quantity_format(now, DD_LENGTH, "mm", text));
    dd_string_add(out, "\n");
}

static void add_list(dd_string *out, const char *block, const char *key, const double *before, const double *now, int count)
{
    char text[DD_QUANTITY_TEXT];
    bool same = true;
    for (int i = 0; i < count; i++) same &= before[i] == now[i];
    if (same) return;
    dd_string_add(out, block);
    dd_string_add(out, key);
    for (int i = 0; i < count; i++) {
        dd_string_add(out, i == 0 ? "=[" : ", ");
        dd_string_add(out, dd_quantity_format(now[i], DD_LENGTH, "mm", text));
    }
    dd_string_add(out, "]\n");
}

static void add_travels(dd_string *out, const char *block, const dd_adjust *before, const dd_adjust *now)
{
    add_list(out, block, "adjust.up", before->up.ends, now->up.ends, now->up.count);
    add_list(out, block, "adjust.out", before->out.ends, now->out.ends, now->out.count);
    add_list(out, block, "adjust.aft", before->aft.ends, now->aft.ends, now->aft.count);
}

static void add_support(dd_string *out, int index, const dd_support *before, const dd_support *now)
{
    char block[64], height[80];
    dd_text(block, sizeof block, "trailer.supports[%d].", index + 1);
    add(out, block, "behind coupling", before->behind_coupling, now->behind_coupling);
    add(out, block, "above ground", before->above_ground, now->above_ground);
    add(out, block, "half spacing", before->half_spacing, now->half_spacing);
    add_list(out, block, "half spacings", before->half_spacings, now->half_spacings, now->half_spacing_count);
    if (before->height_setting != now->height_setting) {
        dd_text(height, sizeof height, "%sheight setting=%d\n", block, now->height_setting);
        dd_string_add(out, height);
    }
    add_travels(out, block, &before->adjust, &now->adjust);
}

char *dd_adjust_changes(const dd_adjusting *a, const dd_case *adjusted)
{
    const dd_trailer_parameters *before = &a->scenario->trailer, *now = &adjusted->trailer;
    dd_string out = {0};
    dd_string_add(&out, "");
    for (int k = 0; k < now->support_count; k++) add_support(&out, k, &before->supports[k], &now->supports[k]);
    add(&out, "trailer.winch.", "behind coupling", before->winch.behind_coupling, now->winch.behind_coupling);
    add_travels(&out, "trailer.winch.", &before->winch.adjust, &now->winch.adjust);
    add(&out, "trailer.bow stop.", "behind coupling", before->bow_stop.behind_coupling, now->bow_stop.behind_coupling);
    for (int i = 0; i < now->axle_count; i++) {
        char block[40];
        dd_text(block, sizeof block, "trailer.axles[%d].", i + 1);
        add(&out, block, "behind coupling", before->axles[i].behind_coupling, now->axles[i].behind_coupling);
    }
    add_list(&out, "trailer.", "axle adjust.aft", before->axle_adjust.aft.ends, now->axle_adjust.aft.ends, now->axle_adjust.aft.count);
    add(&out, "trailer.", "centre behind coupling", before->centre_behind_coupling, now->centre_behind_coupling);
    return dd_string_take(&out);
}
