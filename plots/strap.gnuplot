# SPDX-License-Identifier: GPL-3.0-or-later
# Force on the winch strap and on the handle over time.
#   gnuplot -c plots/strap.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of timeline.csv: time_s, strap_tension_N, handle_force_N, and where they act chain_tension_N, ties_tension_N,
# rope_tension_N, hand_line_N, thrust_N, push_force_N. Limits of these channels: limits.csv. Events: events.csv.
picture = "strap"
here = ARG0[1:strlen(ARG0) - strlen("strap.gnuplot")]
picture_title = "Winch load"
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : picture.".svg"
scenario = ARGC >= 3 ? ARG3 : ""
table = results."/timeline.csv"
x_column = "time_s"
x_label = "time (s)"
x_unit = "s"
# Nobody turns the handle in a launch: then there is nothing to draw of it; nor of lines that are not there.
load here."columns.gnuplot"
turned = moves("handle_force_N")
lines = moves("chain_tension_N") || moves("ties_tension_N") || moves("rope_tension_N") || moves("hand_line_N")
pushed = moves("thrust_N") || moves("push_force_N")
panels = 1 + turned + lines + pushed
load here."common.gnuplot"

panel_title = "Tension of the strap"
y_label = "kN"
y_unit = "kN"
scale = 1e-3
both_signs = 0
curve_count = 1
curve_column[1] = "strap_tension_N"; curve_name[1] = "strap"; curve_colour[1] = blue; curve_dash[1] = 1
load here."panel.gnuplot"

if (turned) {
    panel_title = "Force on the winch handle"
    y_label = "N"
    y_unit = "N"
    scale = 1
    curve_count = 1
    curve_column[1] = "handle_force_N"; curve_name[1] = "handle"; curve_colour[1] = red; curve_dash[1] = 1
    load here."panel.gnuplot"
}
if (lines) {
    panel_title = "Other lines"
    y_label = "kN"
    y_unit = "kN"
    scale = 1e-3
    curve_count = 4
    curve_column[1] = moves("chain_tension_N") ? "chain_tension_N" : ""; curve_name[1] = "safety chain"; curve_colour[1] = black; curve_dash[1] = 4
    curve_column[2] = moves("ties_tension_N") ? "ties_tension_N" : ""; curve_name[2] = "transom ties"; curve_colour[2] = orange; curve_dash[2] = 2
    curve_column[3] = moves("rope_tension_N") ? "rope_tension_N" : ""; curve_name[3] = "rope"; curve_colour[3] = purple; curve_dash[3] = 3
    curve_column[4] = moves("hand_line_N") ? "hand_line_N" : ""; curve_name[4] = "hand line"; curve_colour[4] = green; curve_dash[4] = 1
    load here."panel.gnuplot"
}

if (pushed) {
    panel_title = "Engine and hands: ahead, and seaward on the bow"
    y_label = "N"
    y_unit = "N"
    scale = 1
    both_signs = 0
    curve_count = 2
    curve_column[1] = moves("thrust_N") ? "thrust_N" : ""; curve_name[1] = "thrust"; curve_colour[1] = red; curve_dash[1] = 1
    curve_column[2] = moves("push_force_N") ? "push_force_N" : ""; curve_name[2] = "push"; curve_colour[2] = sky; curve_dash[2] = 2
    load here."panel.gnuplot"
}
unset multiplot
unset output
