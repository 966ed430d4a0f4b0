/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of forces with one of them spoiled from some time on. The linker sends the library's calls of dd_force_at here
   (--wrap); the library itself knows nothing of it. */
#ifndef DD_TESTS_FAULT_SPOILED_H
#define DD_TESTS_FAULT_SPOILED_H
#include "lib/force/force.h"

typedef enum spoil {
    SPOIL_NOTHING,
    SPOIL_NOT_A_NUMBER, /* the load is NaN */
    SPOIL_INFINITE,     /* the load is infinite */
    SPOIL_TOO_STIFF,    /* a push to and fro of 1e12 N that changes its sign with the last bits of the velocity */
    SPOIL_UNTRUE,       /* the load that the record and the ledger see is not the one that moved the hull */
    SPOIL_COUNT
} spoil;

/* Spoils the force of that name from a time on, s. */
void spoil_force(const char *name, spoil how, double from);
#endif
