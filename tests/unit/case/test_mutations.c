/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scenarios cut and changed at many places: each read ends with success or with errors that have a place. Run under the
   address sanitizer this also shows that no such file is read out of bounds. */
#include "tests/unit/case/cases.h"

static const char *const files[] = {SOURCE_DIR "/tests/unit/case/brochure.yaml", SOURCE_DIR "/tests/cli/bad/part-base.yaml",
                                    SOURCE_DIR "/scenarios/boats/open-five-metre.yaml", SOURCE_DIR "/scenarios/retrieve.yaml"};

static uint64_t next_random(uint64_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    return *seed ^= *seed << 17;
}

/* One change at a place: cut, drop, double, replace, insert something of YAML's, swap two stretches. */
static size_t mutate(const char *text, size_t size, char *out, uint64_t *seed)
{
    static const char *const inserts[] = {"\"", "{",  "}",     "[", "]",     ":",    "&a ",  "*a", "\n  ",
                                          "\t", "- ", "1e400", "%", "---\n", "\xff", "<<: ", "#",  ", "};
    size_t at = (size_t)(next_random(seed) % size), length = 1 + (size_t)(next_random(seed) % 24), used = at;
    if (at + length > size) length = size - at;
    memcpy(out, text, at);
    const char *insert = inserts[next_random(seed) % (sizeof inserts / sizeof inserts[0])];
    switch (next_random(seed) % 6) {
    case 0:
        return at; /* cut here */
    case 1:        /* drop a stretch */
        at += length;
        break;
    case 2: /* double it */
        memcpy(out + used, text + at, length);
        used += length;
        break;
    case 3: /* another character */
        out[used++] = (char)(next_random(seed) % 128);
        at++;
        break;
    case 4:
        memcpy(out + used, insert, strlen(insert));
        used += strlen(insert);
        break;
    default: { /* a stretch from elsewhere */
        size_t from = (size_t)(next_random(seed) % (size - length + 1));
        memcpy(out + used, text + from, length);
        used += length;
        at += length;
    }
    }
    memcpy(out + used, text + at, size - at);
    return used + size - at;
}

static void mutated_files_end_well(void **state)
{
    (void)state;
    char folder[64], path[256];
    make_folder(folder);
    uint64_t seed = 88172645463325252u;
    int good = 0, bad = 0;
    for (size_t f = 0; f < sizeof files / sizeof files[0]; f++) {
        size_t size;
        char *text = file_text(files[f], &size), *changed = malloc(2 * size + 100);
        assert_non_null(changed);
        for (int i = 0; i < 700; i++) {
            size_t length = mutate(text, size, changed, &seed);
            if (i % 3 == 0 && length > 0) { /* and once more */
                char *once = malloc(length);
                assert_non_null(once);
                memcpy(once, changed, length);
                length = length + 40 < 2 * size ? mutate(once, length, changed, &seed) : length;
                free(once);
            }
            write_file(folder, "mutated.yaml", changed, length, path);
            char *messages = read_messages(path, NULL, NULL); /* checks what each failed read promises */
            if (messages[0] == '\0')
                good++;
            else
                bad++;
            free(messages);
        }
        free(text);
        free(changed);
    }
    print_message("%d files read, %d refused\n", good, bad);
    assert_true(good > 20 && bad > 1000);
    remove_folder(folder);
}

/* Every prefix of a file: a cut anywhere. */
static void cut_files_end_well(void **state)
{
    (void)state;
    char folder[64], path[256];
    make_folder(folder);
    size_t size;
    char *text = file_text(files[1], &size);
    for (size_t length = 0; length < size; length += 1 + length % 2) {
        write_file(folder, "cut.yaml", text, length, path);
        free(read_messages(path, NULL, NULL));
    }
    free(text);
    remove_folder(folder);
}

static void mutated_overrides_end_well(void **state)
{
    (void)state;
    static const char *const texts[] = {"trailer.supports[rear cradle].above ground=0.45 m",
                                        "aboard=[{item: fuel, mass: 1 kg, at: [1 m, 0 m, 0 m]}]",
                                        "procedure[wind in].until.at the stop=yes", "ramp={slope: 1:8, crest level: 2 m}"};
    uint64_t seed = 362436069;
    for (int i = 0; i < 1500; i++) {
        const char *text = texts[i % 4];
        char changed[300], again[300];
        size_t length = mutate(text, strlen(text), changed, &seed);
        if (length > 0 && length < 120) length = mutate(memcpy(again, changed, length), length, changed, &seed);
        changed[length] = '\0';
        const char *overrides[] = {changed, NULL};
        free(read_messages(files[1], overrides, NULL));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(mutated_files_end_well), cmocka_unit_test(cut_files_end_well),
                                       cmocka_unit_test(mutated_overrides_end_well)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
