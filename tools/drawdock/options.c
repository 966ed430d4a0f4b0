/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Command line and help, from options.def. */
#include "lib/case/node.h"
#include "lib/record/fields.h"
#include "tools/drawdock/lists.h"
#include <getopt.h>
#include <string.h>

enum { FIRST_CODE = 1000 };

static int usage_error(const char *before, const char *what, const char *after)
{
    fprintf(stderr, "drawdock: %s%s%s; see drawdock --help\n", before, what, after);
    return STATUS_INPUT;
}

static int set_FLAG(bool *field, const char *argument)
{
    (void)argument;
    *field = true;
    return STATUS_WITHIN;
}

static int set_TEXT(const char **field, const char *argument)
{
    if (!*argument) return usage_error("an option has an empty argument", "", "");
    *field = argument;
    return STATUS_WITHIN;
}

static int set_LIST(const char **field, int *count, const char *argument)
{
    if (*count == LIST_ROOM) return usage_error("too many times the same option: ", argument, "");
    field[(*count)++] = argument;
    return STATUS_WITHIN;
}

static int set_option(options *given, int option, const char *argument)
{
    switch (option) {
#define SET_FLAG(field) return set_FLAG(&given->field, argument);
#define SET_TEXT(field) return set_TEXT(&given->field, argument);
#define SET_LIST(field) return set_LIST(given->field, &given->field##_count, argument);
#define DRAWDOCK_OPTION(kind, field, letter, name, argument, commands, help)                                                   \
    case OPTION_##field:                                                                                                       \
        SET_##kind(field)
#include "tools/drawdock/options.def"
#undef DRAWDOCK_OPTION
    default:
        return STATUS_INPUT;
    }
}

/* The options in getopt's form: a long option's code is FIRST_CODE + its row. */
static void prepare_getopt(struct option *table, char *letters)
{
    *letters++ = ':'; /* a missing argument is told apart from an unknown option */
    for (int i = 0; i < OPTION_COUNT; i++) {
        table[i] = (struct option){option_list[i].name, option_list[i].argument ? required_argument : no_argument, NULL, FIRST_CODE + i};
        if (!option_list[i].letter) continue;
        *letters++ = (char)option_list[i].letter;
        if (option_list[i].argument) *letters++ = ':';
    }
    table[OPTION_COUNT] = (struct option){0};
    *letters = '\0';
}

static int row_of_code(int code)
{
    if (code >= FIRST_CODE) return code - FIRST_CODE;
    for (int i = 0; i < OPTION_COUNT; i++)
        if (option_list[i].letter == code) return i;
    return -1;
}

static int wrong_option(int found, char **argv)
{
    char letter[3] = {'-', (char)optopt, '\0'};
    const char *name = optopt && optopt < FIRST_CODE ? letter : argv[optind - 1];
    if (found == ':') return usage_error("option ", name, " needs an argument");
    if (optopt >= FIRST_CODE) return usage_error("option ", name, " takes no argument");
    return usage_error("unknown option ", name, "");
}

static int unknown_command(const char *word)
{
    const char *names[COMMAND_COUNT];
    for (int i = 0; i < COMMAND_COUNT; i++)
        names[i] = command_list[i].name;
    const char *near = dd_nearest(word, names, COMMAND_COUNT);
    if (near == NULL) return usage_error("unknown command ", word, "");
    fprintf(stderr, "drawdock: unknown command %s; did you mean %s? see drawdock --help\n", word, near);
    return STATUS_INPUT;
}

static int check_command(options *given, unsigned used, char **operands, int count)
{
    if (count == 0) return given->help || given->version ? STATUS_WITHIN : usage_error("no command given", "", "");
    for (int i = 0; i < COMMAND_COUNT; i++)
        if (strcmp(command_list[i].name, operands[0]) == 0) given->command = i;
    if (given->command < 0) return unknown_command(operands[0]);
    for (int i = 0; i < OPTION_COUNT; i++)
        if ((used & (1u << i)) && !(option_list[i].commands & (1u << given->command))) {
            fprintf(stderr, "drawdock: %s has no option --%s; see drawdock %s --help\n", operands[0], option_list[i].name,
                    operands[0]);
            return STATUS_INPUT;
        }
    if (given->units && units_of(given) != DD_REPORT_US && strcmp(given->units, "metric") != 0) {
        fprintf(stderr, "drawdock: --units: found '%s', expected metric or us\n", given->units);
        return STATUS_INPUT;
    }
    given->operands = operands + 1;
    given->operand_count = count - 1;
    if (given->help || given->version) return STATUS_WITHIN;
    if (count - 1 < command_list[given->command].least || count - 1 > command_list[given->command].most) {
        fprintf(stderr, "drawdock: found %d file name%s, expected: drawdock %s %s; see drawdock %s --help\n", count - 1,
                count == 2 ? "" : "s", operands[0], command_list[given->command].operands, operands[0]);
        return STATUS_INPUT;
    }
    return STATUS_WITHIN;
}

int options_read(int argc, char **argv, options *given)
{
    struct option table[OPTION_COUNT + 1];
    char letters[2 * OPTION_COUNT + 2];
    prepare_getopt(table, letters);
    memset(given, 0, sizeof *given);
    given->command = -1;
    unsigned used = 0;
    opterr = 0;
    for (int code; (code = getopt_long(argc, argv, letters, table, NULL)) != -1;) {
        int row = row_of_code(code);
        if (row < 0) return wrong_option(code, argv);
        used |= 1u << row;
        int status = set_option(given, row, optarg);
        if (status != STATUS_WITHIN) return status;
    }
    return check_command(given, used, argv + optind, argc - optind);
}

static void print_options(unsigned set, bool only_common)
{
    for (int i = 0; i < OPTION_COUNT; i++) {
        if (!(option_list[i].commands & set) || (only_common && option_list[i].commands != EVERYWHERE)) continue;
        char left[64];
        snprintf(left, sizeof left, "-%c, --%s%s%s", option_list[i].letter, option_list[i].name, option_list[i].argument ? " " : "",
                 option_list[i].argument ? option_list[i].argument : "");
        printf("  %-22s %s\n", left, option_list[i].help);
    }
}

static void print_files(unsigned set)
{
    puts("\nFiles in DIR, written all or none:");
    for (int i = 0; i < file_count; i++)
        if (file_list[i].commands & set) printf("  %-16s %s\n", file_list[i].name, file_list[i].help);
    puts("\nFields of result.json, and of --json:");
    const dd_result_field *(*at)(int) = set & (ON(weigh) | ON(seat)) ? dd_report_field_at : dd_result_field_at;
    for (int i = 0; at(i); i++) printf("  %-26s %-8s %s\n", at(i)->path, at(i)->type, at(i)->help);
}

static void print_statuses(void)
{
    puts("\nExit status: 0 computed and within the limits given; 1 computed, and a limit is broken;\n"
         "2 the input is wrong; 3 not computed or not written; 130 interrupted.");
}

void options_help(int command)
{
    if (command < 0) {
        puts("Usage: drawdock COMMAND [OPTION...] [FILE]\n"
             "Compute how a trailer boat is launched and retrieved on a ramp.\n\nCommands:");
        for (int i = 0; i < COMMAND_COUNT; i++) printf("  %-8s %s\n", command_list[i].name, command_list[i].help);
        puts("\nOptions (drawdock COMMAND --help lists a command's own):");
        print_options(EVERYWHERE, true);
    } else {
        printf("Usage: drawdock %s [OPTION...]%s%s\n%s.\n\nOptions:\n", command_list[command].name,
               *command_list[command].operands ? " " : "", command_list[command].operands, command_list[command].help);
        print_options(1u << command, false);
        if ((1u << command) & (ON(run) | ON(settle) | ON(weigh) | ON(seat))) print_files(1u << command);
        for (int i = 0; i < example_count; i++)
            if (example_list[i].command == command) printf("\nExample, %s:\n  %s\n", example_list[i].what, example_list[i].line);
        if ((1u << command) & (ON(run) | ON(settle) | ON(weigh) | ON(seat) | ON(check) | ON(show)))
            puts("\nFILE is a scenario in YAML; - is standard input. Parts that it names are looked up beside it, then among\n"
                 "the shipped scenarios: in $DRAWDOCK_DATA, $XDG_DATA_HOME/drawdock, beside the program, $XDG_DATA_DIRS.");
    }
    print_statuses();
}
