/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Memory that lives as long as one reading. */
#include "lib/case/node.h"
#include <stdlib.h>
#include <string.h>

typedef struct dd_arena_block {
    struct dd_arena_block *next;
    _Alignas(16) unsigned char bytes[];
} dd_arena_block;

void *dd_take(dd_reading *reading, size_t size)
{
    dd_arena_block *block = calloc(1, sizeof *block + size);
    if (block == NULL) {
        reading->out_of_memory = true;
        return NULL;
    }
    block->next = reading->blocks;
    reading->blocks = block;
    return block->bytes;
}

const char *dd_keep_text(dd_reading *reading, const char *text, size_t length)
{
    char *copy = dd_take(reading, length + 1);
    if (copy != NULL && length > 0) memcpy(copy, text, length);
    return copy;
}

void dd_reading_free(dd_reading *reading)
{
    while (reading->blocks != NULL) {
        dd_arena_block *next = reading->blocks->next;
        free(reading->blocks);
        reading->blocks = next;
    }
    free(reading->messages);
    free(reading->origins);
    reading->messages = NULL;
    reading->origins = NULL;
}
