/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Manual pages and completions from options.def and files.def, where --help has its words too. Run by the build:
   `manual man` or `manual man COMMAND`, `manual bash`, `manual zsh`, `manual fish`. */
#include "tools/drawdock/lists.h"
#include <drawdock/version.h>
#include <ctype.h>
#include <string.h>

#define CHANGED "2026-11-27" /* day of the last change of the command line; no page says the day it was built */

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
    if (option_list[row].letter) printf("\\-%c\\fR, \\fB", option_list[row].letter);
    fputs("\\-\\-", stdout);
    roff(option_list[row].name);
    if (option_list[row].argument) printf("\\fR \\fI%s", option_list[row].argument);
    printf("\\fR\n");
    roff(option_list[row].help);
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
    for (const char *c = command_list[command].name; *c; c++) putchar(toupper((unsigned char)*c));
    printf(" 1 %s \"drawdock %s\" \"drawdock manual\"\n.SH NAME\ndrawdock\\-%s \\-\n", CHANGED, dd_version(), command_list[command].name);
    roff(command_list[command].help);
    printf("\n.SH SYNOPSIS\n.B drawdock %s\n[\\fIOPTION\\fR...]\n", command_list[command].name);
    roff(command_list[command].operands);
    printf("\n.SH OPTIONS\n");
    for (int i = 0; i < OPTION_COUNT; i++)
        if (option_list[i].commands & set) man_option(i);
    bool any = false;
    for (int i = 0; i < file_count; i++) {
        if (!(file_list[i].commands & set)) continue;
        if (!any) puts(".SH FILES\nIn the folder of \\-\\-output, written all or none:");
        any = true;
        printf(".TP\n.I ");
        roff(file_list[i].name);
        putchar('\n');
        roff(file_list[i].help);
        putchar('\n');
    }
    puts(".SH EXAMPLE");
    any = false;
    for (int i = 0; i < example_count; i++) {
        if (example_list[i].command != command) continue;
        if (any) puts(".PP");
        any = true;
        roff(example_list[i].what);
        puts(":\n.PP\n.nf");
        roff_lines(example_list[i].line, " \\");
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
        printf(".TP\n.BR drawdock\\-%s (1)\n", command_list[i].name);
        roff(command_list[i].help);
        putchar('\n');
    }
    puts(".SH OPTIONS");
    for (int i = 0; i < OPTION_COUNT; i++)
        if (option_list[i].commands == EVERYWHERE) man_option(i);
    man_end();
    puts(".SH SEE ALSO");
    for (int i = 0; i < COMMAND_COUNT; i++) printf(".BR drawdock\\-%s (1)%s\n", command_list[i].name, i + 1 < COMMAND_COUNT ? "," : "");
}

/* --- completions ---------------------------------------------------------------------------------------------------- */

static bool takes(int row, const char *argument) { return option_list[row].argument && strcmp(option_list[row].argument, argument) == 0; }

static void bash(void)
{
    puts("# bash completion of drawdock; made from its table of options.\n_drawdock()\n{\n    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} "
         "command= options= i\n    for ((i = 1; i < COMP_CWORD; i++)); do\n        case ${COMP_WORDS[i]} in\n        -*) ;;\n        *) command=${COMP_WORDS[i]}; break ;;\n"
         "        esac\n    done\n    case $before in");
    for (int i = 0; i < OPTION_COUNT; i++) {
        if (!option_list[i].argument) continue;
        fputs("    ", stdout);
        if (option_list[i].letter) printf("-%c | ", option_list[i].letter);
        printf("--%s) ", option_list[i].name);
        puts(takes(i, "DIR") ? "COMPREPLY=($(compgen -d -- \"$word\")); return ;;" : "COMPREPLY=(); return ;;");
    }
    puts("    esac\n    case $command in");
    for (int c = 0; c < COMMAND_COUNT; c++) {
        printf("    %s) options=\"", command_list[c].name);
        for (int i = 0; i < OPTION_COUNT; i++)
            if (option_list[i].commands & (1u << c)) printf("--%s ", option_list[i].name);
        puts("\" ;;");
    }
    fputs("    '') options=\"", stdout);
    for (int c = 0; c < COMMAND_COUNT; c++) printf("%s ", command_list[c].name);
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
        printf("        '%s:", command_list[c].name);
        quoted(command_list[c].help, ":");
        puts("'");
    }
    puts("    )\n    if (( CURRENT == 2 )); then _describe command commands; return; fi\n    case $words[2] in");
    for (int c = 0; c < COMMAND_COUNT; c++) {
        printf("    %s) _arguments", command_list[c].name);
        for (int i = 0; i < OPTION_COUNT; i++) {
            if (!(option_list[i].commands & (1u << c))) continue;
            printf(" \\\n        '--%s%s[", option_list[i].name, option_list[i].argument ? "=" : "");
            quoted(option_list[i].help, "[]:");
            putchar(']');
            if (option_list[i].argument) printf(":%s:%s", option_list[i].argument, takes(i, "DIR") ? "_files -/" : "");
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
        printf("complete -c drawdock -n __fish_use_subcommand -f -a %s -d '", command_list[c].name);
        quoted(command_list[c].help, "");
        puts("'");
    }
    for (int i = 0; i < OPTION_COUNT; i++) {
        fputs("complete -c drawdock -n '__fish_seen_subcommand_from", stdout);
        for (int c = 0; c < COMMAND_COUNT; c++)
            if (option_list[i].commands & (1u << c)) printf(" %s", command_list[c].name);
        putchar('\'');
        if (option_list[i].letter) printf(" -s %c", option_list[i].letter);
        printf(" -l %s%s -d '", option_list[i].name,
               !option_list[i].argument ? "" : takes(i, "DIR") ? " -x -a '(__fish_complete_directories)'" : " -x");
        quoted(option_list[i].help, "");
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
        if (strcmp(argv[2], command_list[c].name) == 0) man_of_command(c), done = 1;
    if (done) return fflush(stdout) == 0 && !ferror(stdout) ? 0 : 3;
    fputs("usage: manual man [COMMAND] | bash | zsh | fish\n", stderr);
    return 2;
}
