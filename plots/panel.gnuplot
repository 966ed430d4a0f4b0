# SPDX-License-Identifier: GPL-3.0-or-later
# Draws one panel. Set before: panel_title, y_label, scale (from the table's unit to the panel's), curve_count and the arrays
# curve_column, curve_name, curve_colour, curve_dash; both_signs = 1: a limit holds for either sign; y_unit for limits' labels.
# A curve whose column is missing or empty is left out.

panel = panel + 1
set xrange [*:*]
set yrange [*:*]

# Keep the curves that have something; find their last values and the range.
kept = 0
low = 0.0
high = 0.0
do for [i = 1:curve_count] {
    STATS_records = 0
    if (has(curve_column[i])) { stats table using (column(curve_column[i]) * scale) nooutput }
    if (exists("STATS_records") && STATS_records > 0) {
        kept = kept + 1
        curve_column[kept] = curve_column[i]
        curve_name[kept] = curve_name[i]
        curve_colour[kept] = curve_colour[i]
        curve_dash[kept] = curve_dash[i]
        low = (kept == 1 || STATS_min < low) ? STATS_min : low
        high = (kept == 1 || STATS_max > high) ? STATS_max : high
        last = 0.0
        stats table using (value = column(curve_column[kept]) * scale, last = value == value ? value : last) nooutput
        curve_end[kept] = last
    }
}
if (low > 0 && low < 0.5 * high) { low = 0.0 }

# A limit that would squeeze the curves is told in words.
reach = 3 * (abs(high) > abs(low) ? abs(high) : abs(low))
far_away = ""
do for [k = 1:limit_rows] {
    do for [i = 1:kept] {
        if (limit_channel[k] eq curve_column[i]) {
            at_limit = limit_value[k] * scale
            if (abs(at_limit) <= reach || reach == 0) {
                high = at_limit > high ? at_limit : high
                low = at_limit < low ? at_limit : low
                if (both_signs && -abs(at_limit) < low) { low = -abs(at_limit) }
            } else {
                far_away = far_away.sprintf(", %g %s", at_limit, y_unit)
            }
        }
    }
}
# Less than anybody can see at a ramp is not drawn large: a range is at least this, in its panel's unit.
least_range = y_unit eq "mm" ? 10 : y_unit eq "m" ? 0.1 : y_unit eq "degrees" ? 1 : y_unit eq "N" ? 10 : y_unit eq "kN" ? 0.1 : 1
if (high - low < least_range) {
    spare = least_range - (high - low)
    low = low - (low == 0 ? 0 : 0.5 * spare)
    high = low + least_range
}
y_low = low - (low < 0 ? 0.06 * (high - low) : 0)
y_high = high + 0.08 * (high - low)
set xrange [x_first:x_last]
set yrange [y_low:y_high]

# Names beside the curves' ends, in the order of the ends, apart by at least a line.
step = 0.105 * (y_high - y_low)
do for [i = 1:kept] { curve_place[i] = i }
do for [pass = 1:kept] {
    do for [i = 1:kept - 1] {
        if (curve_end[curve_place[i]] > curve_end[curve_place[i + 1]]) {
            other = curve_place[i]
            curve_place[i] = curve_place[i + 1]
            curve_place[i + 1] = other
        }
    }
}
next_y = y_low
# The lowest may go no higher than leaves room for the others.
do for [i = 1:kept] {
    end_y = curve_end[curve_place[i]]
    most_y = y_high - (kept - i) * step
    name_y = end_y > next_y ? end_y : next_y
    name_y = name_y > most_y ? most_y : name_y
    next_y = name_y + step
    j = curve_place[i]
    # A leader is thin and grey, clear of the axis: it is no part of the curve, whose sample stands before its name.
    set arrow 100 + i from graph 1.008, first end_y to graph 1.04, first name_y nohead linecolor rgb "#B0B0B0" linewidth 0.7
    set arrow 120 + i from graph 1.046, first name_y to graph 1.086, first name_y nohead linecolor rgb curve_colour[j] \
        dashtype curve_dash[j] linewidth 2
    set label 100 + i curve_name[j] at graph 1.094, first name_y left textcolor rgb black
}

# Limits, with their names above the line at the left.
drawn = 0
do for [k = 1:limit_rows] {
    do for [i = 1:kept] {
        if (limit_channel[k] eq curve_column[i] && (abs(limit_value[k] * scale) <= reach || reach == 0)) {
            at_limit = limit_value[k] * scale
            drawn = drawn + 1
            set arrow 200 + 2 * drawn from graph 0, first at_limit to graph 1, first at_limit nohead linecolor rgb black \
                dashtype (9, 4) linewidth 1.2
            set label 200 + drawn sprintf("limit %.4g %s: %s", at_limit, y_unit, limit_name[k]) at graph 0.01, first at_limit \
                left offset 0, 0.55 font "sans-serif,11" textcolor rgb black
            if (both_signs) {
                set arrow 201 + 2 * drawn from graph 0, first -at_limit to graph 1, first -at_limit nohead linecolor rgb black \
                    dashtype (9, 4) linewidth 1.2
            }
        }
    }
}

# Events: dotted verticals with numbers above.
do for [i = 1:mark_count] {
    if (mark_x[i] >= x_first && mark_x[i] <= x_last) {
        set arrow 300 + i from first mark_x[i], graph 0 to first mark_x[i], graph 1 nohead linecolor rgb grey dashtype (1, 3) back
    }
}
do for [i = 1:label_count] {
    if (group_x[i] >= x_first && group_x[i] <= x_last) {
        set label 300 + i group_text[i] at first group_x[i], graph 1 center offset 0, 0.5 + 0.75 * (group_row[i] - 1) \
            font "sans-serif,10" textcolor rgb grey
    }
}

# The key of the events stands under the last panel.
if (panel == panels && mark_count > 0) {
    do for [i = 1:mark_count] {
        key_y = (22.0 + 20 * (key_rows - 1 - (i - 1) % key_rows)) / picture_height
        set label 400 + i sprintf("%d  %s, %.2f %s", i, mark_name[i], mark_x[i], x_unit) \
            at screen 0.03 + 0.325 * int((i - 1) / key_rows), screen key_y left font "sans-serif,11"
    }
}

panel_top = 1 - (64.0 + 58 + (panel - 1) * (panel_height + panel_gap)) / picture_height
set tmargin at screen panel_top
set bmargin at screen panel_top - (panel_height - 24.0) / picture_height
set label 3 panel_title.(far_away eq "" ? "" : "; limit above the picture: ".far_away[3:]) at graph 0, graph 1 left offset 0, 2.4 font "sans-serif,13"
set ylabel y_label offset 0.5, 0
if (panel == panels) { set xlabel x_label } else { unset xlabel }

if (kept > 0) {
    plot 0 with lines linecolor rgb "#B0B0B0" linewidth 0.8 notitle, \
        for [i = 1:kept] table using (column(x_column)):(column(curve_column[i]) * scale) with lines linewidth 2 \
            linecolor rgb curve_colour[i] dashtype curve_dash[i] notitle
} else {
    set label 4 "no data for this panel" at graph 0.5, graph 0.5 center textcolor rgb grey
    plot NaN notitle
    unset label 4
}
do for [i = 101:136] { unset arrow i; unset label i }
do for [i = 201:420] { unset arrow i; unset label i }
unset label 1
unset label 2
