/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One row of the scenario's key table. Rows stand beside the struct whose fields they fill; lib/case
   concatenates them and the reader, the messages, the reference page and the JSON Schema follow. */
#ifndef DD_BASE_KEY_H
#define DD_BASE_KEY_H
#include <stdbool.h>
#include <stddef.h>
#include <math.h>

typedef enum dd_dimension {
    DD_NUMBER, /* a bare number: no unit */
    DD_RATIO,  /* a bare number, or % */
    DD_LENGTH, DD_MASS, DD_TIME, DD_SPEED, DD_ACCELERATION, DD_FORCE, DD_ANGLE /* deg, rad */,
    DD_SLOPE /* angle in rad inside; 1:8, 12.5 %, 7 deg outside */,
    DD_ANGULAR_SPEED, DD_DENSITY, DD_VOLUME, DD_POWER, DD_PRESSURE, DD_TEMPERATURE /* K inside */,
    DD_STIFFNESS, DD_DAMPING, DD_MOMENT, DD_AREA, DD_INERTIA, DD_BENDING_STIFFNESS /* N m2 */, DD_ROLL_DAMPING /* N m s/rad */, DD_PER_LENGTH, DD_VISCOSITY,
    DD_DATE, /* s UTC since 1970; 2026-07-14 08:30 +10:00 outside */
    DD_DIMENSION_COUNT
} dd_dimension;

typedef enum dd_key_type {
    DD_KEY_QUANTITY,   /* double at offset; NaN = not given */
    DD_KEY_COUNT,      /* int at offset; -1 = not given */
    DD_KEY_TEXT,       /* char[size] at offset; empty = not given */
    DD_KEY_CHOICE,     /* int at offset: index into choices; -1 = not given */
    DD_KEY_FLAG,       /* int at offset: 0, 1; -1 = not given (written yes / no) */
    DD_KEY_QUANTITIES, /* double[capacity] at offset, int count at count_offset: [0.30 m, 0.62 m] */
    DD_KEY_BLOCK,      /* a nested struct at offset, its rows in rows; a mapping, or (file = true) a file's name */
    DD_KEY_LIST        /* element[capacity] at offset, element size in size, int count at count_offset */
} dd_key_type;

struct dd_key;
/* A list element, or a block, whose rows depend on its kind: `{kind: cradle, ...}`, or for a procedure
   step the one key of the mapping: `- back down: {...}`. The element stores the index at kind_offset. */
typedef struct dd_key_variant {
    const char *name, *help;
    const struct dd_key *rows; /* ends with a row whose name is NULL; NULL: no keys of its own */
} dd_key_variant;

typedef struct dd_key {
    const char *name; /* as people write it: "transom deadrise" */
    dd_key_type type;
    dd_dimension dimension;
    size_t offset;
    double least, most;  /* SI, both allowed; -INFINITY, INFINITY where open */
    double fallback;     /* default in SI, or index of the choice, flag, count; NaN: no constant default */
    const char *fallback_text; /* a default that is computed: how, in words ("0.8 of the beam"); else NULL */
    const char *source;  /* key in sources.def of the default; NULL only if there is none */
    bool required, file;
    bool on_ramp;        /* required only in a scenario that has one of the rows so marked: weigh and seat need none of them */
    const char *help;    /* one line: what, frame, of what it is measured */
    const char *const *choices; /* ends with NULL */
    const struct dd_key *rows;  /* of a block, or common rows of a list's elements; ends with name NULL */
    const dd_key_variant *variants; /* ends with name NULL */
    bool variant_is_step;       /* the kind is the mapping's one key, not a key named kind */
    size_t size, count_offset, kind_offset;
    int capacity;
    const char *unit;    /* unit shown by `show` and `keys`, as in units.def ("mm"); NULL: the SI unit */
} dd_key;

/* A rule over several fields of one struct, checked after defaults stand. Returns true when it holds;
   else writes what was found and expected to message (size bytes) and names the key at fault. */
typedef struct dd_key_rule {
    const char *help;
    bool (*holds)(const void *structure, char *message, size_t size, const char **key);
} dd_key_rule;

/* Fills a struct with "not given" for every row, then (defaults = true) with each row's constant default. */
void dd_key_clear(const dd_key *rows, void *structure);
void dd_key_defaults(const dd_key *rows, void *structure);
#endif
