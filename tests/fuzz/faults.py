# SPDX-License-Identifier: GPL-3.0-or-later
"""Faults that random scenarios brought to light: name, command, scenario, changes to it, and how the answer begins."""

FAULTS = [
    ("stem over a roller opens the ledger", "run", "retrieve", ["start.heading=-20 deg", "start.offset to port=-300 mm", "start.bow distance=0.1 m", "start.hub depth=250 mm"], ""),
    ("strap let off at once opens the ledger, the hull goes through the ground", "run", "launch",
     ["procedure=[{let strap off: }, {back down: {until: {hub depth: 380 mm}}}, {push off: }]"], "ran off"),
    ("bow passes over the stop", "run", "launch", ["trailer.bow stop.above ground=0.5 m"], "trailer: bow stop: the boat does not fit this trailer"),
    ("winch behind the bow", "settle", "launch", ["trailer.winch.behind coupling=1.6 m"], "trailer: winch: the boat does not fit this trailer"),
    ("bow stop missed by the bow of a retrieve", "run", "retrieve", ["trailer.bow stop.above ground=1.8 m"], "trailer: bow stop: the boat does not fit this trailer"),
    ("retrieve of a boat aground", "run", "retrieve", ["start.hub depth=-400 mm", "start.bow distance=0 m"], "start: the boat lies aground"),
    ("hub depth that the ramp has not", "run", "launch", ["start.hub depth=-4 m"], "start: hub depth"),
    ("rig slides on to the time limit", "run", "launch",
     ["ramp.surfaces=[{name: weed, friction low: 0.05, friction high: 0.08}]", "procedure=[{stop: {}}, {wait: {until: {after: 60 s}, time limit: 70 s}}]"], "slid"),
    # Its wheels spin while it is driven, no brake is ever set: what decides first in time is that the vehicle floats.
    ("rig that outruns its backing driver", "run", "launch", ["ramp.surfaces=[{name: weed, friction low: 0.05, friction high: 0.08}]"], "vehicle floats"),
    ("boat adrift to the time limit", "run", "retrieve", ["water.current=3 knot", "procedure=[{wait: {until: {after: 300 s}, time limit: 400 s}}]"], "swept past"),
    ("bow comes onto a roller end-on and opens the ledger", "run", "retrieve",
     ["start.offset to port=300 mm", "start.bow distance=0 m", "start.heading=0 deg", "start.hub depth=250 mm"],
     "a limit is broken: The boat comes home"),  # its stem is carried off the roller, and it is wound in against the hand's limit
    ("whole time limit blamed on the step", "run", "retrieve", ["time limit=5 s"], 'too long: The step "wind in" was still going on'),
    ("settle of a boat on keel rollers only", "settle", "launch",
     ["trailer.supports=[{kind: keel roller, behind coupling: 3.3 m, above ground: 480 mm}, {kind: keel roller, behind coupling: 4.85 m, above ground: 480 mm}]"], "falls"),
]
