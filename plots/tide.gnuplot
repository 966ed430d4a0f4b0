# SPDX-License-Identifier: GPL-3.0-or-later
# The tide of the day: level above the ramp's datum, high and low waters, now, and the least level at which the rig works.
#   gnuplot -c plots/tide.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of tide-curve.csv: hours, level_m, least_m, datum; of tide.csv: water, time, hours, level_m, tide_m.
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : "tide.svg"
scenario = ARGC >= 3 ? ARG3 : ""
set encoding utf8
set datafile separator comma
set datafile columnheaders
curve = results."/tide-curve.csv"
turns = results."/tide.csv"

told(row) = sprintf("%s %s  %.2f m", strcol("water"), strcol("time")[12:16], column("level_m"))
now_text = ""
stats turns using (now_text = strcol("water") eq "now" ? strcol("time") : now_text, 0) nooutput
datum = ""
stats curve using (datum = strcol("datum"), column("level_m")) nooutput
low = STATS_min
high = STATS_max
least = NaN
STATS_records = 0
stats curve using (column("least_m")) nooutput
if (STATS_records > 0) { least = STATS_min; low = least < low ? least : low }
margin = 0.18 * (high - low > 0.1 ? high - low : 0.1)

set terminal svg size 940,440 dynamic noenhanced font "sans-serif,13" background "white" name "tide"
set output out
set border 3 linecolor rgb "#707070"
set tics nomirror out
set grid ytics linecolor rgb "#E4E4E4"
unset key
set lmargin 9
set tmargin 4
set xrange [-12.2:12.2]
set yrange [low - margin:high + margin]
set xtics 3
set xlabel "hours from ".now_text
set ylabel "m above ".datum
set label 1 "The tide of the day" at screen 0.02, screen 0.955 left font "sans-serif,17"
set label 2 scenario at screen 0.02, screen 0.905 left textcolor rgb "#707070"
set arrow 1 from 0, graph 0 to 0, graph 1 nohead dashtype 3 linecolor rgb "#707070"
if (least == least) {
    set label 3 sprintf("least level for this rig %.2f m", least) at -12, least left offset 0, 0.6 textcolor rgb "#D55E00"
}
plot curve using (column("hours")):(column("level_m")) with lines linewidth 2.5 linecolor rgb "#0072B2", \
    curve using (column("hours")):(column("least_m")) with lines linewidth 1.5 dashtype 2 linecolor rgb "#D55E00", \
    turns using (column("hours")):(column("level_m")) with points pointtype 7 pointsize 0.7 linecolor rgb "#0072B2", \
    turns using (column("hours")):(strcol("water") eq "high" ? column("level_m") : NaN):(told(0)) \
        with labels left offset 0.8, 0.7 font "sans-serif,11", \
    turns using (column("hours")):(strcol("water") eq "high" ? NaN : column("level_m")):(told(0)) \
        with labels left offset 0.8, -0.8 font "sans-serif,11"
