# SPDX-License-Identifier: GPL-3.0-or-later
# Bars of what each limit is used, from the checks of a report. The script that loads it sets `checks`, `out`, `scenario`,
# `picture_title`. A name ends at its first comma, which gnuplot takes for the field's end even in quotes.
set encoding utf8
set datafile separator comma
set datafile columnheaders
black = "#000000"
orange = "#E69F00"
blue = "#0072B2"
red = "#D55E00"
grey = "#707070"

STATS_records = 0
stats checks using (0) nooutput
rows = exists("STATS_records") ? STATS_records : 0
shown = 0
array bar_share[80]
array bar_name[80]
array bar_text[80]
array bar_colour[80]
do for [i = 1:rows] {
    share = NaN; value = NaN; limit = NaN; text = ""; name = ""; outcome = ""; unit = ""; side = ""; state = ""
    stats checks every ::i-1::i-1 using (share = column("use_of_limit"), value = column("value"), limit = column("limit"), \
        name = strcol("name"), outcome = strcol("outcome"), unit = strcol("unit"), side = strcol("least_or_most"), state = strcol("state"), 0) nooutput
    # What is met or not has no use: not met it is a full bar.
    if (outcome eq "broken" && share != share) { share = 1.5 }
    # A limit of nothing has no use: it stands there only where it is not kept.
    if ((share == share) && outcome ne "not checked" && (share > 0 || outcome ne "good") && shown < 80) {
        shown = shown + 1
        bar_share[shown] = share > 1.5 ? 1.5 : share < 0 ? 0 : share
        bar_name[shown] = strlen(name) > 52 ? name[1:49]."..." : name
        format = unit eq "" ? "%.0f" : abs(limit) < 20 ? "%.2f" : "%.0f"
        bar_text[shown] = sprintf(format, value).", ".side." ".sprintf(format, limit)." ".unit.(outcome eq "broken" ? "  BROKEN" : outcome eq "caution" ? "  caution" : "").(state ne "" && state ne "as given" ? "  (".state.")" : "")
        bar_colour[shown] = outcome eq "broken" ? red : outcome eq "caution" ? orange : blue
    }
}
if (shown == 0) { shown = 1; bar_share[1] = 0; bar_name[1] = "nothing was checked"; bar_text[1] = ""; bar_colour[1] = grey }

row_height = 24
picture_width = 1080
picture_height = 136 + shown * row_height
set terminal svg size picture_width,picture_height dynamic noenhanced font "sans-serif,13" background "white" name "weigh"
set output out
set label 1 picture_title at screen 0.02, screen 1 - 20.0 / picture_height left font "sans-serif,17"
set label 2 scenario at screen 0.02, screen 1 - 42.0 / picture_height left textcolor rgb grey
set lmargin at screen 0.33
set rmargin at screen 0.64
set tmargin at screen 1 - 62.0 / picture_height
set bmargin at screen 66.0 / picture_height
set border 1 linecolor rgb grey
set xrange [0:150]
set yrange [shown + 0.6:0.4]
set xtics 0,25,150 nomirror out textcolor rgb black
unset ytics
set xlabel "use of the limit (%), 100 % is at the limit"
unset key
set arrow 1 from 100, graph 0 to 100, graph 1 nohead linecolor rgb black linewidth 1.5 dashtype 2 front
do for [i = 1:shown] {
    set object 100 + i rectangle from 0, i - 0.33 to 100 * bar_share[i], i + 0.33 fillcolor rgb bar_colour[i] fillstyle solid noborder
    set label 100 + i bar_name[i] at graph -0.02, first i right
    set label 300 + i bar_text[i] at graph 1.02, first i left textcolor rgb (bar_colour[i] eq red ? red : black)
}
plot NaN notitle
unset output
