# SPDX-License-Identifier: GPL-3.0-or-later
# Installed beside plots/ and scenarios/, found the same way, so that a user can change them.
nobase_dist_pkgdata_DATA += \
	tools/report/handover.xsl tools/report/teach.xsl tools/report/parts.xsl tools/report/run.xsl tools/report/drill.xsl \
	tools/report/reports.xsl tools/report/pictures.xsl \
	tools/report/page.css tools/report/page.js tools/report/player.css tools/report/player.js
