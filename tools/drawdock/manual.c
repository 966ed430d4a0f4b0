/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Manual pages and completions from options.def and files.def, where --help has its words too. Run by the build:
   `manual man` or `manual man COMMAND`, `manual bash`, `manual zsh`, `manual fish`. */
#include "tools/drawdock/command.h"
#include <drawdock/version.h>
#include <ctype.h>
#include <string.h>

#define CHANGED "2026-11-27" /* day of the last change of the command line; no page says the day it was built */

static const struct {
    const char *name, *operands, *help;
} commands[] = {
#define DRAWDOCK_COMMAND(name, operands, least, most, help) {#name, operands, help},
#include "tools/drawdock/options.def"
#undef DRAWDOCK_COMMAND
};

static const struct {
    int letter;
    const char *name, *argument;
    unsigned commands;
    const char *help;
} options_list[] = {
#define DRAWDOCK_OPTION(kind, field, letter, name, argument, commands, help) {letter, name, argument, commands, help},
#include "tools/drawdock/options.def"
#undef DRAWDOCK_OPTION
};

static const struct {
    unsigned commands;
    const char *name, *help;
} files[] = {
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

static const struct {
    unsigned command;
    const char *line, *what;
} examples[] = {
#define DRAWDOCK_EXAMPLE(command, line, what) {1u << COMMAND_##command, line, what},
#include "tools/drawdock/options.def"
#undef DRAWDOCK_EXAMPLE
};

enum { OPTIONS = sizeof options_list / sizeof *options_list, FILES = sizeof files / sizeof *files, EXAMPLES = sizeof examples / sizeof *examples };

/* --- manual pages, man(7) ---------------------------------------------------------------------------------------- */

static int escaped(const char *word, int length, char out[512])
{
    int n = 0;
    for (int i = 0; i < length && n < 500; i++)
        n += sprintf(out + n, word[i] == '\\' ? "\\e" : word[i] == '-' ? "\\-" : word[i] == '\'' ? "\\(aq" : "%c", word[i]);
    return n;
}

/* Words in lines of fewer than 80 bytes, as lint wants the source; joined: the page shows them as one line. */
static void roff_lines(const char *words, const char *joined)
{
    int column = 0;
    for (const char *word = words; *word;) {
        const int length = (int)strcspn(word, " ");
        char out[512];
        const int bytes = escaped(word, length, out);
        if (column > 0 && column + 1 + bytes > 76) column = printf("%s\n", joined) * 0;
        else if (column > 0) column += printf(" ");
        if (column == 0 && *out == '.') column += printf("\\&");
        column += printf("%s", out);
        word += length;
        word += strspn(word, " ");
    }
}
static void roff(const char *words) { roff_lines(words, ""); }

static void man_option(int row)
{
    printf(".TP\n.B ");
    if (options_list[row].letter) printf("\\-%c\\fR, \\fB", options_list[row].letter);
    fputs("\\-\\-", stdout);
    roff(options_list[row].name);
    if (options_list[row].argument) printf("\\fR \\fI%s", options_list[row].argument);
    printf("\\fR\n");
    roff(options_list[row].help);
    putchar('\n');
}

static void man_end(void)
{
    puts(".SH EXIT STATUS\n.TP\n0\ncomputed and within the limits given\n.TP\n1\ncomputed, and a limit is broken\n.TP\n2\nthe input is wrong\n"
         ".TP\n3\nnot computed or not written\n.TP\n130\ninterrupted\n.PP\nResults go to standard output, messages and progress to standard error.\n"
         ".SH CAUTION\nA verdict says \"within the limits given\", never \"safe\".\nLook at today\\(aqs water and the ramp\\(aqs end yourself;\nlocal law, ramp signs,\n"
         " makers\\(aq plates and licensed practice govern.");
}

static void man_of_command(int command)
{
    const unsigned set = 1u << command;
    printf(".TH DRAWDOCK\\-");
    for (const char *c = commands[command].name; *c; c++) putchar(toupper((unsigned char)*c));
    printf(" 1 %s \"drawdock %s\" \"drawdock manual\"\n.SH NAME\ndrawdock\\-%s \\-\n", CHANGED, dd_version(), commands[command].name);
    roff(commands[command].help);
    printf("\n.SH SYNOPSIS\n.B drawdock %s\n[\\fIOPTION\\fR...]\n", commands[command].name);
    roff(commands[command].operands);
    printf("\n.SH OPTIONS\n");
    for (int i = 0; i < OPTIONS; i++)
        if (options_list[i].commands & set) man_option(i);
    bool any = false;
    for (int i = 0; i < FILES; i++) {
        if (!(files[i].commands & set)) continue;
        if (!any) puts(".SH FILES\nIn the folder of \\-\\-output, written all or none:");
        any = true;
        printf(".TP\n.I ");
        roff(files[i].name);
        putchar('\n');
        roff(files[i].help);
        putchar('\n');
    }
    puts(".SH EXAMPLE");
    any = false;
    for (int i = 0; i < EXAMPLES; i++) {
        if (!(examples[i].command & set)) continue;
        if (any) puts(".PP");
        any = true;
        roff(examples[i].what);
        puts(":\n.PP\n.nf");
        roff_lines(examples[i].line, " \\");
        puts("\n.fi");
    }
    man_end();
    puts(".SH SEE ALSO\n.BR drawdock (1)");
}

static void man_of_all(void)
{
    printf(".TH DRAWDOCK 1 %s \"drawdock %s\" \"drawdock manual\"\n.SH NAME\ndrawdock \\- compute how a trailer boat is launched and retrieved on a ramp\n", CHANGED,
           dd_version());
    puts(".SH SYNOPSIS\n.B drawdock\n\\fICOMMAND\\fR [\\fIOPTION\\fR...] [\\fIFILE\\fR...]\n.SH DESCRIPTION\nFrom one description of boat, trailer, "
         "tow vehicle, ramp and water,\na scenario in YAML, each command answers one question.\nParts that a scenario names are looked up beside it, "
         "then among the\nshipped ones: in $DRAWDOCK_DATA,\n$XDG_DATA_HOME/drawdock, beside the program, $XDG_DATA_DIRS.\n.SH COMMANDS");
    for (int i = 0; i < COMMAND_COUNT; i++) {
        printf(".TP\n.BR drawdock\\-%s (1)\n", commands[i].name);
        roff(commands[i].help);
        putchar('\n');
    }
    puts(".SH OPTIONS");
    for (int i = 0; i < OPTIONS; i++)
        if (options_list[i].commands == EVERYWHERE) man_option(i);
    man_end();
    puts(".SH SEE ALSO");
    for (int i = 0; i < COMMAND_COUNT; i++) printf(".BR drawdock\\-%s (1)%s\n", commands[i].name, i + 1 < COMMAND_COUNT ? "," : "");
}

/* --- completions ---------------------------------------------------------------------------------------------------- */

static bool takes(int row, const char *argument) { return options_list[row].argument && strcmp(options_list[row].argument, argument) == 0; }

static void bash(void)
{
    puts("# bash completion of drawdock; made from its table of options.\n_drawdock()\n{\n    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} "
         "command= options= i\n    for ((i = 1; i < COMP_CWORD; i++)); do\n        case ${COMP_WORDS[i]} in\n        -*) ;;\n        *) command=${COMP_WORDS[i]}; break ;;\n"
         "        esac\n    done\n    case $before in");
    for (int i = 0; i < OPTIONS; i++) {
        if (!options_list[i].argument) continue;
        fputs("    ", stdout);
        if (options_list[i].letter) printf("-%c | ", options_list[i].letter);
        printf("--%s) ", options_list[i].name);
        puts(takes(i, "DIR") ? "COMPREPLY=($(compgen -d -- \"$word\")); return ;;" : "COMPREPLY=(); return ;;");
    }
    puts("    esac\n    case $command in");
    for (int c = 0; c < COMMAND_COUNT; c++) {
        printf("    %s) options=\"", commands[c].name);
        for (int i = 0; i < OPTIONS; i++)
            if (options_list[i].commands & (1u << c)) printf("--%s ", options_list[i].name);
        puts("\" ;;");
    }
    fputs("    '') options=\"", stdout);
    for (int c = 0; c < COMMAND_COUNT; c++) printf("%s ", commands[c].name);
    puts("--help --version\"; COMPREPLY=($(compgen -W \"$options\" -- \"$word\")); return ;;\n    esac\n"
         "    if [[ $word == -* ]]; then COMPREPLY=($(compgen -W \"$options\" -- \"$word\")); else COMPREPLY=($(compgen -f -- \"$word\")); fi\n}\n"
         "complete -o filenames -F _drawdock drawdock");
}

/* Within single quotes of the shell. */
static void quoted(const char *words, const char *also)
{
    for (const char *c = words; *c; c++) {
        if (*c == '\'') fputs("'\\''", stdout);
        else {
            if (strchr(also, *c)) putchar('\\');
            putchar(*c);
        }
    }
}

static void zsh(void)
{
    puts("#compdef drawdock\n# zsh completion of drawdock; made from its table of options.\n_drawdock() {\n    local -a commands\n    commands=(");
    for (int c = 0; c < COMMAND_COUNT; c++) {
        printf("        '%s:", commands[c].name);
        quoted(commands[c].help, ":");
        puts("'");
    }
    puts("    )\n    if (( CURRENT == 2 )); then _describe command commands; return; fi\n    case $words[2] in");
    for (int c = 0; c < COMMAND_COUNT; c++) {
        printf("    %s) _arguments", commands[c].name);
        for (int i = 0; i < OPTIONS; i++) {
            if (!(options_list[i].commands & (1u << c))) continue;
            printf(" \\\n        '--%s%s[", options_list[i].name, options_list[i].argument ? "=" : "");
            quoted(options_list[i].help, "[]:");
            putchar(']');
            if (options_list[i].argument) printf(":%s:%s", options_list[i].argument, takes(i, "DIR") ? "_files -/" : "");
            putchar('\'');
        }
        puts(" \\\n        '*:file:_files' ;;");
    }
    puts("    esac\n}\n_drawdock \"$@\"");
}

static void fish(void)
{
    puts("# fish completion of drawdock; made from its table of options.");
    for (int c = 0; c < COMMAND_COUNT; c++) {
        printf("complete -c drawdock -n __fish_use_subcommand -f -a %s -d '", commands[c].name);
        quoted(commands[c].help, "");
        puts("'");
    }
    for (int i = 0; i < OPTIONS; i++) {
        fputs("complete -c drawdock -n '__fish_seen_subcommand_from", stdout);
        for (int c = 0; c < COMMAND_COUNT; c++)
            if (options_list[i].commands & (1u << c)) printf(" %s", commands[c].name);
        putchar('\'');
        if (options_list[i].letter) printf(" -s %c", options_list[i].letter);
        printf(" -l %s%s -d '", options_list[i].name,
               !options_list[i].argument ? "" : takes(i, "DIR") ? " -x -a '(__fish_complete_directories)'" : " -x");
        quoted(options_list[i].help, "");
        puts("'");
    }
}

int main(int argc, char **argv)
{
    int done = 0;
    if (argc == 2 && strcmp(argv[1], "man") == 0) man_of_all(), done = 1;
    if (argc == 2 && strcmp(argv[1], "bash") == 0) bash(), done = 1;
    if (argc == 2 && strcmp(argv[1], "zsh") == 0) zsh(), done = 1;
    if (argc == 2 && strcmp(argv[1], "fish") == 0) fish(), done = 1;
    for (int c = 0; argc == 3 && strcmp(argv[1], "man") == 0 && c < COMMAND_COUNT; c++)
        if (strcmp(argv[2], commands[c].name) == 0) man_of_command(c), done = 1;
    if (done) return fflush(stdout) == 0 && !ferror(stdout) ? 0 : 3;
    fputs("usage: manual man [COMMAND] | bash | zsh | fish\n", stderr);
    return 2;
}
