# SPDX-License-Identifier: GPL-3.0-or-later
# The ground about the slab's end with every rig at its least level: rearmost wheels, skeg where the engine goes down or up, strongest wash.
#   gnuplot -c plots/reach.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of ground.csv: x_m, z_m; of reach.csv: action, level_m, wheels_m, skeg_m, skeg_z_m, wash_m, wash_speed_m/s (empty: none).
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : "reach.svg"
scenario = ARGC >= 3 ? ARG3 : ""
ground = results."/ground.csv"
reach = results."/reach.csv"
set encoding utf8
set datafile separator comma
set datafile columnheaders
stats ground using "x_m" nooutput
left = STATS_min
right = STATS_max
datum = ""
stats ground using (datum = strcol("datum"), column("z_m")) nooutput
bottom = STATS_min
top = STATS_max
points = 0
array gx[2000]
array gz[2000]
keep(x, z) = (points < 2000 ? (points = points + 1, gx[points] = x, gz[points] = z, 0) : 0)
stats ground using (keep(column("x_m"), column("z_m")), 0) nooutput
at(x) = x != x ? NaN : (i = floor((x - left) / (gx[2] - gx[1])) + 1, i < 1 ? gz[1] : i >= points ? gz[points] : gz[i] + (x - gx[i]) / (gx[2] - gx[1]) * (gz[i + 1] - gz[i]))
level = -1e30
stats reach using (l = column("level_m"), l == l && l > level ? (level = l, 0) : 0, 0) nooutput
high = (level > top ? level : top) + 0.3
furthest_wheel = -1e30
furthest_skeg = -1e30
furthest_wash = -1e30
fastest = 0
stats reach using (x = column("wheels_m"), x == x && x > furthest_wheel ? (furthest_wheel = x, 0) : 0, 0) nooutput
stats reach using (x = column("skeg_m"), x == x && x > furthest_skeg ? (furthest_skeg = x, 0) : 0, 0) nooutput
stats reach using (x = column("wash_m"), x == x && x > furthest_wash ? (furthest_wash = x, 0) : 0, 0) nooutput
stats reach using (u = column("wash_speed_m/s"), u == u && u > fastest ? (fastest = u, 0) : 0, 0) nooutput

set terminal svg size 960,520 dynamic noenhanced font "sans-serif,13" background "white" name "reach"
set output out
set label 1 "Past the slab's end" at screen 0.02, screen 0.962 left font "sans-serif,17"
set label 2 scenario at screen 0.02, screen 0.918 left textcolor rgb "#707070"
set label 3 "each rig at its own least level: as far out as it goes; heights drawn larger than lengths" at screen 0.02, screen 0.025 left font "sans-serif,11"
set lmargin at screen 0.09
set rmargin at screen 0.97
set tmargin at screen 0.88
set bmargin at screen 0.17
set border 3 linecolor rgb "#707070"
set tics nomirror out
set xrange [left:right]
set yrange [bottom - 0.15:high]
set xlabel "seaward of the slab's end (m)"
set ylabel "height (m above ".datum.")"
set arrow 1 from 0, graph 0 to 0, graph 1 nohead dashtype 2 linecolor rgb "#707070"
set key at graph 0.99, graph 0.98 right top Right samplen 2
furthest(name, x) = x > -1e29 ? sprintf("%s: to %.1f m %s the end", name, abs(x) < 0.05 ? 0 : abs(x), x < 0 ? "before" : "past") : name.": none"
plot ground using "x_m":"z_m":(bottom - 0.15) with filledcurves fillcolor rgb "#D9CFC1" fillstyle solid notitle, \
    "" using "x_m":"z_m" with lines linewidth 2 linecolor rgb "#000000" notitle, \
    "" using (column("x_m") <= 0 ? column("x_m") : NaN):"z_m" with lines linewidth 5 linecolor rgb "#707070" title "slab", \
    reach using "wheels_m":(at(column("wheels_m"))) with points pointtype 7 pointsize 0.9 linecolor rgb "#D55E00" title furthest("rearmost wheels", furthest_wheel), \
    "" using "skeg_m":"skeg_z_m" with points pointtype 9 pointsize 0.9 linecolor rgb "#0072B2" title furthest("skeg, engine down", furthest_skeg), \
    "" using "wash_m":(at(column("wash_m"))) with points pointtype 5 pointsize 0.8 linecolor rgb "#009E73" title furthest("strongest wash", furthest_wash).(furthest_wash > -1e29 ? sprintf(", up to %.1f m/s", fastest) : "")
unset output
