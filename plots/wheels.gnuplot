# SPDX-License-Identifier: GPL-3.0-or-later
# Depth of water over hub, rear support and the bottom of the vehicle's rear wheel over time; below zero: above the water.
#   gnuplot -c plots/wheels.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of timeline.csv: time_s, hub_depth_m, rear_support_depth_m, vehicle_rear_wheel_depth_m, rig_x_m.
# Limits of these channels: limits.csv. Events: events.csv.
picture = "wheels"
here = ARG0[1:strlen(ARG0) - strlen("wheels.gnuplot")]
picture_title = "Wheels in the water"
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : picture.".svg"
scenario = ARGC >= 3 ? ARG3 : ""
table = results."/timeline.csv"
x_column = "time_s"
x_label = "time (s)"
x_unit = "s"
panels = 3
load here."common.gnuplot"

panel_title = "Trailer: depth of water, above zero is under water"
y_label = "m"
y_unit = "m"
scale = 1
both_signs = 0
curve_count = 2
curve_column[1] = "hub_depth_m"; curve_name[1] = "rearmost hub"; curve_colour[1] = green; curve_dash[1] = 1
curve_column[2] = "rear_support_depth_m"; curve_name[2] = "rearmost support"; curve_colour[2] = orange; curve_dash[2] = 2
load here."panel.gnuplot"

panel_title = "Vehicle: depth of water at the rear wheels"
curve_count = 1
curve_column[1] = "vehicle_rear_wheel_depth_m"; curve_name[1] = "rear wheels"; curve_colour[1] = purple; curve_dash[1] = 1
load here."panel.gnuplot"

panel_title = "Place of the rig: rear axle of the vehicle, seaward of the crest"
curve_count = 1
curve_column[1] = "rig_x_m"; curve_name[1] = "rear axle"; curve_colour[1] = black; curve_dash[1] = 1
load here."panel.gnuplot"
unset multiplot
unset output
