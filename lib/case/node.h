/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was read from YAML files, before anything is known of its meaning: every scalar is text with a place. */
#ifndef DD_CASE_NODE_H
#define DD_CASE_NODE_H
#include <drawdock/case.h>
#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>

enum {
    DD_READ_NODES = 40000,   /* nodes of all files together, each alias counted with all that stands behind it */
    DD_READ_KEYS = 1000,     /* in one mapping: the check for repeated keys looks at each pair */
    DD_READ_NESTING = 24,    /* of mappings and lists in one file */
    DD_READ_FILES = 64,      /* files and overrides of one scenario */
    DD_READ_DEPTH = 8,       /* a file named by a file named by ... */
    DD_READ_BYTES = 1 << 20, /* of one file */
    DD_READ_MESSAGES = 200,
    DD_PATH = 192 /* of a key: "trailer.supports[rear cradle].above ground" */
};

typedef struct dd_place {
    int file;         /* index into dd_reading.files; -1: none */
    int line, column; /* from 1; line 0: the file as a whole, or an override */
} dd_place;

typedef enum dd_node_kind { DD_NODE_SCALAR, DD_NODE_MAPPING, DD_NODE_SEQUENCE } dd_node_kind;

struct dd_key;
struct dd_node;
typedef struct dd_entry {
    const char *key; /* of a mapping; NULL in a sequence */
    dd_place place;  /* of the key, or of the sequence's element */
    struct dd_node *value;
} dd_entry;

typedef struct dd_node {
    dd_node_kind kind;
    dd_place place;
    const char *text; /* of a scalar */
    bool plain;       /* scalar without quotes */
    bool failed;      /* stands for a part that could not be read: its message was given */
    bool complete;    /* false while its children are being read: an alias to it is a cycle */
    int count, capacity;
    long weight; /* nodes in it, aliases expanded */
    dd_entry *entries;
} dd_node;

typedef struct dd_message {
    dd_place place;
    dd_error error;
} dd_message;

/* Where a value of dd_case came from. */
typedef struct dd_origin {
    size_t offset;   /* in dd_case */
    const void *row; /* its dd_key */
    const char *path;
    const char *unit; /* in which a quantity was given; NULL: no matter */
    dd_place place;
} dd_origin;

/* One reading: memory, files, messages, origins. */
typedef struct dd_reading {
    struct dd_arena_block *blocks;
    bool out_of_memory;
    const char *files[DD_READ_FILES];
    int file_count;
    struct {
        dev_t device;
        ino_t number;
    } stack[DD_READ_DEPTH];
    int depth;
    const char *const *search;
    const struct dd_key *table; /* all rows: a key that stands in the wrong block is looked up there */
    long weight;                /* nodes so far */
    bool too_heavy;
    int message_count, message_capacity;
    dd_message *messages;
    int origin_count, origin_capacity;
    dd_origin *origins;
} dd_reading;

/* Zeroed memory that lives as long as the reading; NULL sets out_of_memory. */
void *dd_take(dd_reading *reading, size_t size);
/* Copy of `length` bytes with a NUL. */
const char *dd_keep_text(dd_reading *reading, const char *text, size_t length);
void dd_reading_free(dd_reading *reading);

/* Adds a message; path may be NULL. */
void dd_complain(dd_reading *reading, dd_place place, const char *path, const char *format, ...) DD_PRINTF(4, 5);
void dd_complain_as(dd_reading *reading, dd_status status, dd_place place, const char *path, const char *format, ...)
    DD_PRINTF(5, 6);
/* Sorts the messages by file and line and hands them over; returns the status of the first, DD_OK if there is none. */
dd_status dd_messages_give(dd_reading *reading, dd_error_list *list);
/* "file:line:column: path", shortened to size. */
void dd_place_text(const dd_reading *reading, dd_place place, const char *path, char *text, size_t size);
/* The name in names (count) nearest to text, or NULL when none is near. */
const char *dd_nearest(const char *text, const char *const *names, int count);

/* Index of a new entry in files[], -1 when full (a message then says so). */
int dd_add_file(dd_reading *reading, const char *name, dd_place from);
/* Composes the one document in bytes; NULL: a message says why. */
dd_node *dd_compose(dd_reading *reading, const char *bytes, size_t size, int file);
dd_node *dd_new_node(dd_reading *reading, dd_node_kind kind, dd_place place);
bool dd_append(dd_reading *reading, dd_node *node, const char *key, dd_place place, dd_node *value);
dd_node *dd_new_scalar(dd_reading *reading, const char *text, dd_place place);
/* Entry of a mapping; NULL: none, or node is no mapping. */
dd_entry *dd_entry_of(const dd_node *node, const char *key);
/* Plain text in UTF-8? Else a message with the place says where it is not. */
bool dd_check_text(dd_reading *reading, const char *bytes, size_t size, int file);
/* A plain scalar that says nothing: "", "~", "null". */
bool dd_is_null(const dd_node *node);
/* "'text'", "a mapping", "a list", "nothing". */
const char *dd_describe(const dd_node *node, char *text, size_t size);
#endif
