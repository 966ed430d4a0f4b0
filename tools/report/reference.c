/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pages of the reference that follow from the library's own lists, as Markdown on stdout: `reference keys`, `reference physics`,
   `reference errors`. `make html` runs it. */
#include "lib/base/sources.h"
#include "lib/force/force.h"
#include <drawdock/drawdock.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void text(const char *words) /* without what Markdown would take for its own */
{
    for (const char *c = words; *c != 0; c++) {
        if (strchr("\\`*_{}[]<>#|~&@%$\"", *c) != NULL) putchar('\\');
        putchar(*c);
    }
}

static int keys(void)
{
    char *all = dd_case_keys(0);
    if (all == NULL) return 0;
    puts("# Keys of a scenario {#keys}\n\nAs `drawdock keys` prints them; `drawdock keys --schema` is the same for editors.\n\n@verbatim");
    fputs(all, stdout);
    puts("@endverbatim");
    free(all);
    return 1;
}

static void force(const dd_force_kind *kind)
{
    printf("\n## ");
    text(kind->name);
    printf("\n\n");
    text(kind->help);
    printf(".\n\n- Law: ");
    text(kind->formula);
    printf(".\n- May be trusted for: ");
    text(kind->valid);
    printf(".\n- Acts on: %s; %s.\n- Covered by `%s`, and by the properties that every force is walked through.\n",
           kind->acts_on == DD_ACTS_ON_HULL ? "the hull" : kind->acts_on == DD_ACTS_BETWEEN ? "hull and trailer" : "the rig",
           kind->passive ? "never adds energy" : "may add or give back energy", kind->covered_by);
    for (int i = 0; kind->sources[i] != NULL; i++) {
        const dd_source *source = dd_source_find(kind->sources[i]);
        printf("- Source: ");
        text(source != NULL ? source->text : kind->sources[i]);
        printf(".\n");
    }
    for (const dd_key *key = kind->keys; key != NULL && key->name != NULL; key++) {
        printf("- Figure `%s`: ", key->name);
        text(key->help);
        printf(".\n");
    }
    for (const dd_channel *channel = kind->channels; channel != NULL && channel->name != NULL; channel++) {
        printf("- Column `%s`: ", channel->name);
        text(channel->help);
        printf(".\n");
    }
}

static int physics(void)
{
    puts("# The forces {#forces}\n\nOne section for each force of a run, in the order of the ledger. Symbols: m mass, g gravity, rho density, "
         "d squash or depth, S the smooth onset of a thing that only pushes or only pulls, zeta share of critical damping, "
         "u, v, p, q the boat's velocities ahead, to port, in roll and in pitch.");
    for (int i = 0; i < dd_force_count(); i++)
        force(dd_force_at(i));
    return 1;
}

static int errors(void)
{
    puts("# Errors {#errors}\n\nStatus codes of the library, what they mean, how to mend it, and the program's exit status for each. "
         "A report or a run that breaks a limit is no error: exit status 1.\n\n| code | meaning | mend | exit status |\n|---|---|---|---|");
#define DD_STATUS(code, meaning, remedy, exit_status)                                                                               \
    printf("| `%s` | ", #code), text(meaning), printf(" | "), text(remedy), printf(" | %d |\n", exit_status);
#include <drawdock/status.def>
#undef DD_STATUS
    return 1;
}

int main(int argc, char **argv)
{
    static const struct { const char *name; int (*print)(void); } pages[] = {{"keys", keys}, {"physics", physics}, {"errors", errors}};
    for (size_t i = 0; argc == 2 && i < sizeof pages / sizeof *pages; i++)
        if (strcmp(argv[1], pages[i].name) == 0)
            return pages[i].print() && fflush(stdout) == 0 && !ferror(stdout) ? 0 : 3;
    fputs("usage: reference keys|physics|errors\n", stderr);
    return 2;
}
