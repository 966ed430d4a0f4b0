# SPDX-License-Identifier: GPL-3.0-or-later
# Load of each support and of the bow stop over time: one panel for each group of supports, those whose names begin alike.
#   gnuplot -c plots/supports.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of timeline.csv: time_s, support_load_N, stop_load_N, buoyancy_N and every `support NAME_N`; where they are not nought,
# guide_load_N, hull_on_ground_N, bracket_load_N and hull_on_frame_N too.
# Limits of these channels: limits.csv. Events: events.csv.
picture = "supports"
here = ARG0[1:strlen(ARG0) - strlen("supports.gnuplot")]
picture_title = "Load on the supports"
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : picture.".svg"
scenario = ARGC >= 3 ? ARG3 : ""
table = results."/timeline.csv"
x_column = "time_s"
x_label = "time (s)"
x_unit = "s"
load here."groups.gnuplot"
panels = 1 + group_count
load here."common.gnuplot"

panel_title = "Who carries the hull: supports square to it, water upright"
y_label = "kN"
y_unit = "kN"
scale = 1e-3
both_signs = 0
curve_count = 7
curve_column[1] = "support_load_N"; curve_name[1] = "all supports"; curve_colour[1] = green; curve_dash[1] = 1
curve_column[2] = "buoyancy_N"; curve_name[2] = "water"; curve_colour[2] = blue; curve_dash[2] = 2
curve_column[3] = "stop_load_N"; curve_name[3] = "bow stop"; curve_colour[3] = black; curve_dash[3] = 4
curve_column[4] = moves("guide_load_N") ? "guide_load_N" : ""; curve_name[4] = "guides"; curve_colour[4] = sky; curve_dash[4] = 3
curve_column[5] = moves("hull_on_ground_N") ? "hull_on_ground_N" : ""; curve_name[5] = "ground"; curve_colour[5] = red; curve_dash[5] = 1
curve_column[6] = moves("bracket_load_N") ? "bracket_load_N" : ""; curve_name[6] = "bracket"; curve_colour[6] = purple; curve_dash[6] = 2
curve_column[7] = moves("hull_on_frame_N") ? "hull_on_frame_N" : ""; curve_name[7] = "trailer's frame"; curve_colour[7] = orange; curve_dash[7] = 1
load here."panel.gnuplot"

do for [g = 1:group_count] {
    panel_title = "Load on ".group_name[g]
    curve_count = 0
    do for [s = 1:support_count] {
        if (support_group[s] == g && curve_count < 8) {
            curve_count = curve_count + 1
            curve_column[curve_count] = "support ".support_name[s]."_N"
            curve_name[curve_count] = support_label[s]
            curve_colour[curve_count] = word(blue." ".red." ".green." ".purple." ".orange." ".sky." ".black." ".grey, curve_count)
            curve_dash[curve_count] = 1 + (curve_count - 1) % 4
        }
    }
    load here."panel.gnuplot"
}
unset multiplot
unset output
