# SPDX-License-Identifier: GPL-3.0-or-later
# The share of a fleet that can launch (above) and retrieve (below) against the water level, for the ramp as it is and changed.
#   gnuplot -c plots/fleet.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of shares.csv: ramp, level_m, launch_%, retrieve_%, time_% (empty: no tide); of fleet.csv: action.
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : "fleet.svg"
scenario = ARGC >= 3 ? ARG3 : ""
set encoding utf8
set datafile separator comma
set datafile columnheaders
array colour[9] = ["#000000", "#0072B2", "#D55E00", "#009E73", "#CC79A7", "#E69F00", "#56B4E9", "#707070", "#F0E442"]
array ramp[9]
ramps = 0
number_of(name) = (found = 0, sum [k = 1:ramps] (ramp[k] eq name ? (found = k, 0) : 0), found)
learn(name) = (number_of(name) == 0 && ramps < 9 ? (ramps = ramps + 1, ramp[ramps] = name, 0) : 0)
stats results."/shares.csv" using (learn(strcol("ramp")), 0) nooutput
datum = ""
stats results."/shares.csv" using (datum = strcol("datum"), column("level_m")) nooutput
low = STATS_min
high = STATS_max
tide = 0
stats results."/shares.csv" using (t = column("time_%"), t == t ? (tide = 1, 0) : 0, 0) nooutput
array has[2] = [0, 0]
stats results."/fleet.csv" using (has[strcol("action") eq "launch" ? 1 : 2] = 1, 0) nooutput

set terminal svg size 960,640 dynamic noenhanced font "sans-serif,13" background "white" name "fleet"
set output out
set multiplot
set label 1 "Share of the fleet against the water level" at screen 0.02, screen 0.97 left font "sans-serif,17"
set label 2 scenario at screen 0.02, screen 0.935 left textcolor rgb "#707070"
if (tide) { set label 3 "grey: share of time that the tide\nstands at the level or above" at screen 0.76, screen 0.47 left font "sans-serif,11" }
set lmargin at screen 0.09
set rmargin at screen 0.74
set border 3 linecolor rgb "#707070"
set tics nomirror out
set grid ytics linecolor rgb "#E4E4E4" linetype 1
set xrange [low:high]
set yrange [0:104]
array panel[2] = ["launch", "retrieve"]
do for [p = 1:2] {
    set tmargin at screen (p == 1 ? 0.90 : 0.47)
    set bmargin at screen (p == 1 ? 0.54 : 0.11)
    set ylabel (p == 1 ? "can launch (%)" : "can retrieve (%)")
    set xlabel (p == 2 ? "level (m above ".datum.")" : "")
    if (p == 1) { set key at screen 0.76, screen 0.90 left top Left reverse samplen 2 spacing 1.2 } else { unset key }
    name = panel[p]."_%"
    if (has[p]) {
        plot results."/shares.csv" using (strcol("ramp") eq ramp[1] ? column("level_m") : NaN):(column("time_%")) with filledcurves y1=0 fillcolor rgb "#E4E4E4" fillstyle solid notitle, \
            for [k = 1:ramps] "" using (strcol("ramp") eq ramp[k] ? column("level_m") : NaN):(column(name)) with steps linewidth (k == 1 ? 3 : 2) linecolor rgb colour[k] title ramp[k]
    } else {
        set label 10 "not asked" at graph 0.5, graph 0.5 center textcolor rgb "#707070"
        plot [low:high] NaN notitle
        unset label 10
    }
    unset label 1
    unset label 2
    unset label 3
}
unset multiplot
unset output
