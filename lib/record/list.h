/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists that grow. */
#ifndef DD_RECORD_LIST_H
#define DD_RECORD_LIST_H
#include <stdlib.h>

/* The list with room for one more, which is twice as much when it is full and `first` to begin with; NULL: out of memory, the list
   stays as it was. */
static inline void *dd_list_room(void *list, int count, int *room, int first, size_t size)
{
    if (count < *room) return list;
    const int wanted = *room > 0 ? 2 * *room : first;
    void *larger = realloc(list, (size_t)wanted * size);
    if (larger != NULL) *room = wanted;
    return larger;
}
#endif
