# SPDX-License-Identifier: GPL-3.0-or-later
# The tide over a day, night shaded, with a bar for each action while it can be done and the levels at which it works.
#   gnuplot -c plots/day.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of course.csv: hours_h, clock, level_m, sun (0 or 1, empty: not known), datum; of windows.csv: action, begins_h, ends_h; of usable.csv:
# action, from_m, to_m; of waters.csv: water, at, level_m.
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : "day.svg"
scenario = ARGC >= 3 ? ARG3 : ""
set encoding utf8
set datafile separator comma
set datafile columnheaders
array colour[8] = ["#0072B2", "#D55E00", "#009E73", "#CC79A7", "#E69F00", "#56B4E9", "#707070", "#000000"]

stats results."/course.csv" using "hours_h" nooutput
last = STATS_max
datum = ""
stats results."/course.csv" using (datum = strcol("datum"), column("level_m")) nooutput
low = STATS_min
high = STATS_max
date = ""
array moment[200]
array clock[200]
rows = 0
note(h, text) = (rows = rows + 1, moment[rows] = h, clock[rows] = text, 0)
stats results."/course.csv" using (note(column("hours_h"), strcol("clock")), 0) nooutput

# Actions in the order in which they come; each has a bar over the curve.
actions = 0
array action[8]
number_of(name) = (found = 0, sum [k = 1:actions] (action[k] eq name ? (found = k, 0) : 0), found)
learn(name) = (number_of(name) == 0 && actions < 8 ? (actions = actions + 1, action[actions] = name, 0) : 0)
stats results."/usable.csv" using (learn(strcol("action")), 0) nooutput
windows = 0
array begins[64]
array ends[64]
array whose[64]
clip(h) = h < 0 ? 0 : h > last ? last : h
take(name, b, e) = (learn(name), windows < 64 ? (windows = windows + 1, begins[windows] = clip(b), ends[windows] = clip(e), whose[windows] = number_of(name), 0) : 0)
stats results."/windows.csv" using (take(strcol("action"), column("begins_h"), column("ends_h")), 0) nooutput
lower = 1e30
stats results."/usable.csv" using (f = column("from_m"), f == f && f < lower ? (lower = f, 0) : 0, 0) nooutput
# A level that ends a band stands below the bars where it is near enough to the water, and is left out where it is not.
room = high - low > 0.3 ? high - low : 0.3
upper = high
near(f) = (f == f && f > upper && f < high + 0.5 * room ? (upper = f, 0) : 0)
stats results."/usable.csv" using (near(column("from_m")) + near(column("to_m")), 0) nooutput
bottom = (lower < low ? lower : low) - 0.08 * (high - low + 0.5)
bar = 0.09 * room
top = upper + 0.12 * room + actions * bar

set terminal svg size 960,520 dynamic noenhanced font "sans-serif,13" background "white" name "day"
set output out
set label 1 "When the ramp can be used" at screen 0.02, screen 0.962 left font "sans-serif,17"
set label 2 scenario at screen 0.02, screen 0.918 left textcolor rgb "#707070"
set label 3 "predicted tide; pressure and wind shift it; grey: the sun is down; bars and tint: can be done; dashed: levels that it takes" at screen 0.02, screen 0.025 left font "sans-serif,11"
set lmargin at screen 0.09
set rmargin at screen 0.97
set tmargin at screen 0.88
set bmargin at screen 0.17
set xrange [0:last]
set yrange [bottom:top]
set border 3 linecolor rgb "#707070"
set tics nomirror out
set grid ytics linecolor rgb "#E4E4E4" linetype 1
set ylabel "level (m above ".datum.")"
zone = ""
stats results."/windows.csv" using (t = strcol("from"), zone eq "" ? (zone = t[17:*], 0) : 0) nooutput
set xlabel "hour, local time".(zone eq "" ? "" : zone eq "Z" ? " (UTC)" : " (UTC ".zone.")")
set xtics ()
do for [i = 1:rows] {
    said = clock[i]
    where = moment[i]
    if (said[4:5] eq "00" && strstrt("00 02 04 06 08 10 12 14 16 18 20 22", said[1:2]) > 0) { hour_text = said[1:2]; set xtics add (hour_text where) }
}
unset key
do for [i = 1:windows] {
    base = top - whose[i] * bar
    set object 100 + i rectangle from begins[i], base + 0.12 * bar to ends[i], base + 0.88 * bar fillcolor rgb colour[whose[i]] fillstyle solid 0.85 noborder front
    set object 200 + i rectangle from begins[i], bottom to ends[i], base + 0.12 * bar fillcolor rgb colour[whose[i]] fillstyle transparent solid 0.07 noborder behind
}
do for [k = 1:actions] {
    set label 10 + k action[k] at 0.15, top - (k - 0.5) * bar left front font "sans-serif,12" textcolor rgb "#000000"
}
# Levels that end a band, those of several actions at one level as one line with all their names.
levels = 0
array level_at[16]
array level_word[16]
array level_names[16]
level_like(f, word) = (found = 0, sum [k = 1:levels] (abs(level_at[k] - f) < 0.005 && level_word[k] eq word ? (found = k, 0) : 0), found)
put_level(f, word, name) = (n = level_like(f, word), n > 0 ? (level_names[n] = level_names[n].", ".name, 0) : levels < 16 ? \
    (levels = levels + 1, level_at[levels] = f, level_word[levels] = word, level_names[levels] = name, 0) : 0)
take_level(f, word, name) = f == f && f <= upper && f >= bottom ? put_level(f, word, name) : 0
stats results."/usable.csv" using (take_level(column("from_m"), "from", strcol("action")) + take_level(column("to_m"), "up to", strcol("action")), 0) nooutput
# A name stands above its line, or below where another line runs close above.
is_close_below(k) = (found = 0, sum [j = 1:levels] (level_at[j] > level_at[k] && level_at[j] - level_at[k] < 0.07 * (top - bottom) ? (found = 1, 0) : 0), found)
do for [k = 1:levels] {
    hue = strstrt(level_names[k], ", ") > 0 ? "#000000" : colour[number_of(level_names[k])]
    dash = level_word[k] eq "from" ? 2 : 4
    set arrow 20 + k from 0, level_at[k] to last, level_at[k] nohead linewidth 1.2 dashtype dash linecolor rgb hue front
    set label 20 + k sprintf("%s: %s %.2f m", level_names[k], level_word[k], level_at[k]) at last, level_at[k] right offset -0.5, (is_close_below(k) ? -0.55 : 0.55) front font "sans-serif,11" textcolor rgb hue
}
plot results."/course.csv" using "hours_h":(strcol("sun") eq "0" ? top : NaN):(bottom) with filledcurves fillcolor rgb "#EDEDF2" fillstyle solid notitle, \
    "" using "hours_h":"level_m":(bottom) with filledcurves fillcolor rgb "#CFE6F5" fillstyle transparent solid 0.6 notitle, \
    "" using "hours_h":"level_m" with lines linewidth 2.5 linecolor rgb "#0072B2" notitle
unset output
