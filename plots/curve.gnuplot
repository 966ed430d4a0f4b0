# SPDX-License-Identifier: GPL-3.0-or-later
# Loads, trim and depths against the position of the rig in still water (settle).
#   gnuplot -c plots/curve.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of curve.csv: rig_x_m, hub_depth_m, rear_support_depth_m, vehicle_rear_wheel_depth_m, support_load_N, buoyancy_N,
# strap_tension_N, stop_load_N, coupling_load_N, axle_load_N, trim_bow_down_deg, heel_port_down_deg, every `support NAME_N` and, where it is not
# nought, hull_on_frame_N.
# Limits of these channels: limits.csv. Events: events.csv.
picture = "curve"
here = ARG0[1:strlen(ARG0) - strlen("curve.gnuplot")]
picture_title = "Going down in still water"
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : picture.".svg"
scenario = ARGC >= 3 ? ARG3 : ""
table = results."/curve.csv"
x_column = "rig_x_m"
x_label = "rear axle of the vehicle, seaward of the crest (m)"
x_unit = "m"
load here."groups.gnuplot"
panels = 5 + group_count
load here."common.gnuplot"

panel_title = "Depth of water, above zero is under water"
y_label = "m"
y_unit = "m"
scale = 1
both_signs = 0
curve_count = 3
curve_column[1] = "hub_depth_m"; curve_name[1] = "rearmost hub"; curve_colour[1] = green; curve_dash[1] = 1
curve_column[2] = "rear_support_depth_m"; curve_name[2] = "rearmost support"; curve_colour[2] = orange; curve_dash[2] = 2
curve_column[3] = "vehicle_rear_wheel_depth_m"; curve_name[3] = "vehicle's rear wheels"; curve_colour[3] = purple; curve_dash[3] = 4
load here."panel.gnuplot"

panel_title = "Trim and heel"
y_label = "degrees"
y_unit = "degrees"
curve_count = 2
curve_column[1] = "trim_bow_down_deg"; curve_name[1] = "trim, bow down"; curve_colour[1] = red; curve_dash[1] = 1
curve_column[2] = "heel_port_down_deg"; curve_name[2] = "heel, port down"; curve_colour[2] = purple; curve_dash[2] = 2
load here."panel.gnuplot"

panel_title = "Who carries the hull: supports square to it, water upright"
y_label = "kN"
y_unit = "kN"
scale = 1e-3
curve_count = 3
curve_column[1] = "support_load_N"; curve_name[1] = "all supports"; curve_colour[1] = green; curve_dash[1] = 1
curve_column[2] = "buoyancy_N"; curve_name[2] = "water"; curve_colour[2] = blue; curve_dash[2] = 2
curve_column[3] = moves("hull_on_frame_N") ? "hull_on_frame_N" : ""; curve_name[3] = "trailer's frame"; curve_colour[3] = orange; curve_dash[3] = 1
load here."panel.gnuplot"

panel_title = "Strap and bow stop"
curve_count = 2
curve_column[1] = "strap_tension_N"; curve_name[1] = "strap"; curve_colour[1] = blue; curve_dash[1] = 1
curve_column[2] = "stop_load_N"; curve_name[2] = "bow stop"; curve_colour[2] = black; curve_dash[2] = 4
load here."panel.gnuplot"

panel_title = "Trailer on the ground"
curve_count = 2
curve_column[1] = "axle_load_N"; curve_name[1] = "axles"; curve_colour[1] = green; curve_dash[1] = 1
curve_column[2] = "coupling_load_N"; curve_name[2] = "coupling"; curve_colour[2] = red; curve_dash[2] = 2
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
