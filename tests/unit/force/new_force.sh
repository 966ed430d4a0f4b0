# SPDX-License-Identifier: GPL-3.0-or-later
# What a new force costs: its file and one line in forces.def (in the tree also local.mk, reference data and a unit test). A
# dummy force is built outside the tree against the library as it is; reader, reference, schema, channels, `without` and the
# computation must know it. Grade: closed form (yes or no).
set -u
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
mkdir -p "$work/lib/force"
{ cat "$SOURCE_DIR/lib/force/forces.def"; echo 'DD_FORCE(dd_force_dummy)'; } >"$work/lib/force/forces.def"

cat >"$work/dummy.c" <<'EOF'
#include "lib/base/error.h"
#include "lib/force/water.h"
#include <stdlib.h>
typedef struct dummy { double shove; } dummy;
static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    const dummy *d = instance;
    (void)k, (void)commands, (void)memory, (void)gradient;
    if (channels != NULL) channels[0] = d->shove;
    load->hull[2] = d->shove;
}
static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    dummy *made = malloc(sizeof *made);
    (void)model;
    *instance = made;
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dummy", "no memory");
    *made = *(const dummy *)parameters;
    return DD_OK;
}
static const dd_key keys[] = {
    {.name = "shove", .type = DD_KEY_QUANTITY, .dimension = DD_FORCE, .offset = offsetof(dummy, shove), .least = 0, .most = 100,
     .fallback = 7, .source = "practice", .help = "how hard the dummy shoves upward"}, {0}};
static const char *const sources[] = {"practice", NULL};
static const dd_channel channels_of[] = {{"dummy_shove_N", "N", "the dummy's shove"}, {0}};
const dd_force_kind dd_force_dummy = {.name = "dummy", .help = "a force that only this test knows", .acts_on = DD_ACTS_ON_HULL,
    .parameters_size = sizeof(dummy), .keys = keys, .sources = sources, .channels = channels_of, .prepare = prepare,
    .free = free, .evaluate = evaluate, .regimes = dd_water_regimes};
EOF

cat >"$work/main.c" <<'EOF'
#include "lib/case/case.h"
#include "lib/study/model.h"
#include <drawdock/study.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
static int faults;
#define CHECK(what, holds) ((holds) ? (void)0 : (void)(printf("FAILED: %s\n", what), faults++))
static dd_case_file *read_with(const char *override)
{
    const char *overrides[] = {"time limit=1 s", override, NULL};
    dd_case_file *file = NULL;
    dd_error_list list;
    if (dd_case_read(SCENARIO, overrides, NULL, &file, &list) != DD_OK) {
        printf("FAILED: %s: %s\n", list.errors[0].place, list.errors[0].message);
        exit(1);
    }
    return file;
}
static double last_load(const dd_case *scenario)
{
    dd_result *r = NULL;
    double load = NAN;
    dd_error error;
    if (dd_study_run(scenario, NULL, NULL, &r, &error) != DD_OK) printf("FAILED: %s: %s\n", error.place, error.message), faults++;
    for (int c = 0; r != NULL && c < r->column_count; c++)
        if (strcmp(r->columns[c].name, "support_load_N") == 0) load = r->rows[(r->row_count - 1) * r->column_count + c];
    dd_result_free(r);
    return load;
}
int main(void)
{
    dd_case_file *with = read_with("forces.dummy.shove=42 N"), *without = read_with("without=[dummy]"), *plain = read_with(NULL);
    const double *shove = dd_case_force_parameters(dd_case_of(with), dd_force_count() - 1);
    CHECK("the reader fills its coefficient", shove != NULL && *shove == 42);
    shove = dd_case_force_parameters(dd_case_of(plain), dd_force_count() - 1);
    CHECK("its default stands", shove != NULL && *shove == 7);
    char *reference = dd_case_keys(0), *schema = dd_case_keys(1), *shown = dd_case_show(with, 0);
    CHECK("the reference has it", reference != NULL && strstr(reference, "how hard the dummy shoves upward") != NULL);
    CHECK("the schema has it", schema != NULL && strstr(schema, "\"dummy\": {") != NULL && strstr(schema, "\"shove\": {") != NULL);
    CHECK("show has it", shown != NULL && strstr(shown, "dummy:") != NULL && strstr(shown, "shove: 42 N") != NULL);
    dd_study_model *m = NULL;
    CHECK("a model is made", dd_study_model_create(dd_case_of(with), &m, NULL) == DD_OK);
    CHECK("its channel is there", m != NULL && dd_system_channel(m->system, &dd_force_dummy, 0, "dummy_shove_N") >= 0);
    dd_study_model_free(m);
    CHECK("without leaves it out", dd_study_model_create(dd_case_of(without), &m, NULL) == DD_OK && dd_system_find(m->system, &dd_force_dummy) == NULL);
    dd_study_model_free(m);
    double less = last_load(dd_case_of(without)) - last_load(dd_case_of(with));
    printf("42 N upward take %.2f N off the supports\n", less);
    /* The strap, which stays as long as it is, carries part of a change; the rest is on the supports. */
    CHECK("it acts", less > 21 && less < 63);
    free(reference), free(schema), free(shown);
    dd_case_free(with), dd_case_free(without), dd_case_free(plain);
    return faults != 0;
}
EOF

unset MAKEFLAGS MFLAGS MAKELEVEL
libraries=$(printf 'include Makefile\nshow: ; @echo $(library_needs)\n' | "$MAKE" -s -C "$BUILD_DIR" -f - show)
# shellcheck disable=SC2086 # words of flags
${CC:-cc} -std=c11 -D_XOPEN_SOURCE=700 ${SANITIZED-} -DSCENARIO="\"$SOURCE_DIR/scenarios/launch.yaml\"" \
    -I"$work" -I"$SOURCE_DIR" -I"$SOURCE_DIR/include" -o "$work/program" \
    "$work/main.c" "$work/dummy.c" "$SOURCE_DIR/lib/force/list.c" "$BUILD_DIR/libdrawdock.a" $libraries -lm || exit 1
"$work/program" && echo '[  PASSED  ] a force in one file and one line'
