/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Metric figures and sentences in US customary units: the one place where a report, a run's verdict and a page are turned. What is
   finer than the metric figure is not told: lb for kg, in to a hundredth for mm, ft as far as m; lbf, psi and lbf ft to a digit less. */
#ifndef DD_RECORD_US_UNITS_H
#define DD_RECORD_US_UNITS_H
#include <drawdock/report.h>
#include <drawdock/result.h>
#include <stdbool.h>

/* A value in a metric unit (a spelling of units.def, "kJ" or "N m/rad"), its US unit in *unit, *decimals (may be NULL) of the metric one
   adapted; below 0: tens, hundreds. largest: size of the largest of the figures that share the unit, since metres become inches up to 1 m
   and feet beyond, in a sentence by its largest. A unit that US readers use as well ("%", "s", "deg") stays, *unit is then `metric` itself. */
double dd_us_value(const char *metric, double largest, double value, const char **unit, int *decimals);

/* Size of the largest figure of the table in a unit: figures in metres share one US unit. */
double dd_us_largest(const dd_report_table *table, const char *unit);

/* The number with so many decimals; below 0 rounded to tens, hundreds, ..., but to no fewer than three digits. No "-0". */
enum { DD_US_NUMBER = 64 };
char *dd_us_number(double value, int decimals, char text[DD_US_NUMBER]);

/* The sentence with its quantities in US units: "456 mm", "11.0 to 16.3 m", "4.2, 5.0, 6.0 m", and in brackets behind a quantity
   "(342 to 592)". What stands in report->quoted, where a report is given, stays as it is. malloc'ed; NULL: out of memory. */
char *dd_us_sentence(const char *text, const dd_report *report);

/* Turns a metric report or result, figures and sentences, in place; a sentence that gets too long for its room is cut.
   false: out of memory, and some of it is still metric. */
bool dd_report_to_us(dd_report *report);
bool dd_result_to_us(dd_result *result);
#endif
