# SPDX-License-Identifier: GPL-3.0-or-later
nobase_dist_pkgdata_DATA += \
	scenarios/launch.yaml \
	scenarios/launch-cross-stream.yaml \
	scenarios/retrieve.yaml \
	scenarios/retrieve-cross-stream.yaml \
	scenarios/boats/open-five-metre.yaml \
	scenarios/trailers/cradle-single.yaml \
	scenarios/vehicles/utility-4wd.yaml \
	scenarios/ramps/mangrove-slab.yaml
