# SPDX-License-Identifier: GPL-3.0-or-later
# Use of what supports and hull may bear, as bars.
#   gnuplot -c plots/seat.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of seat.csv: name, state, value, least_or_most, limit, unit, use_of_limit, outcome.
here = ARG0[1:strlen(ARG0) - strlen("seat.gnuplot")]
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : "seat.svg"
scenario = ARGC >= 3 ? ARG3 : ""
checks = results."/seat.csv"
picture_title = "Use of what the supports and the hull may bear"
load here."bars.gnuplot"
