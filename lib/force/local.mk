# SPDX-License-Identifier: GPL-3.0-or-later
libdrawdock_a_SOURCES += lib/force/added_mass.h
libdrawdock_a_SOURCES += lib/force/force.h
EXTRA_DIST += lib/force/forces.def
libdrawdock_a_SOURCES += lib/force/bristle.c lib/force/bristle.h lib/force/smooth.h
libdrawdock_a_SOURCES += lib/force/contact.c lib/force/contact.h lib/force/draw.c lib/force/draw.h
libdrawdock_a_SOURCES += lib/force/roller.c lib/force/roller.h lib/force/roller_draw.c lib/force/roller_patch.c lib/force/roller_rest.c lib/force/roller_patch.h \
	lib/force/roller_arm.c lib/force/roller_arm.h lib/force/roller_arm_rest.c lib/force/keel_contact.c
libdrawdock_a_SOURCES += lib/force/bar.c lib/force/bar.h lib/force/bow_on_frame.c lib/force/bow_stop.c lib/force/bow_stop.h lib/force/strap.c lib/force/strap.h
libdrawdock_a_SOURCES += lib/force/axles.c lib/force/axles.h lib/force/axles_contact.c lib/force/jet.h
libdrawdock_a_SOURCES += lib/force/wheels.c lib/force/wheels.h lib/force/wheels_look.c lib/force/wheels_look.h lib/force/plain.c lib/force/still.c
libdrawdock_a_SOURCES += lib/force/coupling.c lib/force/coupling.h lib/force/rig_weight.c lib/force/rope.c lib/force/rope.h
libdrawdock_a_SOURCES += lib/force/jockey.c lib/force/jockey.h lib/force/tilt_stops.c lib/force/sinking.h lib/force/soil.c lib/force/soil.h
libdrawdock_a_SOURCES += lib/force/list.c lib/force/water.c lib/force/water.h
libdrawdock_a_SOURCES += lib/force/hull_weight.c lib/force/buoyancy.c lib/force/push.c lib/force/thrust.c lib/force/thrust.h lib/force/hand_line.c
libdrawdock_a_SOURCES += lib/force/wave_damping.c lib/force/cross_flow.c lib/force/resistance.c lib/force/wind.c
libdrawdock_a_SOURCES += lib/force/section.c lib/force/section.h lib/force/section_table.c lib/force/strip_table.c
libdrawdock_a_SOURCES += lib/force/natural.c lib/force/added_mass.c
libdrawdock_a_SOURCES += lib/force/taut.c lib/force/taut.h lib/force/rub.c lib/force/rub.h lib/force/ground.c lib/force/line.c lib/force/line.h lib/force/ball.c lib/force/ball.h lib/force/guide.c
libdrawdock_a_SOURCES += lib/force/rig_water.c lib/force/rig_water.h lib/force/rig_buoyancy.c lib/force/rig_drag.c lib/force/frame_contact.c
