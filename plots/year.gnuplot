# SPDX-License-Identifier: GPL-3.0-or-later
# Calendar of a year: usable hours of each day for each action, by daylight where the place is given.
#   gnuplot -c plots/year.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of days.csv: date, weekday, month, day, length_h, range_m, daylight_h, then for each action its hours, those by daylight, what is sure
# of its hours whatever the set-up, and that by daylight.
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : "year.svg"
scenario = ARGC >= 3 ? ARG3 : ""
table = results."/days.csv"
set encoding utf8
set datafile separator comma

set datafile columnheaders
stats table using "day" nooutput
columns = STATS_columns
array head[columns]
do for [c = 1:columns] { stats table every ::0::0 using (head[c] = columnhead(c), 0) nooutput }
actions = (columns - 7) / 4
lit = 0
sure = 0
first = ""
stats table using (strlen(strcol(10)) > 0 ? (sure = 1, 0) : 0) nooutput
stats table using (strlen(strcol("daylight_h")) > 0 ? (lit = 1, 0) : 0, first eq "" ? (first = strcol("date"), 0) : 0, 0) nooutput
name_of(c) = head[c][1:strlen(head[c]) - 2]

height = 320
gap = 66
picture_height = 84 + actions * (height + gap) + 40
set terminal svg size 960,picture_height dynamic noenhanced font "sans-serif,13" background "white" name "year"
set output out
set multiplot
set label 1 "Usable hours of each day of ".first[1:4].(lit ? ", between sunrise and sunset" : "") at screen 0.02, screen 1 - 20.0 / picture_height left font "sans-serif,17"
set label 2 scenario at screen 0.02, screen 1 - 42.0 / picture_height left textcolor rgb "#707070"
set label 3 "predicted tide; pressure and wind shift it; a number is the hours of that day".(sure ? ", beneath it those that are sure with the water off as far as it may be" : "") at screen 0.02, screen 14.0 / picture_height left font "sans-serif,11"
set lmargin at screen 0.07
set rmargin at screen 0.87
set xrange [0.5:31.5]
set yrange [12.5:0.5]
set xtics 1, 1, 31 out nomirror scale 0.3 font "sans-serif,11"
set ytics ("Jan" 1, "Feb" 2, "Mar" 3, "Apr" 4, "May" 5, "Jun" 6, "Jul" 7, "Aug" 8, "Sep" 9, "Oct" 10, "Nov" 11, "Dec" 12) out nomirror scale 0.3
set border 3 linecolor rgb "#707070"
set cbrange [0:(lit ? 16 : 24)]
set cblabel "hours"
set palette defined (0 "#B2182B", 0.15 "#EF8A62", 0.35 "#FDDBC7", 0.5 "#F7F7F7", 0.65 "#D1E5F0", 0.85 "#67A9CF", 1 "#2166AC")
unset key
do for [a = 1:actions] {
    column_used = 7 + 4 * (a - 1) + (lit ? 2 : 1)
    set tmargin at screen 1 - (84.0 + (a - 1) * (height + gap)) / picture_height
    set bmargin at screen 1 - (84.0 + (a - 1) * (height + gap) + height) / picture_height
    set label 10 name_of(7 + 4 * (a - 1) + 1) at graph 0, graph 1 left offset 0, 0.7
    plot table using "day":"month":(0.5):(0.5):(column(column_used)) with boxxyerror fillcolor palette fillstyle solid noborder notitle, \
        "" using "day":"month":(sprintf("%.0f", column(column_used))) with labels offset 0, (sure ? 0.35 : 0) font "sans-serif,9" textcolor rgb "#303030" notitle, \
        "" using "day":"month":(sure ? sprintf("%.0f", column(column_used + 2)) : "") with labels offset 0, -0.35 font "sans-serif,7" textcolor rgb "#606060" notitle
    do for [i = 1:3] { unset label i }
}
unset multiplot
unset output
