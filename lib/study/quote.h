/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What rule sets and scenarios say in words of their own. */
#ifndef DD_STUDY_QUOTE_H
#define DD_STUDY_QUOTE_H
#include "lib/record/reporter.h"
#include <drawdock/case.h>

/* Figures in names and words of the scenario's rule set, states of loading, things aboard, rigs of a fleet and changed ramps stay as they
   are written, in whatever units the report is. */
void dd_quote(dd_reporter *reporter, const dd_case *scenario);
#endif
