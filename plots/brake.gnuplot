# SPDX-License-Identifier: GPL-3.0-or-later
# The stop with every brake system, holding on a slope, temperatures on the descent (brake).
#   gnuplot -c plots/brake.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of course_dry.csv and course_wet.csv: time_s and for each SYSTEM speed_SYSTEM_km/h, distance_SYSTEM_m, push_SYSTEM_N, trailer_slip_SYSTEM (of a
# report in US units mph, ft and lbf); of holding_chart.csv: slope_%, front_wheels, rear_wheels, all_wheels, rear_wheels_lifted, all_wheels_chocked;
# of descent_course.csv: way_m, vehicle_SYSTEM_degC, trailer_SYSTEM_degC.
set encoding utf8
set datafile separator comma
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : "brake.svg"
scenario = ARGC >= 3 ? ARG3 : ""
dry = results."/course_dry.csv"
wet = results."/course_wet.csv"
names = "none overrun electric electric-hydraulic"
colours = "#707070 #D55E00 #0072B2 #009E73"
# Columns by number: 1 time, then six for each system: speed, distance, push, slips of front, rear and trailer.
speed(i) = 6 * (i - 1) + 2
distance(i) = 6 * (i - 1) + 3
push(i) = 6 * (i - 1) + 4
slip(i) = 6 * (i - 1) + 7
unit_of(file, n) = system(sprintf("head -n 1 %s | cut -d, -f%d | sed 's/.*_//'", file, n))
metric = strstrt(unit_of(dry, 2), "mph") > 0 ? 0 : 1
speed_unit = metric ? "km/h" : "mph"
length_scale = 1
length_unit = metric ? "m" : "ft"
force_unit = metric ? "kN" : "lbf"
force_scale = metric ? 1e-3 : 1

set terminal svg size 1000,1500 dynamic noenhanced font "sans-serif,13" background "white" name "brake"
set output out
set multiplot
set label 1 "Stopping, holding and a long descent" at screen 0.02, screen 0.988 left font "sans-serif,17"
set label 2 scenario at screen 0.02, screen 0.974 left textcolor rgb "#707070"
set border 3 linecolor rgb "#707070"
set tics nomirror out textcolor rgb "#000000"
set grid ytics linecolor rgb "#E4E4E4" linetype 1
set key outside right center width -2 samplen 2.5
set size 1,0.175
do for [p = 1:5] {
    set origin 0, 0.772 - 0.192 * (p - 1)
    if (p == 2) { unset label 1; unset label 2 }
    set label 3 (p == 1 ? "Speed against distance; solid on the dry, dashed on the wet road" : p == 2 ? "Force of the trailer on the ball, forward, dry road" : \
               p == 3 ? "Slip of the trailer's wheels, wet road (1: they stand)" : p == 4 ? "Friction needed to hold on a slope: above a curve it holds, below it slides" : \
               "Brakes on the long descent: solid the vehicle's front, dashed the trailer's") at graph 0, graph 1.12 left font "sans-serif,14"
    set xrange [0:*]
    set yrange [0:*]
    if (p == 1) {
        set xlabel "distance from where the brakes came on (".length_unit.")" offset 0, 0.5
        set ylabel speed_unit
        plot for [i = 1:4] dry skip 1 using (column(distance(i)) * length_scale):(column(speed(i))) with lines linewidth 2 linecolor rgb word(colours, i) title word(names, i), \
             for [i = 1:4] wet skip 1 using (column(distance(i)) * length_scale):(column(speed(i))) with lines linewidth 1.5 dashtype 2 linecolor rgb word(colours, i) notitle
    }
    if (p == 2) {
        set xlabel "time since the brakes came on (s)"
        set ylabel force_unit
        set yrange [*:*]
        plot for [i = 1:4] dry skip 1 using 1:(column(push(i)) * force_scale) with lines linewidth 2 linecolor rgb word(colours, i) title word(names, i)
    }
    if (p == 3) {
        set ylabel "slip"
        set yrange [0:1.05]
        plot for [i = 1:4] wet skip 1 using 1:(column(slip(i))) with lines linewidth 2 linecolor rgb word(colours, i) title word(names, i)
    }
    if (p == 4) {
        set xlabel "slope (%)"
        set ylabel "friction"
        set yrange [0:1]
        plot results."/holding_chart.csv" skip 1 using 1:2 with lines linewidth 2 linecolor rgb "#0072B2" title "front wheels", \
             "" skip 1 using 1:3 with lines linewidth 2 linecolor rgb "#D55E00" title "rear wheels", \
             "" skip 1 using 1:5 with lines linewidth 2 dashtype 2 linecolor rgb "#D55E00" title "rear, coupling lifted", \
             "" skip 1 using 1:4 with lines linewidth 2 linecolor rgb "#009E73" title "all wheels", \
             "" skip 1 using 1:6 with lines linewidth 2 dashtype 2 linecolor rgb "#009E73" title "all, trailer chocked"
    }
    if (p == 5) {
        set xlabel "way down (".length_unit.")"
        set ylabel metric ? "deg C" : "deg F"
        plot results."/descent_course.csv" skip 1 using 1:2 with lines linewidth 2 linecolor rgb word(colours, 1) title word(names, 1), \
             for [i = 2:4] "" skip 1 using 1:(column(2 * i - 1)) with lines linewidth 2 linecolor rgb word(colours, i) title word(names, i), \
             for [i = 2:4] "" skip 1 using 1:(column(2 * i)) with lines linewidth 1.5 dashtype 2 linecolor rgb word(colours, i) notitle
    }
}
unset multiplot
unset output
