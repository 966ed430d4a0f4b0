# SPDX-License-Identifier: GPL-3.0-or-later
dist_check_SCRIPTS += tests/browser/pages.sh
EXTRA_DIST += tests/browser/check.js tests/browser/package.json tests/browser/package-lock.json
.PHONY: clean-browser
clean-browser:
	rm -rf tests/browser/modules
clean-local: clean-browser
