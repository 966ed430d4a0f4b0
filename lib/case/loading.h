/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Named states of loading: what is aboard in each. */
#ifndef DD_CASE_LOADING_H
#define DD_CASE_LOADING_H
#include "lib/base/key.h"
#include <drawdock/case.h>

extern const dd_key dd_loading_keys[]; /* of dd_loading */

/* What is aboard in a state: the boat's items (none, if it begins empty), less those left out, with the changes; *count of them.
   The water in the bilge is the boat's and not in the list. Error: DD_ERROR_ARGUMENT, place loadings[name]: an item left out that is
   not there, one that is changed into nonsense, too many. */
dd_status dd_loading_items(const dd_hull_parameters *boat, const dd_loading *loading, dd_item items[DD_ABOARD], int *count,
                           dd_error *error);
#endif
