# SPDX-License-Identifier: GPL-3.0-or-later
# Installed beside plots/ and scenarios/, found the same way, so that a user can change them.
nobase_dist_pkgdata_DATA += \
	tools/report/handover.xsl tools/report/teach.xsl tools/report/parts.xsl tools/report/run.xsl tools/report/drill.xsl \
	tools/report/reports.xsl tools/report/pictures.xsl \
	tools/report/page.css tools/report/page.js tools/report/player.css tools/report/player.js

# `make html`: the reference in html/, from the public headers, the guides and the library's own lists.
EXTRA_DIST += tools/Doxyfile tools/report/declarators.py tools/report/guide.md tools/report/outfitter.md tools/report/instructor.md \
	tools/report/ramp-owner.md tools/report/library.md tools/report/physics.md
noinst_PROGRAMS += tools/report/reference
tools_report_reference_LDADD = $(library)
html-local: tools/report/reference
	rm -rf html reference-pages && mkdir reference-pages
	for page in keys physics errors; do ./tools/report/reference $$page >reference-pages/$$page.md || exit 1; done
	pages=`pwd` && cd $(srcdir) && { cat tools/Doxyfile && echo "PROJECT_NUMBER = $(VERSION)" && \
	    echo "INPUT += $$pages/reference-pages" && echo "OUTPUT_DIRECTORY = $$pages"; } | doxygen -
clean-local: clean-reference
.PHONY: clean-reference
clean-reference:
	rm -rf html reference-pages
