"""What must be known of a house before its air can be followed through a year?"""

import math
from dataclasses import dataclass

from airlab.building.exponent import FLOW_EXPONENT, flow_at, require_flow_exponent
from airlab.building.site import Site
from airlab.physics.wind import TERRAINS, wind_speed_at
from airlab.words import (
    InputError,
    ach,
    display_unit,
    from_si,
    require_between,
    require_choice,
    require_positive,
    show,
    show_percent,
)

__all__ = [
    "COMPASS",
    "FLOORS",
    "FLUE_SHARE",
    "SHELTERS",
    "LivedHouse",
    "keep_lived",
    "lived_house",
    "lived_settings",
]

# What stands round the house, in five classes from open to hemmed in.
SHELTERS = ("nothing near", "lone house", "houses across the street", "built-up", "wall to wall")
COMPASS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")
FLUE_SHARE = 0.2  # of all leaks, where an open flue stands and nobody says more; ours
FLUE_ABOVE = 2.0  # m, its top over the ceiling; ours
FLOORS = ("slab", "crawlspace")  # slab: on the ground or over a cellar inside the line
_SHELTER_OF = {"exposed": 1, "half height": 2, "full height": 3}
_SHIELDING_OF = ("exposed", "exposed", "half height", "full height", "full height")
_STOREY_HEIGHT = 2.5  # m
# Fields that a job keeps, by their name in its settings of the site.
_KEPT = {"shielding": "shelter", "front_faces": "front_faces_deg", "front_and_back": "front_and_back",
         "flue_share": "flue_share", "indoor_temperature": "lived_at_c",
         "heating_below": "heated_below_c"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class LivedHouse:
    """A house as people live in it.

    Parameters
    ----------
    volume : float
        Air inside the line. [m3]
    flow50 : float
        Leakage flow at 50 Pa. [m3/s]
    flow_exponent : float
        Exponent of the leaks. [-]
    envelope_area, floor_area : float or None
        Sizes, where known. [m2]
    storeys : float
        Number of storeys, 1 to 3; a half is a room in the roof.
    height : float or None
        Height over which warm air pulls: lowest leaks to highest; None is 2.5 m a storey. [m]
    terrain : str
        One of `airlab.physics.wind.TERRAINS`.
    shielding : str
        One of `SHELTERS`.
    flue_share : float
        Share of all leaks that is an open flue; 0 is none. [-]
    floor : str
        One of `FLOORS`.
    horizontal_share, ceiling_minus_floor : float
        Share of the leakage in ceiling and floor together (R); ceiling less floor (X). [-]
    front_faces : float
        Where the front looks, clockwise from north. [deg]
    front_and_back : float
        Share of the wall leaks in front and back: 0.5 for a square house that stands alone, 1 for
        one between two neighbours. [-]
    indoor_temperature : float
        Air inside. [C]
    heating_below : float
        Outside temperature below which the heating runs. [C]

    Examples
    --------
    >>> from airlab.words import m3_per_h
    >>> house = LivedHouse(353.5, m3_per_h(1558.5), envelope_area=311.7)
    >>> round(house.n50, 2), round(house.leakage_area * 1e4)
    (4.41, 325)
    """

    volume: float
    flow50: float
    flow_exponent: float = FLOW_EXPONENT
    envelope_area: float | None = None
    floor_area: float | None = None
    storeys: float = 2
    height: float | None = None
    terrain: str = "suburb"
    shielding: str = SHELTERS[2]
    flue_share: float = 0.0
    floor: str = "slab"
    horizontal_share: float = 0.5
    ceiling_minus_floor: float = 0.0
    front_faces: float = 180.0
    front_and_back: float = 0.5
    indoor_temperature: float = 20.0
    heating_below: float = 15.0

    def __post_init__(self):
        require_positive("volume", self.volume, "m3")
        require_positive("flow50", self.flow50, "m3/s", "If you have m³/h, write m3_per_h(...).")
        require_flow_exponent(self.flow_exponent)
        for name in ("envelope_area", "floor_area"):
            if getattr(self, name) is not None:
                require_positive(name, getattr(self, name), "m2")
        require_between("storeys", self.storeys, 1.0, 3.0, "-", "These models stop at three.")
        height = _STOREY_HEIGHT * self.storeys if self.height is None else self.height
        object.__setattr__(self, "height", require_between("height", height, 1.5, 20.0, "m"))
        require_choice("terrain", self.terrain, TERRAINS)
        require_choice("shielding", self.shielding, SHELTERS)
        require_choice("floor", self.floor, FLOORS)
        require_between("horizontal_share", self.horizontal_share, 0.0, 1.0)
        most = min(self.horizontal_share, 1.999 - self.horizontal_share)
        require_between("ceiling_minus_floor", self.ceiling_minus_floor, -most, most)
        require_between("flue_share", self.flue_share, 0.0, 0.9, "-", "For 20 % write 0.2.")
        require_between("front_and_back", self.front_and_back, 0.0, 1.0, "-", "For 70 % write 0.7.")
        require_between("front_faces", self.front_faces, 0.0, 360.0, "deg", "South is 180.")
        require_between("indoor_temperature", self.indoor_temperature, 5.0, 35.0, "C",
                        "If you have °F, take off 32 and divide by 1.8.")  # fmt: skip
        require_between("heating_below", self.heating_below, -30.0, 35.0, "C")
        if self.n50 > 100.0:
            raise InputError(
                f"That is {show(self.n50)} air changes an hour at 50 Pa. No house leaks so much: "
                "at most 100 is taken. Look at the units of flow and volume."
            )

    @property
    def n50(self):
        """Air changes per hour at 50 Pa. [1/h]"""
        return float(ach(self.flow50, self.volume))

    @property
    def coefficient(self):
        """Flow at 1 Pa. [m3/(s.Pa^n)]"""
        return float(flow_at(1.0, self.flow50, self.flow_exponent))

    @property
    def leakage_area(self):
        """Leakage area at 4 Pa, without losses, air of 1.2 kg/m3. [m2]"""
        return float(flow_at(4.0, self.flow50, self.flow_exponent)) * math.sqrt(1.2 / (2.0 * 4.0))

    @property
    def stands(self):
        """What is round it, where its front looks, what flue it has."""
        flue = "no open flue"
        if self.flue_share:
            flue = f"an open flue of {show_percent(self.flue_share)} of all leaks"
        return f"{self.shielding}, the front to the {COMPASS[round(self.front_faces / 45.0) % 8]}, {flue}"

    def assumed(self, units="metric"):
        """Return what is taken of its leaks and its warmth where nobody has measured, in words."""
        ends = show_percent(self.horizontal_share * (1.0 - self.flue_share))
        degrees = display_unit("C", units)
        inside, below = (show(from_si(one, degrees), degrees)
                         for one in (self.indoor_temperature, self.heating_below))  # fmt: skip
        flue = "No open flue is counted. Name what burns air from the rooms to count one."
        if self.flue_share:
            flue = (
                f"The open flue counts as {show_percent(self.flue_share)} of all leaks (assumption; with a "
                "fifth the flue tables of the handbook come out within 7 %, both from memory). A flue that "
                "was sealed for the fan test is not in its number."
            )
        return (
            f"Where the leaks are is an assumption: {ends} of them in ceiling and floor, the rest in the "
            f"walls, {show_percent(self.front_and_back)} of that in front and back. It stands: "
            f"{self.stands}. Wind coefficients are those of a square house, from memory.",
            flue,
            f"{inside} inside; the heating runs while it is below {below} outside (assumption: sun and "
            "people do the rest).",
        )

    @property
    def shelter_class(self):
        """Place of the shielding among the five, 1 to 5."""
        return SHELTERS.index(self.shielding) + 1

    @property
    def shielding_of_faces(self):
        """The shielding that the table of pressure coefficients knows."""
        return _SHIELDING_OF[self.shelter_class - 1]

    def wind_at_eaves(self, wind_speed):
        """Return the wind at the eaves from that at the station. [m/s]."""
        return wind_speed_at(self.height, wind_speed, self.terrain)

    def sentence(self, units="metric"):
        """Return the house in words."""
        size, flow = display_unit("m3", units), display_unit("m3/s", units)
        return (
            f"{show(from_si(self.volume, size), size)} of air, {show(self.storeys)} storeys, "
            f"{self.terrain}, {self.shielding}. At 50 Pa {show(from_si(self.flow50, flow), flow)} "
            f"leaks: {show(self.n50)} air changes per hour at 50 Pa, exponent {show(self.flow_exponent)}."
        )


def lived_house(geometry, flow50, flow_exponent=FLOW_EXPONENT, site=None, **more):
    """Return the house of a job as people will live in it.

    Parameters
    ----------
    geometry : Geometry
        Sizes from rooms and envelope.
    flow50 : float
        Leakage flow at 50 Pa: last fan test, a reading, or the target. [m3/s]
    flow_exponent : float
        Exponent of the leaks. [-]
    site : Site, optional
        Terrain and shielding; ours if left out.
    **more : object
        Any other field of `LivedHouse`, over what is derived here.

    Returns
    -------
    LivedHouse
        Storeys are counted from the rooms, 1 to 3.

    Examples
    --------
    >>> from airlab.building import Geometry
    >>> lived_house(Geometry(353.5, 311.7, building_height=5.05), 0.2).storeys
    2
    """
    site = Site() if site is None else site
    height = geometry.building_height
    counted = len(geometry.storeys) or round((height or 0.0) / _STOREY_HEIGHT) or 2
    known = {
        "volume": geometry.internal_volume,
        "envelope_area": geometry.envelope_area,
        "floor_area": geometry.floor_area,
        "storeys": min(max(counted, 1), 3),
        "height": None if height is None else min(max(height, 1.5), 20.0),
        "terrain": site.terrain,
        "shielding": SHELTERS[_SHELTER_OF[site.shielding]],
    }
    return LivedHouse(flow50=flow50, flow_exponent=flow_exponent, **(known | more))


def lived_settings(job):
    """Return what a job says of how its house stands and is lived in, as fields of `LivedHouse`.

    Parameters
    ----------
    job : object
        Its `site` says `shelter`, `front_faces_deg`, `front_and_back`, `flue_share`, `lived_at_c` and
        `heated_below_c`; what is not there takes ours.
    """
    return {key: job.site[name] for key, name in _KEPT.items() if job.site.get(name) is not None}


def keep_lived(fields):
    """Return fields of `LivedHouse` by the names a job's site keeps them under."""
    return {_KEPT[key]: value for key, value in fields.items()}
