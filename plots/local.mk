# SPDX-License-Identifier: GPL-3.0-or-later
nobase_dist_pkgdata_DATA += \
	plots/alignment.gnuplot \
	plots/bars.gnuplot \
	plots/brake.gnuplot \
	plots/carried.gnuplot \
	plots/columns.gnuplot \
	plots/common.gnuplot \
	plots/curve.gnuplot plots/day.gnuplot plots/depth.gnuplot plots/fleet.gnuplot \
	plots/groups.gnuplot \
	plots/panel.gnuplot plots/reach.gnuplot \
	plots/seat.gnuplot \
	plots/side.gnuplot \
	plots/strap.gnuplot \
	plots/supports.gnuplot \
	plots/tide.gnuplot \
	plots/weigh.gnuplot \
	plots/wheels.gnuplot \
	plots/year.gnuplot
EXTRA_DIST += plots/example-side.svg
