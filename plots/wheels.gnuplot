# SPDX-License-Identifier: GPL-3.0-or-later
# Depth of water over hub, rear support and the bottom of the vehicle's rear wheel over time (below zero: above the water), what
# stands on the ground, and how much of the grip there is the wheels need.
#   gnuplot -c plots/wheels.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of timeline.csv: time_s, hub_depth_m, rear_support_depth_m, vehicle_rear_wheel_depth_m, coupling_load_N, axle_load_N,
# vehicle_rear_axle_load_N, jockey_load_N, frame_on_ground_N, grip_use_percent, wheel_slip, rig_x_m.
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
panels = 5
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

panel_title = "Who stands on the ground"
y_label = "kN"
y_unit = "kN"
scale = 1e-3
curve_count = 5
curve_column[1] = "vehicle_rear_axle_load_N"; curve_name[1] = "vehicle's rear axle"; curve_colour[1] = purple; curve_dash[1] = 1
curve_column[2] = "axle_load_N"; curve_name[2] = "trailer's axles"; curve_colour[2] = green; curve_dash[2] = 2
curve_column[3] = "coupling_load_N"; curve_name[3] = "coupling"; curve_colour[3] = red; curve_dash[3] = 1
curve_column[4] = moves("jockey_load_N") ? "jockey_load_N" : ""; curve_name[4] = "jockey wheel"; curve_colour[4] = sky; curve_dash[4] = 3
curve_column[5] = moves("frame_on_ground_N") ? "frame_on_ground_N" : ""; curve_name[5] = "frame"; curve_colour[5] = black; curve_dash[5] = 4
load here."panel.gnuplot"

panel_title = "Grip: friction needed under the wheels, share of the least that the surface is known to have"
y_label = "%"
y_unit = "%"
scale = 1
curve_count = 1
curve_column[1] = "grip_use_percent"; curve_name[1] = "grip used"; curve_colour[1] = blue; curve_dash[1] = 1
load here."panel.gnuplot"

panel_title = "Place of the rig: rear axle of the vehicle, seaward of the crest"
curve_count = 1
y_label = "m"
y_unit = "m"
curve_column[1] = "rig_x_m"; curve_name[1] = "rear axle"; curve_colour[1] = black; curve_dash[1] = 1
load here."panel.gnuplot"
unset multiplot
unset output
