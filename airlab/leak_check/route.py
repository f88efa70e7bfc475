"""Where does one walk, in which order, with what in the hand?

The route comes from this job's own rooms, areas, openings and junctions: big and obvious first,
then storey by storey, room by room, low, middle, high. A budget puts the leakiest room of a storey,
and in it the leakiest height and joint, first.
"""

from dataclasses import dataclass

from airlab.leak_check.assumptions import Assumptions
from airlab.leak_check.leak import SEALED
from airlab.leak_check.prepare import preparation
from airlab.leak_check.stage import ends_of, touched_by
from airlab.leak_check.tables import DIRECTIONS, HEIGHTS
from airlab.leak_check.where_leaks import NOWHERE
from airlab.words import PRESSURE_REFERENCE, require_choice, show
from airlab.words.saying import alike, listed, said

__all__ = ["PHASES", "Route", "Stop", "search_route"]

BEFORE, AGAIN, BIG, LAP, LEAVE = PHASES = (
    "before the fan", "look again", "big and obvious", "room by room", "before you leave",
)  # fmt: skip
_SMOKE_PRESSURE = 25.0  # Pa; less mixing than at 50
_BIG_KINDS = ("hatch", "duct", "drain", "door", "flue", "appliance", "vent", "other", "window")
_NO_FAN = "fan off: look, and feel for draughts"

# kind of area: (height, what to look at, typical cause, rank within a height)
_AREA_STOPS = {
    "floor": ("low", "pipes and ducts that rise", "cores are drilled after taping", 3),
    "party floor": ("low", "edges and pipes to the neighbour", "it leads to the neighbour's", 3),
    "wall": ("mid", "sockets, cables, pipes and brackets", "holes are made after taping", 3),
    "party wall": ("mid", "joist ends, cavity top and ends, services", "it leads to the neighbour's or the loft", 3),
    "window": ("mid", "sill and frame to wall, sash to frame, glass to sash",
               "tape ends at corners, brackets go through it", 2),
    "door": ("low", "threshold, meeting stile, hinge side, frame to wall",
             "thresholds stay open, doors are not adjusted", 2),
    "hatch": ("high", "seal all round, frame to ceiling", "hatches are insulated and not sealed", 2),
    "ceiling": ("high", "lights, cables, ducts and laps", "cables go to the void above", 3),
    "roof": ("high", "laps, roof windows, collars, knee wall", "corners are awkward", 3),
    "floor edge": ("high", "joist ends, trimmers, laps round the rim", "the rim is closed last", 3),
    "other": ("mid", "all edges", "forgotten joints", 3),
}  # fmt: skip
_OPENING_PLACE = {
    "hatch": "seal all round", "duct": "open end and its edge",
    "drain": "water in the trap, pipe edge", "door": "threshold and frame",
    "flue": "where it passes the layer", "appliance": "connections to outside",
    "vent": "its edge and its seal", "window": "shut and latched, frame and sash",
    "other": "its edge",
}  # fmt: skip
_JOINTS = "joints are where leaks are found most"


@dataclass(frozen=True, slots=True)
class Stop:
    """One stop of the search.

    Parameters
    ----------
    number : int
        Place in the route.
    phase : str
        One of `PHASES`.
    storey, room, place, height : str
        Where.
    areas : tuple of str
        Areas of the envelope it looks at.
    method, doors, why : str
        What to look with, how the doors stand, why here.
    pressure : float or None
        Pressure difference to search at; None with the fan off. [Pa]
    """

    number: int
    phase: str
    storey: str
    room: str
    place: str
    height: str
    areas: tuple[str, ...]
    method: str
    doors: str
    why: str
    pressure: float | None

    def sentence(self, units="metric"):
        """Return the stop in one line."""
        where = ", ".join(part for part in (self.storey, self.room, self.height) if part)
        method = self.method + (f" at {show(self.pressure, 'Pa')}" if self.pressure else "")
        parts = (f"{where}: {self.place}" if where else self.place, method, self.why)
        return f"{self.number}. " + ". ".join(p[:1].upper() + p[1:] for p in parts) + "."


@dataclass(frozen=True, slots=True)
class Route:
    """The whole search in order: stops, direction of the fan, remarks, whether a budget orders it."""

    stops: tuple[Stop, ...]
    direction: str
    fan_runs: bool
    warnings: tuple[str, ...] = ()
    by_budget: bool = False

    def phase(self, name):
        """Return the stops of one phase."""
        return tuple(stop for stop in self.stops if stop.phase == name)

    def next_stop(self, done=()):
        """Return the first stop whose number is not done, None at the end."""
        return next((stop for stop in self.stops if stop.number not in done), None)

    def sentence(self, units="metric"):
        """Return how long the route is and where it begins."""
        if not self.fan_runs:
            return f"{len(self.stops)} stops, with the fan off: looking only."
        big = [stop.place.split(":")[0] for stop in self.phase(BIG)]
        rooms = list(dict.fromkeys(stop.room for stop in self.phase(LAP) if stop.room))
        text = f"{len(self.stops)} stops with the fan set to {self.direction}."
        text += f" Big and obvious first: {listed(big, most=5)}." if big else ""
        first = ", on each storey first where the budget leaks most" if self.by_budget else ""
        return text + (f" Then room by room{first}: {listed(rooms)}." if rooms else "")


def _method(direction, height, camera, fan_runs):
    if not fan_runs:
        return _NO_FAN
    if direction == "pressurise":
        if height == "high":
            return "smoke inside, a second person outside watches eaves and cladding"
        return "smoke pen held at the joint: watch it being drawn away"
    if height == "high":
        return (
            "thermal camera, then smoke pen on a pole"
            if camera
            else "smoke pen on a pole; too little contrast for a thermal camera"
        )
    return "back of a damp hand, then smoke pen for the exact point"


def _junction_height(kinds):
    if kinds & {"floor"}:
        return "low"
    if kinds & {"ceiling", "roof", "hatch", "party floor"}:
        return "high"
    return "mid"


def search_route(
    rooms,
    areas,
    openings=(),
    junctions=(),
    trades=(),
    log=None,
    direction="depressurise",
    reached=PRESSURE_REFERENCE,
    temperatures=None,
    fan_runs=True,
    assumptions=None,
    units="metric",
    places=NOWHERE,
):
    """Return the search route of this house.

    Parameters
    ----------
    rooms : iterable of Room
        In the order one walks them; storeys in the order they first appear.
    areas : iterable of EnvelopeElement
        Areas that are counted, each with its status.
    openings : iterable of Opening
        Openings to prepare.
    junctions : iterable of Junction
        Joints between elements.
    trades : iterable of Trade
        Trades still to come.
    log : Log or None
        Leaks sealed and not yet looked at again come first.
    direction : str
        depressurise or pressurise.
    reached : float
        Pressure difference the fan reaches; the search goes no higher than 50 Pa. [Pa]
    temperatures : dict or None
        Inside and outside temperature, for the thermal camera. [C]
    fan_runs : bool
        False gives a walk by eye alone.
    assumptions : Assumptions or None
        Contrast the camera wants.
    units : str
        Units people see.
    places : BudgetPlaces
        Where a budget puts the leakage; without one rooms stand as listed, heights from low to high.

    Returns
    -------
    Route
        Stops in order.

    Raises
    ------
    InputError
        If the direction is unknown.

    References
    ----------
    [SINTEF_PATHS] joints of wall to floor and ceiling first, then windows and doors, then
    penetrations; [E1186] methods; [TRADE] order of the walk.
    """
    require_choice("direction", direction, DIRECTIONS)
    given = assumptions or Assumptions()
    rooms, areas, openings = tuple(rooms), tuple(areas), tuple(openings)
    storey_of = {alike(room.name): room.storey for room in rooms}
    inside = [room for room in rooms if room.included]
    shut_out = [room.name for room in rooms if not room.included]
    contrast = _contrast(temperatures)
    camera = contrast is not None and contrast >= given["camera_contrast"]
    full = min(float(reached), PRESSURE_REFERENCE) if fan_runs else None
    smoke = min(full, _SMOKE_PRESSURE) if fan_runs else None
    doors_all = "all inner doors open and wedged"
    if shut_out:
        doors_all += f", doors to {listed(shut_out)} shut"
    stops = []

    def add(phase, room, place, height, where, why, method=None, doors=doors_all, pressure=full):
        if method is None:
            method = _method(direction, height, camera, fan_runs)
        if fan_runs and pressure and "smoke" in method and "hand" not in method:
            pressure = smoke
        storey = storey_of.get(alike(room), "")
        stops.append(Stop(len(stops) + 1, phase, storey, room, place, height or "", where, method,
                          doors, why, pressure))  # fmt: skip

    _before(add, areas, preparation(openings))
    for leak in log.leaks if log else ():
        if leak.state == SEALED:
            add(AGAIN, leak.room, f"leak {leak.number}: {leak.place or leak.area}", leak.height,
                _one(leak.area), f"sealed with {leak.material or 'something'}, not yet looked at again")  # fmt: skip
    first = _big(add, areas, preparation(openings), units, fan_runs)
    joints = [(junction, touched_by(junction, areas)) for junction in junctions]
    for storey in dict.fromkeys(room.storey for room in inside):
        here = [one for one in inside if one.storey == storey]
        for room in sorted(here, key=lambda one: -places.room(one.name)):
            rank = (
                f"shut the door of {room.name} to a hand's width first: a strong draught there "
                "means this room leaks much; then open it"
            )
            told = units if fan_runs else ""  # no flow is said while the fan may not run
            found = _in_room(room, areas, openings, joints, storey_of, first, places, told)
            for index, (height, place, where, why) in enumerate(found):
                doors = doors_all if index else rank
                add(LAP, room.name, place, height, where, why, doors=doors)
    for junction in _homeless(junctions, areas):
        add(LAP, "", f"junction {junction.junction}: {junction.element_a} to {junction.element_b}",
            "", (), "its elements stand in no room of the list")  # fmt: skip
    _leave(add, trades, preparation(openings), fan_runs)
    warnings = tuple(_route_warnings(direction, areas, contrast, camera))
    return Route(tuple(stops), direction, fan_runs, warnings, places.placed > 0.0)


def _contrast(temperatures):
    if not temperatures or None in (temperatures.get("inside"), temperatures.get("outside")):
        return None
    return abs(temperatures["inside"] - temperatures["outside"])


def _before(add, areas, ready):
    """Steps before the fan runs."""
    off = {"method": "look", "pressure": None}
    laps = [area.area for area in areas if area.status == "open laps"]
    missing = [area.area for area in areas if area.status == "not started"]
    place = "walk the line with the drawings, photograph it, note what is not finished"
    why = "it shows where the line is open before any air moves"
    if laps or missing:
        why += f": not finished at {listed([*laps, *missing])}"
    add(BEFORE, "", place, "", (), why, **off)
    if ready.lines:
        add(BEFORE, "", f"set {len(ready.lines)} openings by the schedule, {ready.seals} of them sealed",
            "", (), "preparation decides the number more than the gauge does", **off)  # fmt: skip
    for line in ready.hiding:
        o = line.opening
        add(BEFORE, o.room, f"{o.name}: look behind before the seal goes on", o.height, (),
            "the seal hides a leak that belongs in the result", **off)  # fmt: skip


def _big(add, areas, ready, units, fan_runs):
    """The big and obvious; returns the openings that were dealt with."""
    sized = []
    for line in ready.lines:
        if line.opening.kind == "window" and not line.fault and not line.sealed:
            continue
        sized.append((not line.fault, _BIG_KINDS.index(line.opening.kind), -line.flow, line))
    for *_, line in sorted(sized, key=lambda entry: entry[:3]):
        o, why = line.opening, "a big hole until proved shut"
        if line.fault:
            why = f"found {o.found}, wanted {o.required}: put it right first"
        elif fan_runs and line.flow and o.kind not in ("window", "door", "hatch"):
            why = f"left open it would pass {said(line.flow, 'm3/s', units)} at 50 Pa"
        place = f"{o.name}: {_OPENING_PLACE[o.kind]}"
        if line.sealed:
            place += "; the seal all round"
        add(BIG, o.room, place, o.height, (), why)
    for area in areas:
        if area.status == "not started":
            add(BIG, area.room, f"{area.area}: no layer yet", "", (area.area,),
                "nothing to search here; shut the room off to see what it passes")  # fmt: skip
    return {line.opening.name for *_, line in sized}


def _in_room(room, areas, openings, joints, storey_of, done, places, units):
    """Yield (height, place, areas, why) of one room, what is open by itself first at each height.

    Heights go from low to high, with a budget by its flow there.
    """
    here = alike(room.name)
    own = [area for area in areas if alike(area.room) == here]
    found = []  # height, rank (0 stands alone), what to look at, name, area, why
    for junction, touched in joints:
        touching = [a for a in touched if alike(a.room) == here]
        if not touching:
            continue
        kinds = {a.kind for a in touching}
        rank = (2 if kinds & {"window", "door", "hatch"} else 1) if junction.closed else 0
        look = "joints" if junction.closed else "joint not closed yet, all along"
        height = _junction_height(kinds)
        rims = {storey_of.get(alike(a.room)) for a in touched if a.kind == "floor edge"}
        if rims:  # the rim is over the rooms of its storey and under those above
            height = "high" if room.storey in rims else "low"
        found.append((height, rank, look, junction.junction, touching[0].area, _JOINTS))
    for area in own:
        height, look, why, rank = _AREA_STOPS[area.kind]
        if area.status == "open laps":
            look, why, rank = f"lap by lap, then {look}", "its laps are open", 0
        elif area.status == "covered":
            look, why = (
                "covered, so skirting, sockets and edges",
                "air comes out where the cover ends",
            )
        if area.status != "not started":
            found.append((height, rank, look, area.area, area.area, why))
    kinds = {area.kind for area in own}
    for o in openings:
        if alike(o.room) == here and o.name not in done and o.kind not in kinds:
            found.append((o.height or "mid", 2, _OPENING_PLACE[o.kind], o.name, "", "it opens"))

    def flow(*entries):
        return sum(places.at(room.name, entry[3]) for entry in entries)

    found.sort(key=lambda entry: (entry[1], -flow(entry)))
    at = {height: [entry for entry in found if entry[0] == height] for height in HEIGHTS}
    for height in sorted(HEIGHTS, key=lambda one: -flow(*at[one])):
        for entry in (f for f in at[height] if f[1] == 0):
            why = entry[5] + _budgeted(flow(entry), units)
            yield height, f"{entry[3]}: {entry[2]}", _one(entry[4]), why
        here = [f for f in at[height] if f[1] > 0]
        if here:
            looks = {look: [f[3] for f in here if f[2] == look] for _, _, look, *_ in here}
            place = "; ".join(f"{look}: {listed(held)}" for look, held in looks.items())
            names = tuple(dict.fromkeys(f[4] for f in here if f[4]))
            why = "; ".join(dict.fromkeys(f[5] for f in here)) + _budgeted(flow(*here), units)
            yield height, place, names, why


def _budgeted(flow, units):
    about = units and flow > 0.0 and said(flow, "m3/s", units, digits=2)
    return f"; the budget has about {about} at 50 Pa here" if about else ""


def _one(name):
    return (name,) if name else ()


def _homeless(junctions, areas):
    elements = {alike(area.element) for area in areas}
    return [junction for junction in junctions if not ends_of(junction) & elements]


def _leave(add, trades, ready, fan_runs):
    """Steps before leaving the site."""
    off = {"method": "walk and talk", "pressure": None}
    for trade in trades:
        many = trade.holes_expected
        holes = f"agree where its {many} holes go" if many else "show the line"
        late = "not briefed yet: every hole is reported, sealed, looked at"
        why = "briefed" if trade.briefed else late
        add(LEAVE, "", f"walk the layer with {trade.name}: {holes}", "", (), why, **off)  # fmt: skip
    if ready.seals:
        add(LEAVE, "", f"take off {ready.seals} seals and count them", "", (),
            "the count must match", method="look", pressure=None)  # fmt: skip
    if fan_runs:
        add(LEAVE, "", "restore appliances, alarms and vents", "", (),
            "a competent person restarts what burns fuel", method="look", pressure=None)  # fmt: skip


def _route_warnings(direction, areas, contrast, camera):
    loose = [area.area for area in areas if area.status == "open laps"]
    if direction == "depressurise" and loose:
        yield f"Suction pulls film off its frame: watch {listed(loose)}; stop if it billows."
    if contrast is not None and not camera:
        yield f"Only {show(contrast, 'K')} between inside and outside: smoke and hand, no camera."
