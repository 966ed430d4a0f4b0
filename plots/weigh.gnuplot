# SPDX-License-Identifier: GPL-3.0-or-later
# Use of every rating and rule as bars.
#   gnuplot -c plots/weigh.gnuplot RESULTS [OUT.svg [TITLE]]
# Columns of weigh.csv: name, state, value, least_or_most, limit, unit, use_of_limit, outcome.
here = ARG0[1:strlen(ARG0) - strlen("weigh.gnuplot")]
results = ARGC >= 1 ? ARG1 : "."
out = ARGC >= 2 ? ARG2 : "weigh.svg"
scenario = ARGC >= 3 ? ARG3 : ""
checks = results."/weigh.csv"
picture_title = "Use of ratings and rules"
load here."bars.gnuplot"
