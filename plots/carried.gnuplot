# SPDX-License-Identifier: GPL-3.0-or-later
# A boat on its trailer: side view and plan with every roller and the load that it bears, strakes, a dimensioned section at each support,
# and the hull's bending.
#   gnuplot -c plots/carried.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns, by their place: lines.csv 1 keel behind coupling, 2 keel above ground, 3-5 chine behind coupling, above ground, half
# breadth, 6-8 sheer the same; rollers.csv 3 behind coupling, 5 above ground, 6 radius; faces.csv 2 section,
# 3-4 front and rear behind coupling, 5-6 inner and outer edge to port, 7 half breadth, 8 above ground, 9 load in kN, 10 angle to the
# panel, 11 load of its row; strakes.csv 2 number, 3 behind coupling, 4-5 half breadths, 6 above ground; sections.csv 1 support, 2 number, 3 side,
# 4 half breadth, 5 above ground; section-parts.csv 1 section, 2 piece, 3 kind, 4-5 the same; distances.csv 1 section, 2 level, 3-4 from, to,
# 5-6 their heights, 7 mm, 8 asked; bending.csv 1 from transom, 2 moment in kN m.
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
faces = results."/faces.csv"
parts = results."/section-parts.csv"
distances = results."/distances.csv"
strakes = results."/strakes.csv"
has_strakes = system("test -s '".strakes."' && echo 1 || echo 0") + 0
sky = "#56B4E9"
green = "#009E73"

stats lines using 1 skip 1 nooutput
bow = STATS_min
stern = STATS_max
stats lines using 7 skip 1 nooutput
sheer_top = STATS_max
stats rollers using 5 skip 1 nooutput
lowest = STATS_min
stats lines using 2 skip 1 nooutput
lowest = STATS_min < lowest ? STATS_min : lowest
stats faces using 11 skip 1 nooutput
row_most = STATS_max > 0 ? STATS_max : 1
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

strake_count = 0
if (has_strakes) {
    stats strakes using 2 skip 1 nooutput
    strake_count = int(STATS_max)
}
section_rows = int((section_count + 1) / 2)
picture_width = 960
metre = 800.0 / (x_most - x_least)
bar = 120.0 / metre
side_height = (sheer_top - lowest + bar + 0.35) * metre
stats lines using 8 skip 1 nooutput
half = STATS_max + 0.15
plan_height = 2 * half * metre
# Sections: all at one scale, from 0.15 m beyond the keel to the widest chine.
section_width = 410.0
stats sections using 4 skip 1 nooutput
section_most = STATS_max + 0.08
section_least = -0.15
section_scale = section_width / (section_most - section_least)
text_height = 17.0 / section_scale
array section_low[section_count]
array section_high[section_count]
array section_floor[section_count]
section_span = 0
do for [k = 1:section_count] {
    stats sections using (column(2) == k ? column(5) : NaN) skip 1 nooutput
    section_high[k] = STATS_max + 0.5 * text_height
    section_low[k] = STATS_min
    stats parts using (column(1) == k ? column(5) : NaN) skip 1 nooutput
    section_low[k] = STATS_min < section_low[k] ? STATS_min : section_low[k]
    levels = 0
    stats distances using (column(1) == k ? (levels = column(2) + 1 > levels ? column(2) + 1 : levels, 1) : NaN) skip 1 nooutput
    section_floor[k] = section_low[k] - (levels * 2.2 + 0.6) * text_height
    span = section_high[k] - section_floor[k]
    section_span = span > section_span ? span : section_span
}
section_height = section_span * section_scale
bend_height = 150
picture_height = 86 + side_height + 90 + plan_height + 90 + section_rows * (section_height + 60) + 20 + bend_height + 110
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
set label 3 "From the side: what each row of rollers, or pair of skids, bears (kN)" at graph 0, screen (top + 12) / picture_height left
plot lines using 6:7 skip 1 with lines linecolor rgb black linewidth 1.5, \
     lines using 3:4 skip 1 with lines linecolor rgb grey linewidth 1 dashtype 2, \
     lines using 1:2 skip 1 with lines linecolor rgb black linewidth 2, \
     for [n = 1:strake_count] strakes using (column(2) == n ? column(3) : NaN):6 skip 1 with lines linecolor rgb green linewidth 1.5, \
     rollers using 3:5:6 skip 1 with circles fillcolor rgb orange fillstyle solid 0.6 border linecolor rgb black, \
     faces using (column(4) - column(3) > 0.3 ? column(3) : NaN):8:(column(4) - column(3)):(0) skip 1 with vectors nohead linecolor rgb black linewidth 6, \
     faces using (column(4) - column(3) > 0.3 ? column(3) : NaN):8:(column(4) - column(3)):(0) skip 1 with vectors nohead linecolor rgb orange linewidth 4, \
     faces using (0.5 * (column(3) + column(4))):(lowest - 0.1):(0):(-bar * 0.85 * column(11) / row_most) skip 1 with vectors nohead linecolor rgb blue linewidth 6, \
     faces using (0.5 * (column(3) + column(4))):(lowest - 0.12 - bar * 0.85 * column(11) / row_most):(column(11) > 0.01 * row_most ? sprintf("%.2f", column(11)) : "") skip 1 with labels offset 0,-0.7 font "sans-serif,10"
unset label 1
unset label 2
top = top - side_height - 90

# Plan: half breadths of chine and sheer, strakes, rollers and skids at their size.
set tmargin at screen top / picture_height
set bmargin at screen (top - plan_height) / picture_height
set yrange [-half:half]
set ylabel "to port (m)"
set label 3 "From above: rollers and skids (filled where they bear at home), strakes green, chine dashed" at graph 0, screen (top + 12) / picture_height left
plot lines using 6:8 skip 1 with lines linecolor rgb black linewidth 1.5, lines using 6:(-column(8)) skip 1 with lines linecolor rgb black linewidth 1.5, \
     lines using 3:5 skip 1 with lines linecolor rgb grey dashtype 2, lines using 3:(-column(5)) skip 1 with lines linecolor rgb grey dashtype 2, \
     for [n = 1:2 * strake_count] strakes using (column(2) == int((n + 1) / 2) ? column(3) : NaN):((n % 2 ? 1 : -1) * column(4)):((n % 2 ? 1 : -1) * column(5)) skip 1 \
         with filledcurves linecolor rgb green fillstyle solid 0.5 noborder, \
     faces using (0.5 * (column(3) + column(4))):(0.5 * (column(5) + column(6))):3:4:5:6 skip 1 with boxxyerror linecolor rgb black fillcolor rgb "white" fillstyle solid 1 border linecolor rgb black, \
     faces using (column(9) > 0.005 ? 0.5 * (column(3) + column(4)) : NaN):(0.5 * (column(5) + column(6))):3:4:5:6 skip 1 with boxxyerror linecolor rgb black fillcolor rgb orange fillstyle solid 0.8 border linecolor rgb black
top = top - plan_height - 90

# Sections, looking forward from aft; a starboard one mirrored. Distances stand below, thin lines lead to what they begin and end at.
do for [k = 1:section_count] {
    row = int((k - 1) / 2)
    col = (k - 1) % 2
    name = ""
    side = ""
    behind = 0
    stats sections using (column(2) == k ? (name = strcol(1), side = strcol(3), behind = column(6), 1) : NaN) skip 1 nooutput
    piece_count = 0
    stats parts using (column(1) == k ? (piece_count = column(2) > piece_count ? column(2) : piece_count, 1) : NaN) skip 1 nooutput
    set lmargin at screen (50 + col * 450.0) / picture_width
    set rmargin at screen (50 + col * 450.0 + section_width) / picture_width
    set tmargin at screen (top - row * (section_height + 60)) / picture_height
    set bmargin at screen (top - row * (section_height + 60) - section_height) / picture_height
    set xrange [section_most:section_least]
    set yrange [section_high[k] - section_span:section_high[k]]
    unset xlabel
    unset ylabel
    unset border
    unset xtics
    unset ytics
    level_y(n) = section_low[k] - (1.3 + 2.2 * n) * text_height
    set label 3 sprintf("%s: %s side, %.2f m behind the coupling (mm)", name, side, behind) at graph 0, screen (top - row * (section_height + 60) + 14) / picture_height left
    set arrow 1 from 0, level_y(0) - 0.5 * text_height to 0, section_high[k] nohead linecolor rgb grey dashtype 4
    plot distances using (column(1) == k ? column(3) : NaN):5:(0):(level_y(column(2)) - 0.2 * text_height - column(5)) skip 1 with vectors nohead linecolor rgb "#B0B0B0", \
         distances using (column(1) == k ? column(4) : NaN):6:(0):(level_y(column(2)) - 0.2 * text_height - column(6)) skip 1 with vectors nohead linecolor rgb "#B0B0B0", \
         for [p = 1:piece_count] parts using (column(1) == k && column(2) == p && column(3) == 2 ? column(4) : NaN):5 skip 1 with filledcurves closed fillcolor rgb orange fillstyle solid 0.8 border linecolor rgb black, \
         for [p = 1:piece_count] parts using (column(1) == k && column(2) == p ? column(4) : NaN):5 skip 1 with lines linecolor rgb black, \
         for [p = 1:piece_count] parts using (column(1) == k && column(2) == p && column(3) == 1 ? column(4) : NaN):5 skip 1 with filledcurves closed fillcolor rgb green fillstyle solid 0.6 border linecolor rgb black, \
         sections using (column(2) == k ? column(4) : NaN):5 skip 1 with lines linecolor rgb black linewidth 2.5, \
         distances using (column(1) == k ? column(3) : NaN):(level_y(column(2))):(column(4) - column(3)):(0) skip 1 with vectors heads size screen 0.004, 25 filled linecolor rgb black, \
         distances using (column(1) == k ? 0.5 * (column(3) + column(4)) : NaN):(level_y(column(2))):(column(7) < column(8) ? sprintf("%.0f", column(7)) : "") skip 1 with labels offset 0, -0.7 font "sans-serif,12" textcolor rgb red, \
         distances using (column(1) == k ? 0.5 * (column(3) + column(4)) : NaN):(level_y(column(2))):(column(7) < column(8) ? "" : sprintf("%.0f", column(7))) skip 1 with labels offset 0, -0.7 font "sans-serif,12", \
         faces using (column(2) == k ? column(7) : NaN):(column(8) + (column(10) == column(10) ? 1.2 : 3.4) * text_height):(sprintf("%.2f kN", column(9))) skip 1 with labels center font "sans-serif,12" textcolor rgb blue, \
         faces using (column(2) == k ? column(7) : NaN):(column(8) + 2.2 * text_height):(column(10) == column(10) ? sprintf("%.1f°", abs(column(10)) < 0.05 ? 0 : column(10)) : "") skip 1 with labels center font "sans-serif,11" textcolor rgb grey
    unset arrow 1
}
set label 4 "Loads at home in blue; grey: angle of the axle to the panel, > 0 where its outer end comes nearer; red: less clearance than asked" at screen 50.0 / picture_width, screen (top - section_rows * (section_height + 60) + 22) / picture_height left font "sans-serif,11"
set border 3 linecolor rgb grey
set xtics nomirror out textcolor rgb black
set ytics nomirror out textcolor rgb black
top = top - section_rows * (section_height + 60) - 20

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
