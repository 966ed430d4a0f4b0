# SPDX-License-Identifier: GPL-3.0-or-later
# How the hull lies on the trailer over time: offset, heading, heel, trim.
#   gnuplot -c plots/alignment.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of timeline.csv: time_s, bow_offset_to_port_m, stern_offset_to_port_m, heading_bow_to_port_deg, heel_port_down_deg,
# trim_bow_down_deg, and guide_load_N where it acts. Limits of these channels: limits.csv. Events: events.csv.
picture = "alignment"
here = ARG0[1:strlen(ARG0) - strlen("alignment.gnuplot")]
picture_title = "Hull on the trailer"
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : picture.".svg"
scenario = ARGC >= 3 ? ARG3 : ""
table = results."/timeline.csv"
x_column = "time_s"
x_label = "time (s)"
x_unit = "s"
load here."columns.gnuplot"
guided = moves("guide_load_N")
panels = 3 + guided
load here."common.gnuplot"

panel_title = "Offset from the trailer's centre line, to port"
y_label = "mm"
y_unit = "mm"
scale = 1000
both_signs = 1
curve_count = 2
curve_column[1] = "bow_offset_to_port_m"; curve_name[1] = "bow"; curve_colour[1] = blue; curve_dash[1] = 1
curve_column[2] = "stern_offset_to_port_m"; curve_name[2] = "stern"; curve_colour[2] = orange; curve_dash[2] = 2
load here."panel.gnuplot"

panel_title = "Heading against the trailer, and heel"
y_label = "degrees"
y_unit = "degrees"
scale = 1
curve_count = 2
curve_column[1] = "heading_bow_to_port_deg"; curve_name[1] = "heading, bow to port"; curve_colour[1] = green; curve_dash[1] = 1
curve_column[2] = "heel_port_down_deg"; curve_name[2] = "heel, port down"; curve_colour[2] = purple; curve_dash[2] = 2
load here."panel.gnuplot"

panel_title = "Trim against the level"
both_signs = 0
curve_count = 1
curve_column[1] = "trim_bow_down_deg"; curve_name[1] = "trim, bow down"; curve_colour[1] = red; curve_dash[1] = 1
load here."panel.gnuplot"
if (guided) {
    panel_title = "Side guides: load on the hull"
    y_label = "N"
    y_unit = "N"
    curve_count = 1
    curve_column[1] = "guide_load_N"; curve_name[1] = "all guides"; curve_colour[1] = sky; curve_dash[1] = 1
    load here."panel.gnuplot"
}
unset multiplot
unset output
