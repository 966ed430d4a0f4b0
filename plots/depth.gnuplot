# SPDX-License-Identifier: GPL-3.0-or-later
# Cross-sections to scale with the rig at the shallowest, the best and the deepest place, and the usable band against the water's level.
#   gnuplot -c plots/depth.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of side.csv: view, place, line, shape, x_m, z_m (one row per point; points of a line follow one another); of levels.csv:
# level_m, least_mm, best_mm, most_mm; of depth.csv: place, hub_mm, ends_it.
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : "depth.svg"
scenario = ARGC >= 3 ? ARG3 : ""
table = results."/side.csv"
set encoding utf8
set datafile separator comma
set datafile columnheaders

stats table using "view" nooutput
views = int(STATS_max) + 1
stats table using "line" nooutput
lines = int(STATS_max) + 1
array line_shape[lines]
array line_first[lines]
array line_last[lines]
array view_title[views]
array view_low[views]
array view_high[views]
array view_left[views]
array view_right[views]
array view_level[views]
array view_line[views]
array view_lines[views]
do for [i = 1:views] { view_low[i] = 1e30; view_high[i] = -1e30; view_left[i] = 1e30; view_right[i] = -1e30; view_level[i] = -1e30 }
do for [i = 1:lines] { line_first[i] = -1 }
do for [i = 1:views] { view_line[i] = lines + 1; view_lines[i] = 0 }

# One pass: where each line begins and ends, what it is, and what each view spans. Ramp and water reach far: they do not count.
note(l, v, row, shape, x, z) = (line_first[l] = line_first[l] < 0 ? row : line_first[l], line_last[l] = row, \
    line_shape[l] = shape, far = shape eq "ramp" || shape eq "water", \
    view_line[v] = l < view_line[v] ? l : view_line[v], view_lines[v] = l > view_lines[v] ? l : view_lines[v], \
    view_level[v] = shape eq "water" ? z : view_level[v], \
    view_low[v] = !far && z < view_low[v] ? z : view_low[v], view_high[v] = !far && z > view_high[v] ? z : view_high[v], \
    view_left[v] = !far && x < view_left[v] ? x : view_left[v], view_right[v] = !far && x > view_right[v] ? x : view_right[v], 0)
entitle(v, place) = (view_title[v] = place, 0)
stats table using (note(int(column("line")) + 1, int(column("view")) + 1, int($0), strcol("shape"), column("x_m"), column("z_m")), \
    entitle(int(column("view")) + 1, strcol("place")), 0) nooutput

# What each place is called, and what binds there: nothing at the best one, for whose empty last column gnuplot gives that of the row before.
places = 0
stats results."/depth.csv" using (places = places + 1, hub = column("hub_mm"), binds = strcol("place") eq "best" ? "" : strcol("ends_it"), \
    view_title[places <= views ? places : views] = sprintf("%s: hub %.0f mm %s water", strcol("place"), abs(hub), hub < 0 ? "above" : "under").(binds eq "" ? "" : "; ends at: ".binds), 0) nooutput

# All views have the same scale: as wide and as high as the largest needs.
width = 0.0
height = 0.0
do for [v = 1:views] {
    wide = view_right[v] - view_left[v]
    high = view_high[v] - view_low[v]
    width = wide > width ? wide : width
    height = high > height ? high : height
}
width = width + 1.0
height = height + 0.7
columns = 1
rows = views
cell_width = 900.0
cell_height = int(cell_width * height / width) + 44.0
picture_width = columns * (cell_width + 24.0) + 16.0
STATS_records = 0
levels = 0
datum = ""
stats results."/levels.csv" using (levels = levels + 1, datum = strcol("datum"), 0) nooutput
band_height = levels > 1 ? 330.0 : 0.0
picture_height = 64.0 + rows * cell_height + band_height + 30.0
set terminal svg size picture_width,picture_height dynamic noenhanced font "sans-serif,13" background "white" name "depth"
set output out
set multiplot
set clip two
unset key
unset tics
unset border

# Shapes that are filled, from back to front.
order = "vehicle hull support wheel"
fill_of(s) = s eq "hull" ? "#F2E3C2" : s eq "vehicle" ? "#D9D9D9" : s eq "wheel" ? "#404040" : s eq "support" ? "#E69F00" : "#FFFFFF"
line_of(s) = s eq "hull" ? "#7A4B00" : s eq "vehicle" ? "#606060" : s eq "wheel" ? "#202020" : s eq "support" ? "#8A5A00" : \
    s eq "ramp" ? "#505050" : s eq "water" ? "#0072B2" : s eq "strap" || s eq "rope" ? "#0072B2" : s eq "guide" ? "#CC79A7" : s eq "arm" ? "#8A5A00" : s eq "stop" ? "#000000" : \
    s eq "trailer" ? "#009E73" : "#909090"
width_of(s) = s eq "ramp" || s eq "trailer" ? 2.5 : s eq "strap" || s eq "rope" || s eq "guide" || s eq "arm" || s eq "stop" ? 2 : 1.2

do for [v = 1:views] {
    row = int((v - 1) / columns)
    cell_left = 16.0 + ((v - 1) % columns) * (cell_width + 24.0)
    cell_top = picture_height - 64.0 - row * cell_height
    set lmargin at screen cell_left / picture_width
    set rmargin at screen (cell_left + cell_width) / picture_width
    set tmargin at screen (cell_top - 30.0) / picture_height
    set bmargin at screen (cell_top - cell_height + 14.0) / picture_height
    middle = 0.5 * (view_left[v] + view_right[v])
    bottom = view_low[v] - 0.35
    set xrange [middle - 0.5 * width:middle + 0.5 * width]
    set yrange [bottom:bottom + height]
    set object 1 rectangle from graph 0, graph 0 to graph 1, graph 1 fillstyle empty border linecolor rgb "#D0D0D0" back
    set label 10 view_title[v] at graph 0, graph 1 left offset 0, 0.7
    if (v == 1) {
        set label 1 "Where the rig is to stand" at screen 16.0 / picture_width, screen 1 - 20.0 / picture_height left font "sans-serif,17"
        set label 2 scenario at screen 16.0 / picture_width, screen 1 - 42.0 / picture_height left textcolor rgb "#707070"
        set label 3 "all sections to the same scale; the bar is 1 m; sea to the right" at screen 16.0 / picture_width, \
            screen 14.0 / picture_height left font "sans-serif,11"
    }
    set arrow 1 from graph 0.03, graph 0.07 to graph 0.03 + 1.0 / width, graph 0.07 nohead linewidth 3 linecolor rgb "#202020" front
    # From back to front: water, things, a veil of water over what is under it, the ground, all outlines.
    plot for [l = view_line[v]:view_lines[v]] table every ::line_first[l]::line_last[l] \
            using (column("x_m")):(line_shape[l] eq "water" ? column("z_m") : NaN):(bottom) \
            with filledcurves fillcolor rgb "#CFE6F5" fillstyle solid notitle, \
        for [k = 1:words(order)] for [l = view_line[v]:view_lines[v]] table every ::line_first[l]::line_last[l] \
            using (column("x_m")):(line_shape[l] eq word(order, k) ? column("z_m") : NaN) \
            with filledcurves closed fillcolor rgb fill_of(word(order, k)) fillstyle solid notitle, \
        for [l = view_line[v]:view_lines[v]] table every ::line_first[l]::line_last[l] \
            using (column("x_m")):(line_shape[l] eq "water" ? column("z_m") : NaN):(bottom) \
            with filledcurves fillcolor rgb "#56A4DD" fillstyle transparent solid 0.25 notitle, \
        for [l = view_line[v]:view_lines[v]] table every ::line_first[l]::line_last[l] \
            using (column("x_m")):(line_shape[l] eq "ramp" ? column("z_m") : NaN):(bottom) \
            with filledcurves fillcolor rgb "#E3E0DA" fillstyle solid notitle, \
        for [l = view_line[v]:view_lines[v]] table every ::line_first[l]::line_last[l] \
            using (column("x_m")):(column("z_m")) with lines linewidth width_of(line_shape[l]) \
            linecolor rgb line_of(line_shape[l]) notitle
    do for [i = 1:3] { unset label i }
}
if (levels > 1) {
    unset object 1
    unset arrow 1
    unset label 10
    set border 3 linecolor rgb "#707070"
    set xtics nomirror out
    set ytics nomirror out
    set lmargin at screen 90.0 / picture_width
    set rmargin at screen 700.0 / picture_width
    set bmargin at screen 84.0 / picture_height
    set tmargin at screen (band_height - 10.0) / picture_height
    set autoscale x
    set autoscale y
    set xlabel "water level (m above ".datum.")"
    set ylabel "water over the hub (mm)"
    set grid ytics linecolor rgb "#E4E4E4" linetype 1
    set label 10 "Usable band against the level" at graph 0, graph 1 left offset 0, 0.7
    set key at screen 720.0 / picture_width, screen (band_height - 30.0) / picture_height left top Left reverse
    plot results."/levels.csv" using "level_m":"least_mm":"most_mm" with filledcurves fillcolor rgb "#CFE6F5" fillstyle solid title "works", \
        "" using "level_m":"most_mm" with linespoints linewidth 2 pointtype 7 pointsize 0.5 linecolor rgb "#D55E00" title "deepest", \
        "" using "level_m":"best_mm" with linespoints linewidth 2 pointtype 7 pointsize 0.5 linecolor rgb "#009E73" title "best", \
        "" using "level_m":"least_mm" with linespoints linewidth 2 pointtype 7 pointsize 0.5 linecolor rgb "#0072B2" title "shallowest"
}
unset multiplot
unset output
