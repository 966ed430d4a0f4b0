/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command line and the files of a result folder as tables, from options.def and files.def. */
#ifndef DRAWDOCK_LISTS_H
#define DRAWDOCK_LISTS_H
#include "tools/drawdock/command.h"

enum {
#define DRAWDOCK_OPTION(kind, field, letter, name, argument, commands, help) OPTION_##field,
#include "tools/drawdock/options.def"
#undef DRAWDOCK_OPTION
    OPTION_COUNT
};

typedef struct command_row {
    const char *name, *operands;
    int least, most; /* operands */
    const char *help;
} command_row;
typedef struct option_row {
    int letter;                 /* 0: none */
    const char *name, *argument; /* argument NULL: a flag */
    unsigned commands;          /* sets of 1u << COMMAND_..., in all lists */
    const char *help;
} option_row;
typedef struct file_row {
    unsigned commands;
    const char *name, *help; /* name with its ending; of a picture in plot_list without */
} file_row;
typedef struct example_row {
    int command;
    const char *line, *what;
} example_row;

extern const command_row command_list[COMMAND_COUNT];
extern const option_row option_list[OPTION_COUNT];
extern const example_row example_list[];
extern const int example_count;
/* Every file of a result folder: data, tables, pictures; and the pictures alone. */
extern const file_row file_list[], plot_list[];
extern const int file_count, plot_count;
#endif
