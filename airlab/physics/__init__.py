"""Physics: air, openings, vessels that drain, fans, and the air flow through zones.

Numbers in, frozen records out, all in SI with temperatures in °C. A pressure difference is inside
minus outside; a flow is positive outwards. Openings are taken by vessels, fans and zones alike.
"""

from airlab.physics.air import (
    CLASSROOM_AIR,
    Air,
    AirState,
    air_viscosity,
    moist_air_density,
    saturation_pressure,
)
from airlab.physics.bench import BENCH_QUANTITIES, fit_bench
from airlab.physics.bench_table import BENCH, bench_readings
from airlab.physics.bridge import (
    air_change_rate_of_hole,
    carried_to_50,
    hole_area_for_ach50,
    mixing_time,
    refills_per_hour,
    remaining_old_air,
)
from airlab.physics.combined import Parallel, Series, covered
from airlab.physics.cracks import Crack, PorousPatch
from airlab.physics.decay import fan_stop, pressure_decay_time, pressure_half_time, spare_air
from airlab.physics.drain_record import Drain, race
from airlab.physics.draining import drain
from airlab.physics.fans import FanCurve, FixedFlow, fan_air_power, pressure_reached
from airlab.physics.hole_set import HOLE_KINDS, Hole, HoleSet, hole_sizes, make_opening
from airlab.physics.jets import faded_speed, jet_speed
from airlab.physics.old_air import old_air
from airlab.physics.openings import (
    EDGES,
    FLOW_MODELS,
    SHARP_EDGE,
    PowerLawLeak,
    RoundHole,
    Slot,
    equivalent_hole_area,
    hole_flow,
)
from airlab.physics.ready import ready_openings
from airlab.physics.roots import bracketed_root
from airlab.physics.rubber import STIFFENING_WITHOUT_HUMP, free_hole_stretch, rubber_hump
from airlab.physics.side_by_side import side_by_side
from airlab.physics.vessels import HOLE_MODES, Balloon, FanHeldVolume, SealedVessel

__all__ = [
    "BENCH",
    "BENCH_QUANTITIES",
    "CLASSROOM_AIR",
    "EDGES",
    "FLOW_MODELS",
    "HOLE_KINDS",
    "HOLE_MODES",
    "SHARP_EDGE",
    "STIFFENING_WITHOUT_HUMP",
    "Air",
    "AirState",
    "Balloon",
    "Crack",
    "Drain",
    "FanCurve",
    "FanHeldVolume",
    "FixedFlow",
    "Hole",
    "HoleSet",
    "Parallel",
    "PorousPatch",
    "PowerLawLeak",
    "RoundHole",
    "SealedVessel",
    "Series",
    "Slot",
    "air_change_rate_of_hole",
    "air_viscosity",
    "bench_readings",
    "bracketed_root",
    "carried_to_50",
    "covered",
    "drain",
    "equivalent_hole_area",
    "faded_speed",
    "fan_air_power",
    "fan_stop",
    "fit_bench",
    "free_hole_stretch",
    "hole_area_for_ach50",
    "hole_flow",
    "hole_sizes",
    "jet_speed",
    "make_opening",
    "mixing_time",
    "moist_air_density",
    "old_air",
    "pressure_decay_time",
    "pressure_half_time",
    "pressure_reached",
    "race",
    "ready_openings",
    "refills_per_hour",
    "remaining_old_air",
    "rubber_hump",
    "saturation_pressure",
    "side_by_side",
    "spare_air",
]
