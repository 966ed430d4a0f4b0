/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of sources (sources.def): where each constant, default and formula comes from. */
#ifndef DD_BASE_SOURCES_H
#define DD_BASE_SOURCES_H

typedef struct dd_source {
    const char *key;
    const char *grade; /* "published", "formula", "closed form", "library", "practice" or "memory" */
    const char *text;
} dd_source;

/* In the order of the list; NULL past the end. */
const dd_source *dd_source_at(int index);
/* NULL: no such key (or key NULL). */
const dd_source *dd_source_find(const char *key);
#endif
