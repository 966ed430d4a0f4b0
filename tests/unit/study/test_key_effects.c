/* SPDX-License-Identifier: GPL-3.0-or-later */
/* No key is forgotten on its way into the computation: changing any of them, as a user would by --with, changes its field
   and some figure or word of a result (9 digits). Grade: closed form (yes or no). Keys without an effect are listed with the
   reason. */
#include "lib/base/units.h"
#include "lib/case/case.h"
#include "lib/case/show.h"
#include "tests/unit/study/fleet_of_skids.h"
#include <drawdock/study.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <cmocka.h>

#define SCENARIOS SOURCE_DIR "/scenarios/"
#define CASES SOURCE_DIR "/tests/unit/case/"

static const struct {
    const char *path, *why;
} without_effect[] = {
    {"drawdock", "the version of the format has one value"},
    {"action", "launch and retrieve are different procedures: each of the scenarios has its own"},
    {"boat.name", "a name, for the reader of the file"},
    {"trailer.name", "a name, for the reader of the file"},
    {"fleet.rigs.launch", "names a file, which the program reads: tests/cli/fleet.sh"},
    {"fleet.rigs.retrieve", "as launch"},
    {"vehicle.name", "a name, for the reader of the file"},
    {"ramp.name", "a name, for the reader of the file"},
    {"ramp.surfaces.name", "a name, for the reader of the file"},
    {"aboard.item", "a name, for the reader of the file"},
    {"boat.length of", "the other choice needs the key `platform length` beside it, which shows its effect itself"},
    {"trailer.aggregate mass rating", "stands in for a missing axle rating; both scenarios give those"},
    {"procedure.let strap off.time limit", "the step ends at once"},
    {"procedure.hook on.time limit", "the step ends at once"},
    {"start.engine", "decides which steps can be done: tests/unit/crew/test_order"},
    {"procedure.let line go.time limit", "the step ends at once"},
    {"procedure.free spool on.time limit", "the step ends at once"},
    {"procedure.free spool off.time limit", "the step ends at once"},
    {"procedure.stop.acceleration", "each driving step stops the rig at its own end, so that `stop` finds it at rest"},
    {"water.tide.read.file", "names a file: tests/unit/case/test_tide_file"},
    {"water.tide.read.separator", "another than the file's is refused: tests/cli/bad/164"},
    {"water.tide.kind", "each kind has lists of its own, so that another kind alone is refused: tests/cli/bad/146"},
    {"trailer.supports.width", "a keel in the middle does not feel it; checked by tests/unit/force/test_contact"},
    {"trailer.supports.under", "skids moved under the keel no longer meet this hull; checked by tests/unit/force/test_supports"},
    {"trailer.supports.shape", "as width; checked by tests/unit/force/test_support_loads"},
    {"trailer.supports.flange height", "as width; checked by tests/unit/force/test_support_loads"},
    {"trailer.supports.bracket width", "as width; checked by tests/unit/force/test_support_loads"},
    {"trailer.supports.bracket drop", "as width; checked by tests/unit/force/test_support_loads"},
};

typedef dd_status (*study)(const dd_case *, dd_progress, void *, dd_result **, dd_error *);
typedef struct setup {
    const char *name, *file;
    study study;
    const char *overrides[8];
    const char *only[14]; /* beginnings of the keys tried; none: all */
} setup;

static dd_status bands(const dd_case *scenario, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    return dd_study_bands(scenario, dd_study_run, progress, context, result, error);
}

/* Reports, as studies: what they say is kept here. */
static char *report_text;
static dd_status keep_report(dd_status status, dd_report *report, dd_result **result)
{
    *result = NULL;
    report_text = status == DD_OK ? dd_report_json(report) : NULL;
    dd_report_free(report);
    return status;
}

#define REPORTED(name, asked) \
    static dd_status name(const dd_case *scenario, dd_progress progress, void *context, dd_result **result, dd_error *error) \
    { \
        dd_report *report = NULL; \
        (void)progress, (void)context; \
        const dd_status status = asked; \
        return keep_report(status, report, result); \
    }
REPORTED(weighed, dd_study_weigh(scenario, &report, error))
REPORTED(braked, dd_study_brake(scenario, &report, error))
REPORTED(seated, dd_study_seat(scenario, &report, error))
REPORTED(deep, dd_study_ramp_depth(scenario, 0, NULL, &report, error))
REPORTED(fleeted, fleet_of_skids(scenario, &report, error))

static dd_status adjusted(const dd_case *scenario, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    dd_report *report;
    char *changes = NULL;
    dd_status status = dd_study_adjust(scenario, progress, context, &report, &changes, error);
    free(changes);
    return keep_report(status, report, result);
}

/* A clock of the zone's name, so that the name is seen to matter. */
static dd_status windowed(const dd_case *scenario, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    const dd_windows_asked asked = {.date = {2026, 7, 1}, .launch_at = NAN, .back_at = NAN, .clock = {.name = scenario->place.time_zone}};
    dd_report *report;
    (void)progress, (void)context;
    dd_status status = dd_study_windows(&scenario, 1, &asked, &report, NULL, error);
    return keep_report(status, report, result);
}

/* From the cheapest on; a key that showed its effect is not tried again. */
static const setup setups[] = {
    {"launch, 1 s", SCENARIOS "launch.yaml", dd_study_run, {"time limit=1 s", "record interval=200 ms"}, {NULL}},
    {"retrieve, 1 s", SCENARIOS "retrieve.yaml", dd_study_run, {"time limit=1 s", "record interval=200 ms"},
     {"trailer.tyre width", "trailer.frame volume", "vehicle.tyre width", "ramp.surfaces.wet", "water.kind", "water.temperature", "water.density", "water.current", "start.", "procedure.",
      "limits.", "forces.wave damping.waves"}},
    {"every key, 1 s", CASES "brochure.yaml", dd_study_run, {"time limit=1 s", "record interval=200 ms"},
     {"boat.platform length", "boat.engine mass", "trailer.suspension", "trailer.supports.roller diameter", "trailer.supports.side", "trailer.supports.deadrise",
      "trailer.tilting frame.", "trailer.safety chain.rating", "trailer.transom ties.rating", "procedure.wind in.until.distance clear"}},
    {"supports of every kind, 1 s", CASES "supports.yaml", dd_study_run, {"time limit=1 s", "record interval=200 ms"}, {"trailer.supports"}},
    {"off the skids", CASES "supports.yaml", dd_study_run,
     {"time limit=4 s", "record interval=500 ms", "start.hub depth=350 mm", "procedure=[{let strap off: {}}, {push off: {force: 190 N, until: {after: 5 s}}}]"},
     {"trailer.supports.wet friction"}},
    {"skids out of the water", CASES "supports.yaml", dd_study_run,
     {"time limit=2 s", "record interval=500 ms", "start.hub depth=500 mm", "procedure=[{pull out: {speed: 0.6 m/s, until: {after: 2 s}}}]"}, {"trailer.supports.stays wet"}},
    {"by survey, 1 s", CASES "surveyed.yaml", dd_study_run, {"time limit=1 s", "record interval=200 ms"}, {"boat.engine power", "boat.stations", "ramp.point", "procedure.wait"}},
    {"settle", SCENARIOS "launch.yaml", dd_study_settle, {"start.hub depth=420 mm"}, {"trailer.winch.", "ramp.scour.mound height", "limits.afloat share", "limits.stern lift share"}},
    {"launch in deep water", SCENARIOS "launch.yaml", dd_study_run, {"start.hub depth=300 mm", "record interval=500 ms", "time limit=40 s"}, {"procedure.", "limits."}},
    {"afloat in a stream", SCENARIOS "retrieve-cross-stream.yaml", dd_study_run, {"record interval=200 ms", "time limit=2 s"},
     {"forces.wave damping", "forces.cross flow", "forces.resistance", "forces.rig drag", "water.viscosity", "water.current", "water.wall to"}},
    {"wind in from near", SCENARIOS "retrieve.yaml", dd_study_run, {"start.bow distance=0 m", "start.offset to port=0 mm", "record interval=500 ms", "time limit=12 s"},
     {"trailer.winch.", "forces.strap", "procedure.", "water.viscosity"}},
    {"stop and wait", SCENARIOS "launch.yaml", dd_study_run,
     {"record interval=500 ms", "procedure=[{back down: {speed: 0.3 m/s, until: {after: 1 s}}}, {stop: {}}, {wait: {until: {after: 1 s}}}]"}, {"procedure.", "start.strap"}},
    {"wind in at the winch's speed", SCENARIOS "retrieve.yaml", dd_study_run,
     {"procedure=[{hook on: {}}, {wind in: {}}]", "record interval=200 ms", "time limit=3 s"}, {"trailer.winch.speed"}},
    {"an electric winch", SCENARIOS "retrieve.yaml", dd_study_run,
     {"start.bow distance=0 m", "start.strap=on", "trailer.winch.drive=electric", "procedure=[{wind in: {}}]", "record interval=200 ms", "time limit=2 s"},
     {"trailer.winch.speed at rating"}},
    {"a wire wound by hand", SCENARIOS "retrieve.yaml", dd_study_run,
     {"start.bow distance=0 m", "start.strap=on", "trailer.winch.kind=wire", "procedure=[{take up slack: {speed: 0.1 m/s}}]", "record interval=200 ms", "time limit=10 s"},
     {"trailer.winch.drum width", "procedure.take up slack.tension"}},
    {"the drum runs", SCENARIOS "launch.yaml", dd_study_run, {"procedure=[{free spool on: {}}, {wait: {until: {after: 0.5 s}}}]", "record interval=100 ms"}, {"trailer.winch.drag"}},
    {"driven on", SCENARIOS "retrieve.yaml", dd_study_run,
     {"start={hub depth: 450 mm, bow distance: 3 m, offset to port: 100 mm, speed: 0.5 m/s}", "record interval=500 ms", "time limit=7 s",
      "procedure=[{drive on: {until: {bow distance: 1.5 m}}}, {drive off: {until: {distance clear: 2 m}}}, {engine up: {takes: 0.5 s}}, "
      "{engine down: {takes: 0.5 s}}, {hold line: {until: {after: 0.5 s}}}, {let line go: {}}, {wait: {until: {after: 0.2 s}}}]"},
     {"skipper.", "start.speed", "forces.thrust", "procedure.drive", "procedure.engine", "procedure.hold", "procedure.let"}},
    {"by hand", SCENARIOS "retrieve.yaml", dd_study_run, {"start.bow distance=0.5 m", "record interval=200 ms", "time limit=8 s",
      "procedure=[{hold line: {until: {after: 1 s}}}, {engine down: {takes: 1 s}}, {engine up: {takes: 1 s}}, {wait: {until: {after: 0.2 s}}}]"},
     {"procedure.engine", "procedure.hold"}},
    {"pulled out in steps", SCENARIOS "retrieve.yaml", dd_study_run, {"start.bow distance=0 m", "start.strap=on", "record interval=500 ms", "time limit=12 s",
      "procedure=[{take up slack: {until: {after: 1 s}}}, {free spool on: {}}, {free spool off: {}}, {pay out: {until: {after: 1 s}}}, "
      "{pull out: {distance: 0.2 m}}, {stop: {brake: park}}, {chock: {takes: 0.5 s}}, {unchock: {takes: 0.5 s}}, "
      "{back down: {distance: 0.1 m}}]"},
     {"start.strap", "trailer.winch.drag", "procedure."}},
    {"bands, 1 s", SCENARIOS "launch.yaml", bands, {"time limit=1 s", "record interval=500 ms"}, {"limits.height tolerance"}},
    {"at home", SCENARIOS "retrieve.yaml", dd_study_run, {"procedure=[{wait: {until: {after: 0.2 s}}}]", "record interval=100 ms"}, {"trailer.planned coupling load"}},
    {"in moving water", SCENARIOS "retrieve-cross-stream.yaml", dd_study_run,
     {"record interval=200 ms", "time limit=6 s", "water.wave={height: 0.1 m, period: 3 s, depth: 2 m, reflection: 0.5}",
      "water.surge={height: 0.1 m, period: 4 s}", "water.wall to=18 m", "water.wind={speed: 10 knot, toward: 60 deg}",
      "forces.wind={cabin side area: 1 m2, cabin front area: 1 m2}"},
     {"water.wall", "water.surge", "water.wave", "water.wind", "forces.wind"}},
    {"levels over time", CASES "moving-water.yaml", dd_study_run, {"time limit=1 s", "record interval=200 ms"}, {"water.levels", "ramp.weed"}},
    {"on another datum", CASES "moving-water.yaml", dd_study_run,
     {"time limit=1 s", "record interval=200 ms", "water.datums=[{name: gauge zero, height: 0 m}, {name: other, height: 0.1 m}]"}, {"water.datum"}},
    {"a creek on another datum", CASES "tide.yaml", deep,
     {"water.datums=[{name: LAT, height: -1.38 m}, {name: MLLW, height: -1.2 m}, {name: land datum, height: 0 m}, {name: other, height: -1.3 m}]"}, {"water.tide.subordinate.datum"}},
    {"tide by constants", CASES "tide.yaml", deep, {NULL}, {"water.time", "water.datums", "water.set up", "water.tide"}},
    {"tide by a file of constants", CASES "tide-file.yaml", deep, {NULL}, {"water.tide.read"}},
    {"tide by a file of high and low waters", CASES "tide-table-file.yaml", deep, {NULL}, {"water.tide.read"}},
    {"tide by a table", CASES "tide-table.yaml", deep, {NULL}, {"ramp.datum", "water.tide.points"}},
    {"beyond the toe", SCENARIOS "launch.yaml", dd_study_run,
     {"time limit=1 s", "record interval=200 ms", "ramp.toe level=1 m", "ramp.scour={depth: 0.2 m, mound height: 0.1 m}"}, {"ramp.scour"}},
    {"wheels in the wash", SCENARIOS "launch.yaml", dd_study_run, {"time limit=1 s", "record interval=200 ms", "start.hub depth=500 mm",
      "ramp.surfaces=[{friction low: 0.5, friction high: 0.6, wet friction low: 0.3, wet friction high: 0.4, sinkage: 5 mm, sinkage rate: 1 mm/s}]"},
     {"ramp."}},
    {"wheels on weed", SCENARIOS "launch.yaml", dd_study_run,
     {"time limit=1 s", "record interval=200 ms", "start.hub depth=600 mm", "ramp.weed={from level: -1 m, to level: 1.2 m}"}, {"ramp.weed"}},
    {"the vehicle wades", SCENARIOS "retrieve.yaml", dd_study_run, {"time limit=1 s", "record interval=200 ms", "start.hub depth=1150 mm", "trailer.frame volume=60 L"},
     {"vehicle.", "trailer.frame volume", "trailer.flooded share", "trailer.tyre width", "forces.rig drag"}},
    {"backs into deep water", SCENARIOS "launch.yaml", dd_study_run, {"time limit=3 s", "record interval=500 ms", "start.hub depth=200 mm"}, {"forces.rig drag"}},
    {"parked and chocked", SCENARIOS "launch.yaml", dd_study_run,
     {"record interval=500 ms", "procedure=[{stop: {brake: park}}, {chock: {wheels of: trailer}}, {wait: {until: {after: 2 s}}}]",
      "ramp.surfaces=[{friction low: 0.2, friction high: 0.3}]"},
     {"vehicle.park lock", "forces.wheels."}},
    {"chocks hold", SCENARIOS "launch.yaml", dd_study_run,
     {"record interval=500 ms", "procedure=[{chock: {wheels of: trailer, takes: 0.6 s}}, {stop: {brake: park}}, {wait: {until: {after: 0.5 s}}}]",
      "ramp.surfaces=[{friction low: 0.2, friction high: 0.3}]"},
     {"procedure.chock", "forces.wheels.chock share"}},
    {"chocks are taken away", SCENARIOS "launch.yaml", dd_study_run,
     {"record interval=500 ms", "procedure=[{chock: {wheels of: trailer, takes: 0.6 s}}, {chock: {wheels of: vehicle, takes: 0.6 s}}, {stop: {brake: park}}, "
      "{unchock: {wheels of: trailer, takes: 0.6 s}}, {wait: {until: {after: 0.5 s}}}]",
      "ramp.surfaces=[{friction low: 0.2, friction high: 0.3}]"},
     {"procedure.unchock"}},
    {"wheels spin", SCENARIOS "launch.yaml", dd_study_run, {"record interval=500 ms", "procedure=[{pull out: {speed: 0.5 m/s, until: {after: 2 s}}}]",
      "ramp.surfaces=[{friction low: 0.05, friction high: 0.1}]"},
     {"forces.wheels."}},
    {"the frame bears on the crest", SCENARIOS "launch.yaml", dd_study_run,
     {"start.hub depth=-1750 mm", "record interval=500 ms", "time limit=2 s", "trailer.frame clearance=5 mm"}, {"trailer.frame clearance", "forces.frame contact."}},
    {"the keel lies on the frame", SCENARIOS "launch.yaml", dd_study_run,
     {"record interval=200 ms", "time limit=4 s", "procedure=[{let strap off: {}}, {push off: {force: 400 N, until: {after: 3 s}}}]", "trailer.frame height=660 mm", "trailer.cross members=[{behind coupling: 3.2 m, above ground: 572 mm}]"},
     {"trailer.frame height", "trailer.cross members", "forces.bow on frame."}},
    {"the bow comes onto the drawbar off its middle", SCENARIOS "retrieve.yaml", dd_study_run, {"record interval=200 ms", "time limit=5 s", "start.heading=0 deg", "start.bow distance=0 m",
      "procedure=[{hook on: {}}, {wind in: {speed: 0.5 m/s}}]", "trailer.frame height=800 mm", "trailer.supports=[{kind: keel roller, name: r, behind coupling: 5.2 m, above ground: 300 mm}]"}, {"trailer.drawbar width", "forces.bow on frame.break-away share"}},
    {"the forefoot lies on a member's end", SCENARIOS "retrieve.yaml", dd_study_run, {"record interval=200 ms", "time limit=1 s", "start.heading=0 deg",
      "trailer.cross members=[{behind coupling: 7.2 m, above ground: 800 mm, length: 90 mm}]"}, {"trailer.cross members.length"}},
    {"off the ball", SCENARIOS "launch.yaml", dd_study_run,
     {"procedure=[{rope on: {takes: 0.6 s}}, {uncouple: {takes: 0.6 s}}, {lower on the rope: {speed: 0.3 m/s, until: {after: 3 s, trailer distance: 0.5 m}}}]",
      "trailer.jockey wheel={behind coupling: 0.3 m}", "trailer.rope={length: 0.2 m, turns round the bar: 1, hand hold: 100 N}",
      "record interval=500 ms"},
     {"trailer.jockey wheel", "trailer.rope", "forces.jockey wheel", "procedure.rope", "procedure.uncouple", "procedure.lower"}},
    {"off the ball in sand", SCENARIOS "launch.yaml", dd_study_run, {"procedure=[{uncouple: {takes: 0.6 s}}, {wait: {until: {after: 1 s}}}]", "record interval=500 ms",
      "trailer.jockey wheel={behind coupling: 0.3 m}", "ramp.surfaces=[{friction low: 0.5, friction high: 0.6, sinkage: 5 mm}]"}, {"trailer.jockey wheel.wheel width"}},
    {"and back on it", SCENARIOS "launch.yaml", dd_study_run,
     {"procedure=[{rope on: {takes: 0.6 s}}, {uncouple: {takes: 0.6 s}}, {haul out by the rope: {speed: 0.3 m/s, until: {after: 1 s}}}, "
      "{chock: {wheels of: trailer, takes: 0.6 s}}, {back down: {speed: 0.1 m/s, until: {trailer distance: 0.1 m}}}, {couple: {takes: 0.6 s}}, "
      "{rope off: {takes: 0.6 s}}]",
      "trailer.jockey wheel={behind coupling: 0.3 m}", "trailer.rope={length: 0.2 m, turns round the bar: 3, hand hold: 300 N}",
      "record interval=500 ms"},
     {"procedure.haul out by the rope.speed", "procedure.haul out by the rope.acceleration", "procedure.haul out by the rope.time",
      "procedure.couple", "procedure.rope off"}},
    {"tilting", SCENARIOS "launch.yaml", dd_study_run, {"procedure=[{unlatch: {}}, {let strap off: {}}, {push off: {force: 400 N, until: {distance clear: 0.6 m}, time limit: 6 s}}]",
      "trailer.tilting frame={hinge behind coupling: 4.45 m}", "start.hub depth=-100 mm", "record interval=500 ms",
      "time limit=14 s"},
     {"trailer.tilting frame", "procedure.unlatch"}},
    {"between guides", SCENARIOS "launch.yaml", dd_study_run, {"time limit=1 s", "record interval=200 ms",
      "trailer.supports=[{kind: cradle, name: rear, behind coupling: 4.85 m, above ground: 560 mm, deadrise: 18.5 deg, rows: 4, "
      "row spacing: 420 mm, half spacings: [280 mm, 620 mm]}, {kind: cradle, name: front, behind coupling: 3.3 m, above ground: 566 mm, "
      "deadrise: 22.5 deg, rows: 2, row spacing: 420 mm, half spacings: [280 mm, 560 mm]}, {kind: side guide, name: guide, "
      "behind coupling: 5.5 m, above ground: 1.4 m, half spacing: 0.97 m, length: 0.3 m}]"},
     {"trailer.supports", "forces.guide"}},
    {"tied", SCENARIOS "launch.yaml", dd_study_run, {"procedure=[{wait: {until: {after: 4 s}}}]", "start={hub depth: 450 mm, ties: on, strap: off}", "record interval=500 ms",
      "trailer.transom ties={behind coupling: 5.7 m}"},
     {"trailer.transom ties", "start.ties"}},
    {"on its chain", SCENARIOS "launch.yaml", dd_study_run, {"procedure=[{wait: {until: {after: 4 s}}}]", "start={hub depth: 450 mm, chain: on, strap: off}", "record interval=500 ms",
      "trailer.safety chain={slack at home: 10 mm}"},
     {"trailer.safety chain", "start.chain"}},
    {"skeg on the ground", SCENARIOS "launch.yaml", dd_study_run, {"start={hub depth: 0 mm, engine: down}", "boat.skeg depth=0.6 m", "time limit=1 s", "record interval=200 ms"}, {"forces.ground"}},
    {"water aboard", SCENARIOS "launch.yaml", dd_study_run, {"boat.water aboard={mass: 300 kg}", "time limit=1 s", "record interval=200 ms"}, {"boat.water aboard"}},
    {"over the crest", SCENARIOS "launch.yaml", dd_study_run, {"start.hub depth=-1300 mm", "record interval=500 ms", "time limit=6 s"}, {"vehicle.pitch radius"}},
    {"seated", CASES "road.yaml", seated, {NULL},
     {"seating.", "boat.bending stiffness", "trailer.safety chain", "trailer.transom ties", "trailer.supports.roller width", "trailer.supports.durometer", "trailer.supports.contact width"}},
    {"of given sections", SCENARIOS "on-the-road.yaml", seated, {NULL}, {"trailer.supports.strength", "trailer.winch.post"}},
    {"turned on one bolt", SCENARIOS "on-the-road.yaml", seated, {"trailer.supports[rear rocker].strength.clamp.bolts=1",
     "trailer.supports[rear rocker].strength.clamp.face diameter=40 mm"}, {"trailer.supports.strength.clamp.face diameter"}},
    {"seated as asked", CASES "adjusted.yaml", seated, {NULL}, {"seating.", "boat.strakes"}},
    {"seated on a pair of rollers", SOURCE_DIR "/tests/unit/study/vee-on-rollers.yaml", seated,
     {"trailer.supports[side rollers].durometer=60", "trailer.supports[side rollers].contact width=60 mm", "trailer.supports[front keel roller].durometer=60",
      "trailer.supports[front keel roller].contact width=30 mm"},
     {"trailer.supports.roller width", "trailer.supports.durometer", "trailer.supports.contact width"}},
#define SKIDS(way, travel) \
    {"skids shifted " way, CASES "adjusted.yaml", adjusted, \
     {"seating.height tolerance=0 mm", "trailer.axle adjust.aft=[]", "trailer.winch.adjust.aft=[]", "trailer.supports[second keel roller].adjust.up=[]", \
      "trailer.supports[second keel roller].adjust.aft=[]", "trailer.supports[side skids].adjust={" travel "}"}, {"trailer.supports.adjust." way}}
    SKIDS("up", "up: [0 mm, 5 mm], up step: 5 mm"), SKIDS("out", "out: [0 mm, 10 mm], out step: 10 mm"), SKIDS("aft", "aft: [0 mm, 10 mm], aft step: 10 mm"),
    {"a keel roller shifted", CASES "adjusted.yaml", adjusted,
     {"seating.height tolerance=0 mm", "trailer.axle adjust.aft=[]", "trailer.winch.adjust.aft=[]", "trailer.supports[side skids].adjust.up=[]",
      "trailer.supports[side skids].adjust.out=[]", "trailer.supports[side skids].adjust.aft=[]"},
     {"trailer.supports.adjust"}},
    {"axles and post shifted", CASES "adjusted.yaml", adjusted,
     {"seating.height tolerance=0 mm", "trailer.supports[second keel roller].adjust.up=[]", "trailer.supports[second keel roller].adjust.aft=[]",
      "trailer.supports[side skids].adjust.up=[]", "trailer.supports[side skids].adjust.out=[]", "trailer.supports[side skids].adjust.aft=[]"},
     {"trailer.axle adjust", "trailer.winch.adjust"}},
    {"usable by the clock", SCENARIOS "launch-on-the-tide.yaml", windowed, {"place={latitude: 51 deg, longitude: -1 deg, time zone: Europe/London}"}, {"place."}},
    {"a fleet", CASES "fleet.yaml", fleeted, {NULL}, {"fleet."}},
    {"braked", CASES "braked.yaml", braked, {NULL}, {"braking", "vehicle.braking", "trailer.brake figures"}},
    {"braked by a ramped controller", CASES "braked.yaml", braked, {"trailer.brake figures.controller.kind=time ramped"}, {"trailer.brake figures.controller"}},
    {"by rules", CASES "ruled.yaml", weighed, {"measured=[]", "loadings=[]"}, {"rules", "trailer.brakes"}},
    {"weighed", CASES "road.yaml", weighed, {NULL}, {NULL}}, /* last: what a run feels is shown by a run */
};

/* Values for keys whose effect a small change does not show. */
static const struct {
    const char *ending, *value; /* ending of the key's path */
} telling[] = {
    {"boat.bow sheer height", "1.1 m"}, /* much more and its bow passes over the stop */
    {"read.header lines", "3"},
    {"read.name column", "3"},
    {"read.amplitude column", "7"},
    {"read.phase column", "6"},
    {"read.date column", "Date again"},
    {"read.time column", "Later"},
    {"read.level column", "Less (ft)"},
    {"read.date format", "%d/%m/%Y %I:%M %p"},
    {"read.unit", "mm"},
    {"trailer.winch.pretension", "4 kN"},
    {"trailer.winch.hand force limit", "20 N"},
    {"water.density", "1010 kg/m3"},
    {"water.current full beyond", "40 m"},
    {"water.wall to", "19 m"},
    {"ramp.wash margin", "2 m"},
    {"ramp.weed.from level", "0.9 m"},
    {"ramp.weed.to level", "2.5 m"},
    {"water.viscosity", "0.0000013 m2/s"},
    {"until.hub depth", "330 mm"},
    {"until.rear support depth", "10 mm"},
    {"until.water clear", "-100 mm"},
    {"until.after", "2 s"},
    {"until.afloat", "yes"},
    {".time limit", "0.5 s"},
    {"limits.afloat time", "4 s"},
    {"limits.push force", "100 N"},
    {"vehicle.body height", "0.1 m"},
    {"supports.pivot travel", "0.2 deg"},
    {"supports.rear end down", "0.2 deg"},
    {"start.strap", "off"},
    {"start.chain", "off"},
    {"start.ties", "off"},
    {"skipper.helm limit", "1 deg"},
    {"throttle", "2 %"},
    {"brake figures.breakaway cable", "300 mm"},
    {"brake figures.chain slack", "600 mm"},
    {"braking.chock angle", "6 deg"},
    {"braking.chock friction", "0.1"},
    {"rules.also.below", "1 t"},
    {"rules.rules.from", "2 t"},
    {"rules.rules.below", "1 t"},
    {"speed at most", "50 km/h"},
};
enum { SETUPS = sizeof setups / sizeof setups[0], ROWS = 1024, ATTEMPTS = 8, TRIES = 1 };

static struct {
    const dd_key *seen[ROWS];
    int count;
    const setup *now;
    const dd_case *before;
    char *outcome;
    int computed;
    bool alone;
} walk;

static bool is_seen(const dd_key *row)
{
    for (int i = 0; i < walk.count; i++)
        if (walk.seen[i] == row) return true;
    return false;
}

static void see(const dd_key *row)
{
    assert_true(walk.count < ROWS);
    if (!is_seen(row)) walk.seen[walk.count++] = row;
}

static const char *excuse(const char *path)
{
    for (size_t i = 0; i < sizeof without_effect / sizeof without_effect[0]; i++)
        if (strcmp(without_effect[i].path, path) == 0) return without_effect[i].why;
    return NULL;
}

/* Everything of a result that a reader sees, except how much work it was. */
static char *outcome_of(const dd_result *r)
{
    char *parts[] = {dd_result_timeline_csv(r), dd_result_events_csv(r), dd_result_limits_csv(r), dd_result_side_csv(r),
                     dd_result_bands_csv(r)};
    size_t size = 2000 + 400 * (size_t)(r->assumed_count + r->unchecked_count + r->figure_count), length = 0;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        assert_non_null(parts[i]);
        size += strlen(parts[i]);
    }
    char *all = malloc(size);
    assert_non_null(all);
    length = (size_t)snprintf(all, size, "%s\n%s\n%s\n%d\n", r->title, r->word, r->sentence, r->verdict);
    for (int i = 0; i < r->assumed_count; i++) length += (size_t)snprintf(all + length, size - length, "%s\n", r->assumed[i]);
    for (int i = 0; i < r->figure_count; i++)
        length += (size_t)snprintf(all + length, size - length, "%s %.9g %s\n", r->figures[i].name, r->figures[i].value,
                                   r->figures[i].words);
    for (int i = 0; i < r->unchecked_count; i++) length += (size_t)snprintf(all + length, size - length, "%s\n", r->unchecked[i]);
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        length += (size_t)snprintf(all + length, size - length, "%s\n", parts[i]);
        free(parts[i]);
    }
    return all;
}

/* The setup's scenario with one more override (NULL: none); NULL file: not readable. */
static dd_case_file *read_with(const setup *s, const char *override)
{
    const char *overrides[10] = {NULL};
    int count = 0;
    while (s->overrides[count] != NULL) overrides[count] = s->overrides[count], count++;
    overrides[count] = override;
    dd_case_file *file = NULL;
    dd_error_list list;
    dd_status status = dd_case_read(s->file, overrides, NULL, &file, &list);
    if (status != DD_OK && override == NULL) fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
    dd_error_list_free(&list);
    return file;
}

/* NULL: it could not be computed. */
static char *compute(const setup *s, const dd_case *scenario, dd_error *error)
{
    walk.computed++;
    dd_result *result = NULL;
    dd_status status = s->study(scenario, NULL, NULL, &result, error);
    char *outcome = status != DD_OK ? NULL : result != NULL ? outcome_of(result) : report_text;
    dd_result_free(result);
    return outcome;
}

/* Another value that may be in the key's range. */
static bool candidate(const dd_key *row, const char *structure, int attempt, char *text, size_t size)
{
    static const double factors[] = {1.07, 0.93, 1.4, 0.6};
    const char *at = structure + row->offset;
    char quantity[DD_QUANTITY_TEXT];
    int count;
    double now, value;
    switch (row->type) {
    case DD_KEY_QUANTITY:
        now = dd_load_double(at);
        value = attempt < 4 ? now * factors[attempt] : 0;
        if (attempt < 4 && (now == 0 || isnan(now))) value = isnan(now) ? 0.5 + attempt : 0.05 * (attempt + 1);
        if (attempt >= 4) {
            double least = isfinite(row->least) ? row->least : -20, most = isfinite(row->most) ? row->most : least + 60;
            value = least + (most - least) * (0.01 + 0.3 * (attempt - 4));
        }
        if (row->dimension == DD_TEMPERATURE && isfinite(row->least)) value = row->least + (row->most - row->least) * (0.2 + 0.1 * attempt);
        snprintf(text, size, "%s", dd_quantity_format(value, row->dimension, NULL, quantity));
        return attempt < ATTEMPTS;
    case DD_KEY_COUNT:
        snprintf(text, size, "%d", dd_load_int(at) + (attempt == 0 ? 1 : -1));
        return attempt < 2;
    case DD_KEY_TEXT:
        snprintf(text, size, attempt == 0 ? "other" : "N2"); /* N2: of a tide's constituents */
        return attempt < 2;
    case DD_KEY_CHOICE:
        while (row->choices[attempt] != NULL && attempt == dd_load_int(at)) attempt++;
        if (row->choices[attempt] != NULL) snprintf(text, size, "%s", row->choices[attempt]);
        return row->choices[attempt] != NULL;
    case DD_KEY_FLAG:
        snprintf(text, size, dd_load_int(at) == 1 ? "no" : "yes");
        return attempt < 1;
    case DD_KEY_QUANTITIES:
        count = dd_load_int(structure + row->count_offset);
        snprintf(text, size, "[");
        for (int i = 0; i < count; i++) {
            double each = dd_load_double(at + (size_t)i * sizeof(double)) * factors[attempt % 4];
            snprintf(text + strlen(text), size - strlen(text), "%s%s", i == 0 ? "" : ", ", dd_quantity_format(each, row->dimension, NULL, quantity));
        }
        snprintf(text + strlen(text), size - strlen(text), "]");
        return attempt < 4 && count > 0;
    case DD_KEY_BLOCK:
    case DD_KEY_LIST:
        break;
    }
    return false;
}

/* The telling value first, then others. */
static bool value_for(const dd_key *row, const char *structure, const char *general, int attempt, char *value, size_t size)
{
    const size_t length = strlen(general);
    for (size_t i = 0; i < sizeof telling / sizeof telling[0]; i++)
        if (length >= strlen(telling[i].ending) && strcmp(general + length - strlen(telling[i].ending), telling[i].ending) == 0) {
            snprintf(value, size, "%s", telling[i].value);
            return attempt == 0;
        }
    return candidate(row, structure, attempt, value, size);
}

static bool begins_with_one(const char *general, const char *const *beginnings)
{
    for (int i = 0; beginnings[i] != NULL; i++)
        if (strncmp(general, beginnings[i], strlen(beginnings[i])) == 0) return true;
    return false;
}

/* What only reports read is not tried by runs. */
static const char *const only_reported[] = {
    "braking.", "rules.", "seating.", "measured.", "trailer.brake figures.", "trailer.brakes.", "trailer.wheels.", "trailer.other wheels.",
    "trailer.hubs.", "trailer.winch.post.", "trailer.winch.adjust.", "trailer.axle adjust.", "trailer.supports.strength.",
    "trailer.supports.adjust.", "vehicle.braking.", "vehicle.tyres.", "vehicle.other tyres.", NULL};

/* What a later setup shows, and the plain launch does not, is not tried by it. */
static const char *const shown_later[] = {
    "aboard.contents", "aboard.count", "aboard.density", "aboard.fill", "aboard.kind", "aboard.volume", "fleet.", "forces.bow on frame.", "forces.cross flow.", "forces.frame contact.",
    "forces.ground.", "forces.guide.", "forces.jockey wheel.", "forces.resistance.", "forces.rig drag.", "forces.strap.", "forces.thrust.", "forces.wave damping.", "forces.wheels.chock",
    "forces.wheels.spin", "forces.wind.", "limits.afloat", "limits.off", "limits.st", "place.", "placed.", "procedure.push off.", "ramp.scour.", "ramp.surfaces.wet", "ramp.w", "skipper.",
    "start.chain", "start.s", "start.ties", "trailer.coupling aggregate", "trailer.coupling class", "trailer.coupling d ", "trailer.jockey wheel.", "trailer.rope.", "trailer.safety chain.",
    "trailer.supports.contact width", "trailer.supports.durometer", "trailer.supports.roller width", "trailer.tilting frame.", "trailer.transom ties.", "trailer.winch.dr",
    "trailer.winch.efficiency", "trailer.winch.gear", "trailer.winch.hand", "trailer.winch.speed", "vehicle.body", "vehicle.braked", "vehicle.combination", "vehicle.fl", "vehicle.gross",
    "vehicle.hitch", "vehicle.kerb", "vehicle.tow ", "vehicle.unbraked", "water.current", "water.t", "water.wa", "water.wi", NULL};

static bool is_tried(const char *general)
{
    const bool runs = walk.now->study == dd_study_run || walk.now->study == dd_study_settle;
    if (runs && begins_with_one(general, only_reported)) return false;
    if (walk.now->only[0] != NULL) return begins_with_one(general, walk.now->only);
    return !runs || !begins_with_one(general, shown_later);
}

static void try_row(const dd_key *row, const char *structure, const char *path, const char *general)
{
    char value[300], override[700];
    for (int attempt = 0, tries = 0; tries < TRIES && value_for(row, structure, general, attempt, value, sizeof value); attempt++) {
        snprintf(override, sizeof override, "%s=%s", path, value);
        dd_case_file *file = read_with(walk.now, override);
        if (file == NULL) continue; /* a range or a rule: another value may do */
        dd_error error;
        bool changes_field = memcmp(walk.before, dd_case_of(file), sizeof(dd_case)) != 0;
        char *outcome = changes_field ? compute(walk.now, dd_case_of(file), &error) : NULL;
        tries += outcome != NULL;
        bool differs = outcome != NULL && strcmp(outcome, walk.outcome) != 0;
        free(outcome);
        dd_case_free(file);
        if (differs) {
            see(row);
            if (walk.alone) print_message("  %s\n", general);
            return;
        }
    }
}

static void try_rows(const dd_key *rows, const char *structure, const char *path, const char *plain)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) {
        char full[300], general[300];
        const char *dot = path[0] == '\0' ? "" : ".";
        snprintf(full, sizeof full, "%s%s%s", path, dot, row->name);
        snprintf(general, sizeof general, "%s%s%s", plain, dot, row->name);
        if (row->type == DD_KEY_BLOCK) {
            try_rows(row->rows, structure + row->offset, full, general);
        } else if (row->type == DD_KEY_LIST) {
            int count = dd_load_int(structure + row->count_offset);
            for (int i = 0; i < count && !dd_is_text_list(row); i++) {
                const char *element = structure + row->offset + (size_t)i * row->size;
                const dd_key_variant *variant = dd_variant_at(row, element);
                snprintf(full, sizeof full, "%s%s%s[%d]", path, dot, row->name, i + 1);
                try_rows(row->rows, element, full, general);
                if (variant == NULL) continue;
                char with_step[360];
                snprintf(with_step, sizeof with_step, "%s%s%s", general, row->variant_is_step ? "." : "", row->variant_is_step ? variant->name : "");
                try_rows(variant->rows, element, full, with_step);
            }
        } else if (!is_seen(row) && excuse(general) == NULL && is_tried(general)) {
            try_row(row, structure, full, general);
        }
    }
}

static int missing;
static void find_missing(const dd_key *rows, const char *path)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) {
        char full[300];
        snprintf(full, sizeof full, "%s%s%s", path, path[0] == '\0' ? "" : ".", row->name);
        if (row->type == DD_KEY_BLOCK || row->type == DD_KEY_LIST) {
            find_missing(row->rows, full);
            for (const dd_key_variant *each = row->variants; each != NULL && each->name != NULL; each++) {
                char with_step[360];
                snprintf(with_step, sizeof with_step, "%s%s%s", full, row->variant_is_step ? "." : "", row->variant_is_step ? each->name : "");
                find_missing(each->rows, with_step);
            }
        } else if (row->name[0] != '\0' && !is_seen(row) && excuse(full) == NULL) {
            print_error("%s: no change of it changed a result\n", full);
            missing++;
        }
    }
}

static void every_key_has_an_effect(void **state)
{
    const char *alone = *state;
    walk.alone = alone != NULL;
    dd_case_table table;
    assert_true(dd_case_table_create(&table));
    for (int i = 0; i < SETUPS; i++) {
        if (alone != NULL && strcmp(alone, setups[i].name) != 0) continue;
        dd_error error = {.status = DD_OK};
        dd_case_file *file = read_with(&setups[i], NULL);
        int seen = walk.count, computed = walk.computed;
        clock_t began = clock();
        walk.now = &setups[i];
        walk.before = dd_case_of(file);
        walk.outcome = compute(walk.now, walk.before, &error);
        if (walk.outcome == NULL) fail_msg("%s: %s: %s", setups[i].name, error.place, error.message);
        try_rows(table.rows, (const char *)walk.before, "", "");
        print_message("%s: %d keys more, %d computed in %.1f s\n", setups[i].name, walk.count - seen, walk.computed - computed,
                      (double)(clock() - began) / CLOCKS_PER_SEC);
        free(walk.outcome);
        dd_case_free(file);
    }
    find_missing(table.rows, "");
    dd_case_table_free(&table);
    assert_int_equal(missing, 0);
    assert_true(walk.count > 100);
}

/* With a setup's name it computes that one alone, and then misses the keys of the others. */
int main(int count, char **arguments)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test_prestate(every_key_has_an_effect, count > 1 ? arguments[1] : NULL)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
