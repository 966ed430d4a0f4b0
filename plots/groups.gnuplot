# SPDX-License-Identifier: GPL-3.0-or-later
# Sorts the columns `support NAME_N` of `table` into groups: NAME without its side (port, starboard) and what follows.
set datafile separator comma
set datafile columnheaders
array support_name[32]
array support_label[32]
array support_group[32]
array group_name[32]
support_count = 0
group_count = 0
stats table using x_column nooutput
group_columns = STATS_columns
do for [i = 1:group_columns] {
    found = ""
    stats table every ::0::0 using (found = columnhead(i), 0) nooutput
    if (strlen(found) > 10 && found[1:8] eq "support " && support_count < 32) {
        support_count = support_count + 1
        full = found[9:strlen(found) - 2]
        cut = strstrt(full, " port")
        cut = cut > 0 ? cut : strstrt(full, " starboard")
        group = cut > 1 ? full[1:cut - 1] : full
        support_name[support_count] = full
        support_label[support_count] = cut > 1 ? full[cut + 1:*] : full
        support_group[support_count] = 0
        do for [g = 1:group_count] { if (group_name[g] eq group) { support_group[support_count] = g } }
        if (support_group[support_count] == 0) {
            group_count = group_count + 1
            group_name[group_count] = group
            support_group[support_count] = group_count
        }
    }
}
