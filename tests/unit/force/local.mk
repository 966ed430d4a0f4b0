# SPDX-License-Identifier: GPL-3.0-or-later
contact_fixture_sources = tests/unit/force/contact_fixture.c tests/unit/force/contact_fixture.h
check_PROGRAMS += tests/unit/force/test_bristle tests/unit/force/test_contact tests/unit/force/test_strap tests/unit/force/test_rolling
support_rigs_sources = tests/unit/force/support_rigs.c tests/unit/force/support_rigs.h $(contact_fixture_sources)
check_PROGRAMS += tests/unit/force/test_supports tests/unit/force/test_support_loads tests/unit/force/test_arm_rest
tests_unit_force_test_support_loads_SOURCES = tests/unit/force/test_support_loads.c $(support_rigs_sources)
tests_unit_force_test_supports_SOURCES = tests/unit/force/test_supports.c $(support_rigs_sources)
tests_unit_force_test_arm_rest_SOURCES = tests/unit/force/test_arm_rest.c $(support_rigs_sources)
tests_unit_force_test_bristle_SOURCES = tests/unit/force/test_bristle.c $(contact_fixture_sources)
tests_unit_force_test_contact_SOURCES = tests/unit/force/test_contact.c $(contact_fixture_sources)
tests_unit_force_test_strap_SOURCES = tests/unit/force/test_strap.c $(contact_fixture_sources)
tests_unit_force_test_rolling_SOURCES = tests/unit/force/test_rolling.c $(contact_fixture_sources)
EXTRA_DIST += tests/reference/hydro/winch_checks.csv tests/reference/hydro/strap_checks.csv
check_PROGRAMS += tests/unit/force/test_rig_forces tests/unit/force/test_rig_run
rig_world_sources = tests/unit/force/rig_world.c tests/unit/force/rig_world.h tests/unit/rig/rigs.c tests/unit/rig/rigs.h
tests_unit_force_test_rig_forces_SOURCES = tests/unit/force/test_rig_forces.c $(rig_world_sources)
check_PROGRAMS += tests/unit/force/test_rig_water
tests_unit_force_test_rig_water_SOURCES = tests/unit/force/test_rig_water.c $(rig_world_sources)
check_PROGRAMS += tests/unit/force/test_loose_trailer
tests_unit_force_test_loose_trailer_SOURCES = tests/unit/force/test_loose_trailer.c tests/unit/rig/rigs.c tests/unit/rig/rigs.h
tests_unit_force_test_rig_run_SOURCES = tests/unit/force/test_rig_run.c tests/unit/rig/rigs.c tests/unit/rig/rigs.h
check_PROGRAMS += tests/unit/force/test_force_gradients tests/unit/force/test_force_properties tests/unit/force/test_section \
	tests/unit/force/test_water_forces tests/unit/force/test_added_mass
whole_sources = tests/unit/force/whole.c tests/unit/force/whole.h tests/unit/hull/hulls.c tests/unit/hull/hulls.h
tests_unit_force_test_force_gradients_SOURCES = tests/unit/force/test_force_gradients.c $(whole_sources)
tests_unit_force_test_force_properties_SOURCES = tests/unit/force/test_force_properties.c $(whole_sources)
tests_unit_force_test_section_SOURCES = tests/unit/force/test_section.c $(whole_sources)
tests_unit_force_test_water_forces_SOURCES = tests/unit/force/test_water_forces.c $(whole_sources)
tests_unit_force_test_added_mass_SOURCES = tests/unit/force/test_added_mass.c $(whole_sources)
EXTRA_DIST += tests/reference/hydro/added_mass_2d.csv tests/reference/hydro/radiation_sections.csv \
	tests/reference/hydro/radiation_semicircle_heave.csv tests/reference/hydro/natural_periods.csv \
	tests/reference/hydro/misc_checks.csv tests/reference/hydro/section_table.py
dist_check_SCRIPTS += tests/unit/force/new_force.sh
check_PROGRAMS += tests/unit/force/test_thrust
tests_unit_force_test_thrust_SOURCES = tests/unit/force/test_thrust.c $(whole_sources)
check_PROGRAMS += tests/unit/force/test_hull_contacts
tests_unit_force_test_hull_contacts_SOURCES = tests/unit/force/test_hull_contacts.c $(contact_fixture_sources) $(whole_sources)
check_PROGRAMS += tests/unit/force/test_bow_stop
tests_unit_force_test_bow_stop_SOURCES = tests/unit/force/test_bow_stop.c $(contact_fixture_sources)
check_PROGRAMS += tests/unit/force/test_stem
tests_unit_force_test_stem_SOURCES = tests/unit/force/test_stem.c $(contact_fixture_sources)
check_PROGRAMS += tests/unit/force/test_bow_on_frame
tests_unit_force_test_bow_on_frame_SOURCES = tests/unit/force/test_bow_on_frame.c $(contact_fixture_sources)
