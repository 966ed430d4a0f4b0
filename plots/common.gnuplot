# SPDX-License-Identifier: GPL-3.0-or-later
# What the pictures over time or position share. A script sets `picture` (its own name), `results` (a result folder), `out`,
# `scenario`, `table`, the x axis and the number of panels, and loads this file; it then describes each panel and loads
# panel.gnuplot. Read here: events.csv (time_s, rig_x_m, name, mark) and limits.csv (channel, limit, name).

set encoding utf8
set datafile separator comma
set datafile columnheaders

# Colours that colour-blind readers tell apart; the same thing has the same colour in every picture.
black = "#000000"
orange = "#E69F00"
sky = "#56B4E9"
green = "#009E73"
blue = "#0072B2"
red = "#D55E00"
purple = "#CC79A7"
grey = "#707070"

array curve_column[16]
array curve_name[16]
array curve_colour[16]
array curve_dash[16]
array curve_end[16]
array curve_place[16]
array limit_channel[64]
array limit_value[64]
array limit_name[64]
array mark_x[16]
array mark_name[16]

load here."columns.gnuplot"

# Limits.
limit_count = 0
STATS_records = 0
stats results."/limits.csv" using (0) nooutput
limit_rows = exists("STATS_records") ? (STATS_records < 64 ? STATS_records : 64) : 0
do for [i = 1:limit_rows] {
    stats results."/limits.csv" every ::i-1::i-1 using \
        (limit_channel[i] = strcol("channel"), limit_value[i] = column("limit"), limit_name[i] = strcol("name"), 0) nooutput
}

# Events that have a number.
mark_count = 0
STATS_records = 0
stats results."/events.csv" using (0) nooutput
event_count = exists("STATS_records") ? STATS_records : 0
do for [i = 1:event_count] {
    number = NaN
    stats results."/events.csv" every ::i-1::i-1 using (number = column("mark"), \
        found_x = column(x_column), found_name = strcol("name"), 0) nooutput
    if (number == number && found_x == found_x && mark_count < 16) {
        mark_count = mark_count + 1
        mark_x[mark_count] = found_x
        mark_name[mark_count] = found_name
    }
}

stats table using x_column nooutput
x_first = STATS_min
x_last = STATS_max > STATS_min ? STATS_max : STATS_min + 1

# Numbers of events that lie close together share one label, as 6-9; labels that are still close stand in two rows.
array group_text[16]
array group_x[16]
array group_row[16]
label_count = 0
i = 1
while (i <= mark_count) {
    j = i
    while (j < mark_count && mark_x[j + 1] - mark_x[i] < 0.012 * (x_last - x_first)) { j = j + 1 }
    label_count = label_count + 1
    group_text[label_count] = i == j ? sprintf("%d", i) : sprintf("%d-%d", i, j)
    group_x[label_count] = 0.5 * (mark_x[i] + mark_x[j])
    group_row[label_count] = 1
    if (label_count > 1) {
        if (group_row[label_count - 1] == 1 && group_x[label_count] - group_x[label_count - 1] < 0.045 * (x_last - x_first)) {
            group_row[label_count] = 2
        }
    }
    i = j + 1
}

# Sizes in points of the picture, turned into shares of the screen.
key_rows = int((mark_count + 2) / 3)
panel_height = 210
panel_gap = 84
picture_width = 960
picture_height = 84 + panels * (panel_height + panel_gap) + (mark_count > 0 ? 24 + 20 * key_rows : 0)
set terminal svg size picture_width,picture_height dynamic noenhanced font "sans-serif,13" background "white" name picture
set output out
set multiplot
set label 1 picture_title at screen 0.02, screen 1 - 20.0 / picture_height left font "sans-serif,17"
set label 2 scenario at screen 0.02, screen 1 - 42.0 / picture_height left textcolor rgb grey
set lmargin at screen 0.09
set rmargin at screen 0.74
set border 3 linecolor rgb grey
set tics nomirror out textcolor rgb black
set grid ytics linecolor rgb "#E4E4E4" linetype 1
unset key
panel = 0
