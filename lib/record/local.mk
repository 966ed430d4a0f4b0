# SPDX-License-Identifier: GPL-3.0-or-later
libdrawdock_a_SOURCES += \
	lib/record/cautions.c lib/record/cautions.h lib/record/cautions.def \
	lib/record/csv.c lib/record/csv.h \
	lib/record/events.c lib/record/events.h lib/record/events.def \
	lib/record/json.c lib/record/fields.h lib/record/fields.def \
	lib/record/icalendar.c lib/record/icalendar.h \
	lib/record/json_values.c lib/record/json_values.h \
	lib/record/list.h \
	lib/record/recorder.c lib/record/recorder.h \
	lib/record/report.c lib/record/report_compare.c lib/record/report_fields.def lib/record/reporter.c lib/record/reporter.h \
	lib/record/text.c lib/record/text.h \
	lib/record/us_report.c lib/record/us_units.c lib/record/us_units.h
libdrawdock_a_SOURCES += lib/record/drawing.c lib/record/drawing.h
EXTRA_DIST += lib/record/drawing.def
