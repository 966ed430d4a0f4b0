/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tools/drawdock/lists.h"

const command_row command_list[COMMAND_COUNT] = {
#define DRAWDOCK_COMMAND(name, operands, least, most, help) {#name, operands, least, most, help},
#include "tools/drawdock/options.def"
#undef DRAWDOCK_COMMAND
};

const option_row option_list[OPTION_COUNT] = {
#define DRAWDOCK_OPTION(kind, field, letter, name, argument, commands, help) {letter, name, argument, commands, help},
#include "tools/drawdock/options.def"
#undef DRAWDOCK_OPTION
};

const example_row example_list[] = {
#define DRAWDOCK_EXAMPLE(command, line, what) {COMMAND_##command, line, what},
#include "tools/drawdock/options.def"
#undef DRAWDOCK_EXAMPLE
};
const int example_count = sizeof example_list / sizeof example_list[0];

const file_row file_list[] = {
#define DRAWDOCK_FILE(commands, name, writer, help) {commands, name, help},
#include "tools/drawdock/files.def"
#undef DRAWDOCK_FILE
#define DRAWDOCK_TABLE(commands, name, key, help) {commands, name, help},
#include "tools/drawdock/files.def"
#undef DRAWDOCK_TABLE
#define DRAWDOCK_PLOT(commands, name, help) {commands, name ".svg", help},
#include "tools/drawdock/files.def"
#undef DRAWDOCK_PLOT
};
const int file_count = sizeof file_list / sizeof file_list[0];

const file_row plot_list[] = {
#define DRAWDOCK_PLOT(commands, name, help) {commands, name, help},
#include "tools/drawdock/files.def"
#undef DRAWDOCK_PLOT
};
const int plot_count = sizeof plot_list / sizeof plot_list[0];
