# SPDX-License-Identifier: GPL-3.0-or-later
# A boat on its trailer: side view and plan with every roller and the load that it bears, the section over each support, and the
# hull's bending.
#   gnuplot -c plots/carried.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns, by their place: lines.csv 1 keel behind coupling, 2 keel above ground, 3-5 chine behind coupling, above ground, half
# breadth, 6-8 sheer the same; rollers.csv 2 section, 3 behind coupling, 4 to port, 5 above ground, 6 radius, 7 load in kN, 8 of its row;
# sections.csv 1 support, 2 number, 3 to port, 4 above ground; bending.csv 1 from transom, 2 moment in kN m.
here = ARG0[1:strlen(ARG0) - strlen("carried.gnuplot")]
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : "carried.svg"
scenario = ARGC >= 3 ? ARG3 : ""
set encoding utf8
set datafile separator comma
black = "#000000"
orange = "#E69F00"
blue = "#0072B2"
red = "#D55E00"
grey = "#707070"
light = "#E4E4E4"
lines = results."/lines.csv"
rollers = results."/rollers.csv"
sections = results."/sections.csv"
bending = results."/bending.csv"

stats lines using 1 skip 1 nooutput
bow = STATS_min
stern = STATS_max
stats lines using 7 skip 1 nooutput
sheer_top = STATS_max
stats rollers using 5 skip 1 nooutput
lowest = STATS_min
stats rollers using 8 skip 1 nooutput
row_most = STATS_max > 0 ? STATS_max : 1
stats rollers using 7 skip 1 nooutput
most = STATS_max > 0 ? STATS_max : 1
stats rollers using 3 skip 1 nooutput
trailer_first = STATS_min
trailer_last = STATS_max
stats sections using 2 skip 1 nooutput
section_count = int(STATS_max)
stats bending using 1 skip 1 nooutput
length = STATS_max - STATS_min
bow_end = STATS_max
x_least = (bow < trailer_first ? bow : trailer_first) - 0.3
x_most = (stern > trailer_last ? stern : trailer_last) + 0.3

section_rows = int((section_count + 2) / 3)
picture_width = 960
metre = 800.0 / (x_most - x_least)
bar = 120.0 / metre
side_height = (sheer_top - lowest + bar + 0.35) * metre
stats lines using 8 skip 1 nooutput
half = STATS_max + 0.15
plan_height = 2 * half * metre
section_width = 250.0
section_scale = section_width / (2 * half)
section_height = (sheer_top - lowest + 0.2) * section_scale
bend_height = 150
picture_height = 86 + side_height + 90 + plan_height + 90 + section_rows * (section_height + 70) + bend_height + 110
set terminal svg size picture_width,picture_height dynamic noenhanced font "sans-serif,13" background "white" name "carried"
set output out
set multiplot
set label 1 "How the supports carry the hull" at screen 0.02, screen 1 - 20.0 / picture_height left font "sans-serif,17"
set label 2 scenario at screen 0.02, screen 1 - 42.0 / picture_height left textcolor rgb grey
unset key
set border 3 linecolor rgb grey
set tics nomirror out textcolor rgb black
top = picture_height - 86
set lmargin at screen 90.0 / picture_width
set rmargin at screen (90.0 + 800) / picture_width

# Side view: loads as bars below the rollers.
set tmargin at screen top / picture_height
set bmargin at screen (top - side_height) / picture_height
set xrange [x_least:x_most]
set yrange [lowest - bar - 0.2:sheer_top + 0.15]
set xlabel "behind the coupling (m)" offset 0,0.4
set ylabel "above ground (m), trailer level"
set label 3 "From the side: what each row of rollers bears (kN), both sides together" at graph 0, screen (top + 12) / picture_height left
plot lines using 6:7 skip 1 with lines linecolor rgb black linewidth 1.5, \
     lines using 3:4 skip 1 with lines linecolor rgb grey linewidth 1 dashtype 2, \
     lines using 1:2 skip 1 with lines linecolor rgb black linewidth 2, \
     rollers using 3:5:6 skip 1 with circles fillcolor rgb orange fillstyle solid 0.6 border linecolor rgb black, \
     rollers using 3:(lowest - 0.1):(0):(-bar * 0.85 * column(8) / row_most) skip 1 with vectors nohead linecolor rgb blue linewidth 6, \
     rollers using 3:(lowest - 0.12 - bar * 0.85 * column(8) / row_most):(column(8) > 0.02 * row_most ? sprintf("%.2f", column(8)) : "") skip 1 with labels offset 0,-0.7 font "sans-serif,10"
unset label 1
unset label 2
top = top - side_height - 90

# Plan: half breadths of chine and sheer, rollers by their load.
set tmargin at screen top / picture_height
set bmargin at screen (top - plan_height) / picture_height
set yrange [-half:half]
set ylabel "to port (m)"
set label 3 "From above: rollers, larger where they bear more" at graph 0, screen (top + 12) / picture_height left
plot lines using 6:8 skip 1 with lines linecolor rgb black linewidth 1.5, lines using 6:(-column(8)) skip 1 with lines linecolor rgb black linewidth 1.5, \
     lines using 3:5 skip 1 with lines linecolor rgb grey dashtype 2, lines using 3:(-column(5)) skip 1 with lines linecolor rgb grey dashtype 2, \
     rollers using 3:4:(0.03 + 0.09 * column(7) / most) skip 1 with circles fillcolor rgb blue fillstyle solid 0.55 border linecolor rgb black
top = top - plan_height - 90

# Sections, looking forward from aft: port on the left.
do for [k = 1:section_count] {
    row = int((k - 1) / 3)
    col = (k - 1) % 3
    name = ""
    stats sections using (column(2) == k ? (name = strcol(1), 1) : NaN) skip 1 nooutput
    set lmargin at screen (60 + col * 300.0) / picture_width
    set rmargin at screen (60 + col * 300.0 + section_width) / picture_width
    set tmargin at screen (top - row * (section_height + 70)) / picture_height
    set bmargin at screen (top - row * (section_height + 70) - section_height) / picture_height
    set xrange [half:-half]
    set yrange [lowest - 0.1:sheer_top + 0.1]
    unset xlabel
    unset ylabel
    set label 3 name at graph 0, screen (top - row * (section_height + 70) + 12) / picture_height left
    plot sections using (column(2) == k ? column(3) : NaN):4 skip 1 with lines linecolor rgb black linewidth 2, \
         rollers using (column(2) == k ? column(4) : NaN):5:6 skip 1 with circles fillcolor rgb orange fillstyle solid 0.6 border linecolor rgb black
}
top = top - section_rows * (section_height + 70)

# Bending.
set lmargin at screen 90.0 / picture_width
set rmargin at screen (90.0 + 800) / picture_width
set tmargin at screen top / picture_height
set bmargin at screen (top - bend_height) / picture_height
set xrange [stern - x_least:stern - x_most]
set autoscale y
set label 3 "Bending moment of the hull, hogging up (kN m)" at graph 0, screen (top + 12) / picture_height left
set xlabel "from the transom (m)" offset 0,0.4
set ylabel "kN m"
set grid ytics linecolor rgb light linetype 1
plot bending using 1:2 skip 1 with lines linecolor rgb red linewidth 2, 0 with lines linecolor rgb grey
unset multiplot
unset output
