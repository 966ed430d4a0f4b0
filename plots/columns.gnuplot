# SPDX-License-Identifier: GPL-3.0-or-later
# Which columns `table` has: has(name); moves(name): the column is there and is not nought throughout. A script that counts its
# panels by them loads this file first.
set encoding utf8
set datafile separator comma
set datafile columnheaders
header = "|"
stats table using x_column nooutput
column_count = STATS_columns
do for [i = 1:column_count] { stats table every ::0::0 using (header = header.columnhead(i)."|", 0) nooutput }
has(name) = strstrt(header, "|".name."|") > 0
moving = "|"
do for [word_of_column in "thrust_N push_force_N hand_line_N chain_tension_N ties_tension_N rope_tension_N guide_load_N jockey_load_N \
        tilt_deg handle_force_N hull_on_ground_N hull_on_frame_N bracket_load_N frame_on_ground_N wheel_slip wind_N"] {
    if (has(word_of_column)) {
        STATS_records = 0
        stats table using word_of_column nooutput
        if (STATS_records > 0 && (abs(STATS_max) > 1e-9 || abs(STATS_min) > 1e-9)) { moving = moving.word_of_column."|" }
    }
}
moves(name) = strstrt(moving, "|".name."|") > 0
