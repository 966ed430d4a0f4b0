/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The six files of `begin`, each figure with where it comes from. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/case/buffer.h"
#include "lib/crew/actions.h"
#include "lib/rig/rig.h"
#include "lib/study/begin.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef enum kind { PLACE, ANGLE, FORCE, MASS, SPEED, ACCELERATION, KINDS } kind;
static const struct {
    dd_dimension dimension;
    const char *units[2];
    int decimals[2];
} kinds[KINDS] = {
    [PLACE] = {DD_LENGTH, {"m", "in"}, {3, 2}},    [ANGLE] = {DD_ANGLE, {"deg", "deg"}, {1, 1}}, [FORCE] = {DD_FORCE, {"kN", "lbf"}, {1, 0}},
    [MASS] = {DD_MASS, {"kg", "lb"}, {0, 0}},      [SPEED] = {DD_SPEED, {"m/s", "ft/s"}, {2, 1}},
    [ACCELERATION] = {DD_ACCELERATION, {"m/s2", "ft/s2"}, {1, 1}},
};

typedef struct writing {
    const dd_begin *answers;
    const dd_begin_placed *placed;
    const dd_begin_found *found;
    dd_buffer out;
} writing;

/* A figure with its unit in the answerer's system; where it stands in the buffer its text is used at once. */
typedef struct figure {
    char text[DD_QUANTITY_TEXT];
} figure;
static figure quantity(const writing *w, kind of, double value)
{
    figure made;
    const int us = w->answers->us;
    const dd_unit *unit = dd_unit_find(kinds[of].units[us], kinds[of].dimension);
    dd_text(made.text, sizeof made.text, "%.*f %s", kinds[of].decimals[us], value * unit->denominator / unit->numerator, unit->spelling);
    return made;
}
#define Q(of, value) (quantity(w, of, value).text)

static const char *answer(const writing *w, int index) { return w->answers->text[index]; }
static const char *from(const writing *w, int index) { return w->answers->given[index] ? "as you said" : dd_begin_row_at(index)->source; }

static void head(writing *w, const char *what)
{
    dd_buffer_add(&w->out, "# %s, made by `drawdock begin`. Change any figure and ask again; `drawdock keys` lists every key,\n"
                           "# `drawdock show` what is assumed where nothing stands here.\n", what);
}

/* "key: answer   # where it comes from" */
static void said(writing *w, const char *key, int index)
{
    dd_buffer_add(&w->out, "%s: %s", key, answer(w, index));
    dd_buffer_pad(&w->out, 32);
    dd_buffer_add(&w->out, "# %s\n", from(w, index));
}

static void write_boat(writing *w)
{
    head(w, "The boat by its brochure");
    dd_buffer_add(&w->out, "name: Boat of %s\n", answer(w, DD_BEGIN_LENGTH));
    said(w, "length", DD_BEGIN_LENGTH);
    dd_buffer_add(&w->out, "length of: hull\n");
    said(w, "beam", DD_BEGIN_BEAM);
    said(w, "transom deadrise", DD_BEGIN_DEADRISE);
    said(w, "mass", DD_BEGIN_BOAT_MASS);
    dd_buffer_add(&w->out, "mass of: bare hull\n");
    said(w, "engine power", DD_BEGIN_POWER);
    said(w, "engine mass", DD_BEGIN_ENGINE_MASS);
    dd_buffer_add(&w->out, "# Worth measuring, and estimated until then: bow eye from transom, bow eye height, chine beam,\n"
                           "# centre from transom. Strakes: give them and `seat` finds which roller they catch.\n");
}

static void write_lines(writing *w, const dd_support *s)
{
    dd_buffer_add(&w->out, "    deadrise: %s\n    rows: %d\n    row spacing: %s\n    half spacings: [", Q(ANGLE, s->deadrise), s->rows, Q(PLACE, s->row_spacing));
    for (int i = 0; i < s->half_spacing_count; i++) dd_buffer_add(&w->out, "%s%s", i ? ", " : "", Q(PLACE, s->half_spacings[i]));
    dd_buffer_add(&w->out, "]\n");
}

static void write_support(writing *w, const dd_support *s)
{
    dd_buffer_add(&w->out, "  - kind: %s\n    name: %s\n    behind coupling: %s\n", dd_support_kind_at(s->kind)->name, s->name, Q(PLACE, s->behind_coupling));
    dd_buffer_add(&w->out, "    above ground: %s\n", Q(PLACE, s->above_ground));
    switch (s->kind) {
    case DD_SUPPORT_KEEL_ROLLER: dd_buffer_add(&w->out, "    width: %s\n    shape: cupped\n", Q(PLACE, s->width)); break;
    case DD_SUPPORT_ROCKER:
        write_lines(w, s);
        dd_buffer_add(&w->out, "    height settings: [");
        for (int i = 0; i < s->height_setting_count; i++) dd_buffer_add(&w->out, "%s%s", i ? ", " : "", Q(PLACE, s->height_settings[i]));
        dd_buffer_add(&w->out, "]\n    height setting: %d\n    rocker mass: %s\n", s->height_setting, Q(MASS, s->arm_mass));
        break;
    case DD_SUPPORT_CRADLE:
        write_lines(w, s);
        dd_buffer_add(&w->out, "    pivot: across\n");
        break;
    case DD_SUPPORT_SKID:
        dd_buffer_add(&w->out, "    length: %s\n    half spacing: %s\n", Q(PLACE, s->length), Q(PLACE, s->half_spacing));
        dd_buffer_add(&w->out, "    deadrise: %s\n    slope: %s\n", Q(ANGLE, s->deadrise), Q(ANGLE, s->slope));
        dd_buffer_add(&w->out, "    squash at rated load: %s\n", Q(PLACE, s->squash_at_rated_load));
        break;
    default:
        dd_buffer_add(&w->out, "    half spacing: %s\n    foot above ground: %s\n", Q(PLACE, s->half_spacing), Q(PLACE, s->foot_above_ground));
    }
    dd_buffer_add(&w->out, "    rated load: %s\n", Q(FORCE, s->rated_load));
}

static void write_winch(writing *w, const dd_trailer_parameters *t)
{
    dd_buffer_add(&w->out, "# The drum stands level with the bow eye, so that the strap pulls straight. Winch and strap as are usual for this mass.\nwinch:\n");
    dd_buffer_add(&w->out, "  behind coupling: %s\n  above ground: %s\n", Q(PLACE, t->winch.behind_coupling), Q(PLACE, t->winch.above_ground));
    dd_buffer_add(&w->out, "  strap rating: %s\n  rating: %s\n", Q(FORCE, t->winch.strap_rating), Q(FORCE, t->winch.rating));
    if (t->winch.drive == DD_DRIVE_ELECTRIC)
        dd_buffer_add(&w->out, "  drive: electric\n  speed: %s\n  speed at rating: %s\n", Q(SPEED, t->winch.speed), Q(SPEED, t->winch.speed_at_rating));
    else
        dd_buffer_add(&w->out, "  gear ratio: %.0f\n  handle length: %s\n", t->winch.gear_ratio, Q(PLACE, t->winch.handle_length));
    dd_buffer_add(&w->out, "  pretension: %s\n", Q(FORCE, t->winch.pretension));
    dd_buffer_add(&w->out, "bow stop:\n  behind coupling: %s\n  above ground: %s\n  half height: %s\n", Q(PLACE, t->bow_stop.behind_coupling),
                  Q(PLACE, t->bow_stop.above_ground), Q(PLACE, t->bow_stop.half_height));
}

static void write_trailer(writing *w)
{
    const dd_trailer_parameters *t = &w->placed->trailer;
    head(w, "A trailer set up for the boat");
    dd_buffer_add(&w->out, "# It is a proposal for a trailer that fits: supports stand where `drawdock seat` finds that each bears its share, the last by the transom,\n"
                           "# axles where the coupling gets its own. Measure yours and put its figures in the place of these; ratings are usual ones until you\n"
                           "# copy its plates.\n");
    dd_buffer_add(&w->out, "name: Trailer with %s\n", answer(w, DD_BEGIN_KIND));
    said(w, "mass", DD_BEGIN_TRAILER_MASS);
    said(w, "aggregate mass rating", DD_BEGIN_RATING);
    dd_buffer_add(&w->out, "coupling height: %s\ntyre radius: %s\n", Q(PLACE, t->coupling_height), Q(PLACE, t->tyre_radius));
    dd_buffer_add(&w->out, "rear end behind coupling: %s\n", Q(PLACE, t->rear_end_behind_coupling));
    dd_buffer_add(&w->out, "coupling rating: %s   # 12 %% of the trailer's rating, or what the ramp puts on it with some to spare\n", Q(FORCE, t->coupling_rating));
    dd_buffer_add(&w->out, "planned coupling load: %s   # 8 %% of the laden trailer: common practice; the axles stand for it\n", Q(FORCE, w->placed->coupling_load));
    if (t->axle_count > 1) dd_buffer_add(&w->out, "suspension: rocking beam        # axles that share their load, as is usual\n");
    dd_buffer_add(&w->out, "axles:\n");
    for (int i = 0; i < t->axle_count; i++)
        dd_buffer_add(&w->out, "  - {behind coupling: %s, rating: %s}\n", Q(PLACE, t->axles[i].behind_coupling), Q(MASS, t->axles[i].rating));
    dd_buffer_add(&w->out, "supports:\n");
    for (int i = 0; i < t->support_count; i++) write_support(w, &t->supports[i]);
    write_winch(w, t);
    dd_buffer_add(&w->out, "# Not checked until given: lamp height, frame clearance, track, wheels, brakes.\n");
}

#define SINKS (0.03 / 1000) /* the ball under its load, m/N, up to 60 mm: as lib/rig takes it */

static void write_vehicle(writing *w)
{
    static const struct {
        const char *name, *drive;
        double wheelbase, overhang, wading;
    } usual[] = {{"Four-wheel-drive utility", "four", 3.1, 1.25, 0.6}, {"Rear-wheel-drive pickup", "rear", 3.0, 1.2, 0.45}, {"Front-wheel-drive car", "front", 2.75, 1.1, 0.3}};
    const int which = (int)w->answers->value[DD_BEGIN_VEHICLE];
    const double sunk = fmin(0.06, SINKS * w->placed->coupling_load);
    head(w, "The vehicle");
    dd_buffer_add(&w->out, "name: %s\n", usual[which].name);
    said(w, "mass", DD_BEGIN_VEHICLE_MASS);
    dd_buffer_add(&w->out, "drive: %s\n# Usual ones of this kind, from memory: measure yours.\n", usual[which].drive);
    dd_buffer_add(&w->out, "wheelbase: %s\ncoupling behind rear axle: %s\n", Q(PLACE, usual[which].wheelbase), Q(PLACE, usual[which].overhang));
    /* As high without the trailer as makes the trailer stand level with it. */
    dd_buffer_add(&w->out, "coupling height: %s\nwading depth: %s\n", Q(PLACE, w->placed->trailer.coupling_height + sunk), Q(PLACE, usual[which].wading));
    dd_buffer_add(&w->out, "rear suspension squash: %s\nrated coupling load: %s\n", Q(PLACE, sunk), Q(FORCE, w->placed->coupling_load));
    if (*answer(w, DD_BEGIN_TOWING)) said(w, "braked towing rating", DD_BEGIN_TOWING);
    dd_buffer_add(&w->out, "# Not checked until given: gross mass rating, combination mass rating, tow ball rating%s.\n", *answer(w, DD_BEGIN_TOWING) ? "" : ", braked towing rating");
}

#define CREST 1.8 /* of the ramp above the water, m */

static void write_ramp(writing *w)
{
    const double slope = w->answers->value[DD_BEGIN_SLOPE], wet = CREST / tan(slope);
    head(w, "The ramp");
    dd_buffer_add(&w->out, "# Levels are above the water as you go (0).\nname: Ramp of %s\n", answer(w, DD_BEGIN_SLOPE));
    said(w, "slope", DD_BEGIN_SLOPE);
    dd_buffer_add(&w->out, "crest level: %s\n", Q(PLACE, CREST));
    dd_buffer_add(&w->out, "toe level: -%s   # %s\n", answer(w, DD_BEGIN_TOE_DEPTH), from(w, DD_BEGIN_TOE_DEPTH));
    dd_buffer_add(&w->out, "# Concrete, dry and wet: bands of friction from memory. Weed is far slipperier: look at yours.\nsurfaces:\n");
    dd_buffer_add(&w->out, "  - {name: dry concrete, to: %s, friction low: 0.6, friction high: 0.8}\n", Q(PLACE, wet));
    dd_buffer_add(&w->out, "  - {name: wet concrete, from: %s, friction low: 0.4, friction high: 0.6}\n", Q(PLACE, wet));
}

static void write_scenario(writing *w, const char *action, const char *title)
{
    const double length = w->answers->value[DD_BEGIN_LENGTH];
    head(w, title);
    dd_buffer_add(&w->out, "drawdock: 1\ntitle: %s, boat of %s\naction: %s\n", title, answer(w, DD_BEGIN_LENGTH), action);
    dd_buffer_add(&w->out, "boat: boat.yaml\ntrailer: trailer.yaml\nvehicle: vehicle.yaml\nramp: ramp.yaml\n");
    dd_buffer_add(&w->out, "water: {level: %s, kind: %s}\n", Q(PLACE, 0.0), answer(w, DD_BEGIN_WATER));
    dd_buffer_add(&w->out, "# Places: forward of the transom, to port, above the keel; a guess until you measure.\naboard:\n");
    dd_buffer_add(&w->out, "  - {item: fuel, volume: %s, contents: petrol, at: [%s, ", answer(w, DD_BEGIN_FUEL), Q(PLACE, 0.25 * length));
    dd_buffer_add(&w->out, "%s, ", Q(PLACE, 0.0));
    dd_buffer_add(&w->out, "%s]}\n", Q(PLACE, 0.25));
    dd_buffer_add(&w->out, "  - {item: gear, mass: %s, at: [%s, ", answer(w, DD_BEGIN_GEAR), Q(PLACE, 0.45 * length));
    dd_buffer_add(&w->out, "%s, ", Q(PLACE, 0.0));
    dd_buffer_add(&w->out, "%s]}\n", Q(PLACE, 0.4));
    dd_buffer_add(&w->out, "forces: {strap: {strap length: %s}}\n", Q(PLACE, 2 + 1.25 * length));
}

static void depth_note(writing *w, bool works)
{
    dd_buffer_add(&w->out, works ? "# The hub's depth is within the band that `drawdock depth` finds for this rig.\n"
                                 : "# No place on this ramp keeps every limit: this one comes nearest. `drawdock depth` says what stands in the way.\n");
}

/* Most that the skipper gives, in tens: an engine that is strong for its boat would throw her against the guides. */
static double throttle(const dd_begin *answers)
{
    const double usual = DD_BEGIN_USUAL_POWER * answers->value[DD_BEGIN_BOAT_MASS] / answers->value[DD_BEGIN_POWER];
    return 0.1 * round(10 * fmin(0.6, fmax(0.2, 0.6 * usual)));
}

#define BACKING 0.4 /* m/s; a boat nearly afloat takes the load off the vehicle's rear wheels, and a faster rig slides on */
#define BRAKING 0.4 /* m/s2, as people do */

static void write_launch(writing *w)
{
    /* While the foot goes to the brake and the rig slows down it runs on (a smooth stop takes half as
       much again as an even one): half of the room beyond the best place may go for that. */
    const double deeper = (BACKING * dd_reaction + 0.75 * BACKING * BACKING / BRAKING) * sin(w->answers->value[DD_BEGIN_SLOPE]);
    const double early = fmax(0, deeper - 0.5 * w->found->launch_room);
    write_scenario(w, "launch", "Launch");
    depth_note(w, w->found->launch_works);
    dd_buffer_add(&w->out, "start: {hub depth: %s, engine: up}\nprocedure:\n", Q(PLACE, -0.4));
    if (early > 0) dd_buffer_add(&w->out, "  # The brake goes on %s of depth early: the rig runs on.\n", Q(PLACE, early));
    dd_buffer_add(&w->out, "  - back down: {speed: %s, ", Q(SPEED, BACKING));
    dd_buffer_add(&w->out, "acceleration: %s, until: {hub depth: ", Q(ACCELERATION, BRAKING));
    dd_buffer_add(&w->out, "%s}}\n", Q(PLACE, w->found->launch - early));
    if (w->found->driven)
        dd_buffer_add(&w->out, "  - engine down:\n  - let strap off:\n  - drive off: {speed: %s, throttle: %.0f %%", Q(SPEED, 0.5), 100 * throttle(w->answers));
    else
        dd_buffer_add(&w->out, "  - let strap off:\n  - push off: {force: %s", w->answers->us ? "40 lbf" : "180 N");
    dd_buffer_add(&w->out, ", until: {distance clear: %s}, time limit: 60 s}\n", Q(PLACE, 0.6));
}

/* Of the strap by hand, m/s: as many turns of the handle whatever the gear. */
static double hand_speed(const dd_winch_parameters *winch) { return fmin(0.1, 0.6 / winch->gear_ratio); }

static void write_retrieve(writing *w)
{
    write_scenario(w, "retrieve", "Retrieve");
    depth_note(w, w->found->retrieve_works);
    dd_buffer_add(&w->out, "start: {hub depth: %s, bow distance: ", Q(PLACE, w->found->retrieve));
    dd_buffer_add(&w->out, "%s, offset to port: ", Q(PLACE, 0.3));
    dd_buffer_add(&w->out, "%s, heading: 1 deg}\nprocedure:\n", Q(PLACE, 0.02));
    const bool electric = w->placed->trailer.winch.drive == DD_DRIVE_ELECTRIC; /* goes as fast as it goes */
    dd_buffer_add(&w->out, "  - hook on:\n  - wind in: {%s%s%stime limit: %.0f s}\n", electric ? "" : "speed: ", electric ? "" : Q(SPEED, hand_speed(&w->placed->trailer.winch)),
                  electric ? "" : ", ", 60 + 30 * w->answers->value[DD_BEGIN_LENGTH]);
    dd_buffer_add(&w->out, "  - pull out: {speed: %s, until: {water clear: ", Q(SPEED, 0.5));
    dd_buffer_add(&w->out, "%s}}\n", Q(PLACE, 0.3));
}

void dd_begin_files_free(dd_begin_file files[DD_BEGIN_FILES])
{
    for (int i = 0; i < DD_BEGIN_FILES; i++) {
        free(files[i].text);
        files[i].text = NULL;
    }
}

dd_status dd_begin_files(const dd_begin *answers, const dd_begin_found *found, dd_begin_file files[DD_BEGIN_FILES], dd_error *error)
{
    static const struct {
        const char *name;
        void (*write)(writing *);
    } all[DD_BEGIN_FILES] = {{"boat.yaml", write_boat}, {"trailer.yaml", write_trailer}, {"vehicle.yaml", write_vehicle},
                             {"ramp.yaml", write_ramp}, {"launch.yaml", write_launch},   {"retrieve.yaml", write_retrieve}};
    for (int i = 0; i < DD_BEGIN_FILES; i++) files[i] = (dd_begin_file){all[i].name, NULL};
    dd_begin_placed *placed = malloc(sizeof *placed);
    if (placed == NULL) return dd_fail(error, DD_ERROR_MEMORY, "begin", "no memory for the trailer");
    dd_status status = dd_begin_place(answers, found, placed, error);
    for (int i = 0; i < DD_BEGIN_FILES && status == DD_OK; i++) {
        writing w = {.answers = answers, .placed = placed, .found = found};
        all[i].write(&w);
        files[i].text = dd_buffer_take(&w.out);
        if (files[i].text == NULL) status = dd_fail(error, DD_ERROR_MEMORY, "begin", "no memory for the files");
    }
    free(placed);
    if (status != DD_OK) dd_begin_files_free(files);
    return status;
}
