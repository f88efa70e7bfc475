"""Which tables describe a practice house? House, rooms, ways between them, sites, openings, hazards.

An instructor writes a house of their own in a spreadsheet with these columns.
"""

from airlab.words import Column, Table

__all__ = ["FAMILIES", "HAZARDS", "HOUSE", "KINDS", "LINKS", "OPENINGS", "ROOMS", "SITES", "TABLES", "WALLS"]  # fmt: skip

WALLS = ("north", "east", "south", "west", "ceiling", "floor", "middle")
FAMILIES = ("door", "window", "floor", "rim", "ceiling", "service", "electric", "hatch", "party",
            "membrane")  # fmt: skip
KINDS = ("leak", "cold bridge", "not yours to seal", "next door")
_HEIGHTS = ("low", "mid", "high")


def _size(name, meaning, unit="m", low=0.0, high=100.0, **more):
    return Column(name, "number", meaning, unit, low=low, high=high, **more)


HOUSE = Table("house", "the house: one row", (
    Column("house", "text", "name of the house", required=True),
    Column("about", "text", "what it is, in one sentence", required=True),
    Column("look", "choice", "what its walls are drawn as", required=True, choices=("timber", "masonry", "concrete")),
    Column("section", "choice", "the section runs along x (west to east) or y (south to north)",
           required=True, choices=("x", "y")),
    _size("cut_m", "where the section cuts, along the other direction", required=True),
    _size("eaves_m", "height of the eaves", required=True),
    _size("ridge_m", "height of the ridge; as the eaves for a flat roof", required=True),
    _size("wall_mm", "thickness of outside walls", "mm", high=1000.0, default=300.0),
    Column("fan_room", "text", "room with the door that takes the fan", required=True),
    _size("inside_c", "temperature inside", "C", low=-20.0, high=40.0, required=True),
    _size("outside_c", "temperature outside", "C", low=-30.0, high=45.0, required=True),
    _size("wind_m_per_s", "wind of a usual day", "m/s", high=10.0, required=True),
    _size("volume_m3", "volume, if rooms do not give it", "m3", high=1e5),
), key="house")  # fmt: skip

ROOMS = Table("rooms", "rooms, voids behind linings, and neighbours", (
    Column("room", "text", "name, each used once", required=True),
    Column("kind", "choice", "room, void or neighbour", required=True, choices=("room", "void", "neighbour")),
    Column("stop", "integer", "when the walk comes here; blank for what is not entered"),
    _size("x_m", "west side of the room, from the house's west inside face", low=-50.0, required=True),
    _size("y_m", "south side, from the south inside face", low=-50.0, required=True),
    _size("floor_m", "height of its floor over the lowest entrance", low=-20.0, required=True),
    _size("length_m", "size from west to east", low=0.1, required=True),
    _size("width_m", "size from south to north", low=0.1, required=True),
    _size("height_m", "height", low=0.1, high=20.0, required=True),
    _size("temperature_c", "temperature, if not as inside", "C", low=-30.0, high=45.0),
), key="room")  # fmt: skip

LINKS = Table("links", "ways for air between rooms, voids, neighbours and outside", (
    Column("link", "text", "name, each used once", required=True),
    Column("room", "text", "where it starts", required=True),
    Column("to", "text", "where it leads: a room or outside", required=True),
    Column("kind", "choice", "door, hatch, always open, or a gap", required=True, choices=("door", "hatch", "open", "gap")),
    Column("wall", "choice", "wall of the first room it is in", choices=WALLS, default="middle"),
    _size("along", "where along that wall, 0 to 1 from west or south", "-", high=1.0, default=0.5),
    _size("width_mm", "width of the leaf", "mm", low=100.0, high=1000.0, default=800.0),
    _size("undercut_mm", "gap under the closed leaf", "mm", high=50.0, default=0.0),
    _size("area_cm2", "free area of a gap", "cm2", high=5000.0, default=50.0),
), key="link")  # fmt: skip

SITES = Table("sites", "where a leak, or what looks like one, may be", (
    Column("site", "text", "short name, each used once", required=True),
    Column("room", "text", "where it is felt", required=True),
    Column("wall", "choice", "wall, ceiling, floor or the middle of the room", required=True, choices=WALLS),
    _size("along", "where along that wall, 0 to 1", "-", high=1.0, required=True),
    Column("height", "choice", "low, mid or high", required=True, choices=_HEIGHTS),
    Column("family", "choice", "family of leaks", required=True, choices=FAMILIES),
    Column("kind", "choice", "what it is", default="leak", choices=KINDS),
    Column("element", "text", "building element it belongs to", required=True),
    Column("junction", "text", "what meets what here", required=True),
    Column("path", "text", "the way the air takes behind the surface", required=True),
    Column("to", "text", "where the air comes from: outside or a room, void, neighbour", required=True),
    Column("access", "text", "how one gets there", required=True),
    Column("trade", "text", "who makes it good", required=True),
    Column("shape", "choice", "hole, slot, or none for what lets no air through", required=True, choices=("hole", "slot", "none")),
    _size("size_mm", "diameter of a hole, gap of a slot", "mm", high=500.0, required=True),
    _size("length_m", "length of a slot", default=0.0),
    _size("depth_mm", "depth of a slot", "mm", high=1000.0, default=0.0),
    Column("first", "text", "first face of the joint, as the sealing table of the leak check names it"),
    Column("second", "text", "second face; blank where there is one alone"),
    Column("movement", "yes/no", "the joint moves", default=False),
), key="site")  # fmt: skip

OPENINGS = Table("openings", "what is closed, sealed or filled before the fan runs", (
    Column("opening", "text", "name, each used once", required=True),
    Column("room", "text", "room it is in", required=True),
    Column("to", "text", "where it leads", default="outside"),
    Column("found", "text", "how it is found", required=True),
    Column("wanted", "choice", "what it needs", required=True, choices=("close", "seal", "fill", "leave")),
    _size("area_cm2", "free area as found", "cm2", high=5000.0, default=0.0),
    Column("why", "text", "reason, said afterwards", required=True),
    Column("height", "choice", "low, mid or high", choices=_HEIGHTS, default="mid"),
), key="opening")  # fmt: skip

HAZARDS = Table("hazards", "what is looked at before anything runs", (
    Column("hazard", "text", "key of the caution", required=True),
    Column("safe", "text", "what is seen on a safe day", required=True),
    Column("stop", "text", "what is seen on a day that must stop", required=True),
), key="hazard")  # fmt: skip

TABLES = (HOUSE, ROOMS, LINKS, SITES, OPENINGS, HAZARDS)
