# SPDX-License-Identifier: GPL-3.0-or-later
# Force on the winch strap and on the handle over time.
#   gnuplot -c plots/strap.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of timeline.csv: time_s, strap_tension_N, handle_force_N. Limits of these channels: limits.csv. Events: events.csv.
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
# Nobody turns the handle in a launch: then there is nothing to draw of it.
set datafile separator comma
set datafile columnheaders
stats table using "handle_force_N" nooutput
turned = STATS_max > 0
panels = turned ? 2 : 1
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
unset multiplot
unset output
