"""How far is the airtight layer, and what may the flow still do until the end of the build?"""

from dataclasses import dataclass

from airlab.leak_check.assumptions import Assumptions
from airlab.words import InputError, show, show_percent
from airlab.words.saying import alike, listed

__all__ = [
    "LAYER_STATES",
    "LayerState",
    "areas_at",
    "ends_of",
    "layer_state",
    "standing_areas",
    "touched_by",
]

INCOMPLETE = "layer incomplete"
OPEN_LAPS = "laps open"
LATER_LAYERS = "complete, later layers add tightness"
NOTHING = "complete, nothing to come"
SERVICES = "complete, services to come"
LAYER_STATES = (INCOMPLETE, OPEN_LAPS, LATER_LAYERS, NOTHING, SERVICES)

_DRIFT_KEYS = {
    OPEN_LAPS: "drift_open_laps",
    LATER_LAYERS: "drift_later_layers",
    NOTHING: "drift_nothing_to_come",
    SERVICES: "drift_services",
}


@dataclass(frozen=True, slots=True)
class LayerState:
    """State of the layer of the whole house and the drift assumed for it.

    Parameters
    ----------
    state : str
        One of `LAYER_STATES`.
    number_counts : bool
        Whether a reading says anything about the final flow.
    drift_median, drift_spread : float or None
        Final flow over today's: middle case and spread as a logarithm. [-]
    drift_keys : tuple of str
        The assumptions the drift comes from.
    not_started, open_laps, services : tuple of str
        Areas without layer, areas with open laps, trades still to make holes.
    later_layer_share : float
        Share of the envelope that a later layer will cover. [-]
    """

    state: str
    number_counts: bool
    drift_median: float | None
    drift_spread: float | None
    drift_keys: tuple[str, ...]
    not_started: tuple[str, ...]
    open_laps: tuple[str, ...]
    services: tuple[str, ...]
    later_layer_share: float

    def sentence(self, units="metric"):
        """Return the state and what it means for a number."""
        if not self.number_counts:
            return (
                f"The layer is incomplete: not started at {listed(self.not_started)}. Search only, "
                "no number."
            )
        text = {
            OPEN_LAPS: f"Laps are open at {listed(self.open_laps)}.",
            LATER_LAYERS: "The layer is complete and later layers over "
            f"{show_percent(self.later_layer_share)} of the envelope add tightness.",
            NOTHING: "The layer is complete and nothing is to come.",
            SERVICES: f"The layer is complete; still to come: {listed(self.services)}.",
        }[self.state]
        low, high = self.drift_median, self.drift_spread
        return (
            f"{text} Assumed: the final flow is {show(low)} times today's in the middle case, with "
            f"a spread of {show_percent(high)} up or down."
        )


def standing_areas(rooms, envelope):
    """Return the areas of the envelope whose room is inside the tested volume."""
    out = {alike(room.name) for room in rooms if not room.included}
    return tuple(area for area in envelope if alike(area.room) not in out)


def areas_at(areas, name, room=""):
    """Return the areas that a row of the log or the register names: by their own name, else by room."""
    named = [area for area in areas if name and alike(area.area) == alike(name)]
    return named or [area for area in areas if room and alike(area.room) == alike(room)]


def ends_of(junction):
    """Return the names of the two elements of a junction, as they are compared."""
    return {alike(junction.element_a), alike(junction.element_b)}


def touched_by(junction, areas):
    """Return the areas a junction runs along.

    They are the areas of its two elements, in the rooms where both stand if there are any.
    """
    ends, seen = ends_of(junction), {}
    touching = [area for area in areas if alike(area.element) in ends]
    for area in touching:
        seen.setdefault(alike(area.room), set()).add(alike(area.element))
    both = {room for room, elements in seen.items() if elements == ends}
    return tuple(area for area in touching if not both or alike(area.room) in both)


def layer_state(areas, trades=(), assumptions=None):
    """Return the state of the layer from the status of each area and the trades to come.

    Parameters
    ----------
    areas : iterable of EnvelopeElement
        Areas that are counted.
    trades : iterable of Trade
        Trades still to come.
    assumptions : Assumptions or None
        Drift for each state; None takes ours.

    Returns
    -------
    LayerState
        The worst that holds: one area not started makes the layer incomplete; open laps come
        next; services to come outweigh a later layer.

    Raises
    ------
    InputError
        If there is no area.

    References
    ----------
    [AIRLAB] drift for each state; [STAGE_PAIRS] published pairs go both ways.
    """
    areas, given = tuple(areas), assumptions or Assumptions()
    if not areas:
        raise InputError(
            "The envelope has no areas. Enter the areas and the state of the layer at each."
        )
    not_started = tuple(a.area for a in areas if a.status == "not started")
    open_laps = tuple(a.area for a in areas if a.status == "open laps")
    services = tuple(t.name for t in trades if t.holes_expected)
    whole = sum(a.area_m2 for a in areas)
    later = sum(a.area_m2 for a in areas if a.later_layer) / whole if whole else 0.0
    if not_started:
        state = INCOMPLETE
    elif open_laps:
        state = OPEN_LAPS
    elif services:
        state = SERVICES
    elif later > 0.0 and later >= given["later_layer_share"]:
        state = LATER_LAYERS
    else:
        state = NOTHING
    key = _DRIFT_KEYS.get(state)
    if state == OPEN_LAPS and services:
        key = _DRIFT_KEYS[SERVICES]
    keys = (key, f"{key}_spread") if key else ()
    median, spread = (given[k] for k in keys) if key else (None, None)
    return LayerState(
        state, key is not None, median, spread, keys, not_started, open_laps, services, later
    )
