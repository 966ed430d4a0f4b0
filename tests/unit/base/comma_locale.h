/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A locale with a decimal comma, made for the test where the system has none. */
#ifndef DD_TESTS_COMMA_LOCALE_H
#define DD_TESTS_COMMA_LOCALE_H
#include <locale.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static inline bool set_comma_locale(void)
{
    static const char *const names[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "nl_NL.UTF-8", "es_ES.UTF-8", "de_DE"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (setlocale(LC_ALL, names[i]) != NULL) return true;
    char folder[] = "/tmp/drawdock-locale-XXXXXX", command[256];
    if (mkdtemp(folder) == NULL) return false;
    snprintf(command, sizeof command, "localedef -i de_DE -f UTF-8 %s/de_DE.UTF-8 >/dev/null 2>&1", folder);
    bool made = system(command) == 0;
    setenv("LOCPATH", folder, 1);
    bool is_set = made && setlocale(LC_ALL, "de_DE.UTF-8") != NULL;
    snprintf(command, sizeof command, "rm -rf %s", folder);
    return system(command) == 0 && is_set;
}

/* Whether printf really writes a comma: the premise of the test. */
static inline bool comma_is_written(void)
{
    char text[16];
    snprintf(text, sizeof text, "%g", 0.5);
    return strcmp(text, "0,5") == 0;
}
#endif
