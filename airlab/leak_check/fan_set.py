"""Which ring or speed, one fan or two, how much current, and in which opening does the fan stand?"""

from dataclasses import dataclass
from math import ceil

from airlab.leak_check.fan_choice import FanChoice, fan_choice
from airlab.physics.fans import fan_air_power, side_by_side
from airlab.words import (
    PRESSURE_REFERENCE,
    InputError,
    caution,
    require_between,
    require_choice,
    require_positive,
    show,
    show_percent,
)
from airlab.words.saying import alike, said

__all__ = ["FanPlace", "FanSet", "fan_places", "fan_set"]

_EFFICIENCY = 0.3  # air power over electric power, ours
_MOST_AREA = 2.6  # m2; a wider opening wants more than a door panel
_LEAST_AREA = 0.35  # m2; a fan does not stand in a smaller one


@dataclass(frozen=True, slots=True)
class FanSet:
    """Which ring or speed to begin with, how many fans, and the electric load.

    Parameters
    ----------
    choices : tuple of FanChoice
        One for each ring or speed, in the order entered.
    first : FanChoice
        The one to begin with: it reaches 50 Pa at the high end, or comes nearest.
    second : FanChoice or None
        The one to change to at the low end, where the first cannot hold so small a flow steady.
    count : int
        Fans side by side that the high end needs. [-]
    together : FanChoice or None
        What so many reach; None where one is enough.
    air_power, electric_power : float
        Into the air, from the socket: at the working point of the high end, all fans. [W]
    supply : float or None
        What the supply gives. [W]
    efficiency : float
        Air power over electric power. [-]
    """

    choices: tuple[FanChoice, ...]
    first: FanChoice
    second: FanChoice | None
    count: int
    together: FanChoice | None
    air_power: float
    electric_power: float
    supply: float | None
    efficiency: float

    @property
    def warnings(self):
        """What to mind: a flow that no ring holds steady, a supply that is too weak."""
        found = []
        holder = self.second or self.first
        if not holder.steady:
            found.append(
                "At the low end of what is expected no ring holds the flow steady. Take a smaller "
                "ring, or read at more pressure."
            )
        if self.supply is not None and self.electric_power > self.supply:
            found.append(
                f"The supply gives {show(self.supply, 'W')}; that is too little. Use a supply of its "
                "own for each fan."
            )
        return tuple(found)

    def sentence(self, units="metric"):
        """Return ring, number of fans and load in words."""
        text = [f"Begin with {self.first.fan.name}."]
        if self.together is not None:
            reached = "reach 50 Pa" if self.together.answer == "yes" else (
                f"reach {show(float(self.together.at_high.pressure_difference), 'Pa')} at the high end"
            )  # fmt: skip
            text.append(
                f"The high end needs {self.count} of them side by side; they {reached}. One reads "
                "first: the house may be at the low end."
            )
        elif self.first.answer == "yes":
            text.append("It reaches 50 Pa over the whole range expected.")
        if self.second is not None:
            lowest = said(self.first.fan.lowest_flow, "m3/s", units)
            text.append(f"Below {lowest} it is not steady: change to {self.second.fan.name}.")
        text.append(
            f"Load at the high end: {show(self.air_power, 'W', 2)} into the air, about "
            f"{show(self.electric_power, 'W', 2)} from the socket at {show_percent(self.efficiency)}, "
            f"an assumption; the plate on the fan decides. {caution('electric').text}"
        )
        return " ".join((*text, *self.warnings))


def fan_set(
    fans, expected, flow_exponent=0.65, most=2, efficiency=_EFFICIENCY, supply=None, faults=()
):
    """Return which ring or speed to begin with, how many fans, and what they draw.

    Parameters
    ----------
    fans : iterable of FanCurve
        One for each ring or speed of the fan.
    expected : ExpectedFlow
        Range on the day.
    flow_exponent : float
        Exponent of the house. [-]
    most : int
        Fans that could be brought. [-]
    efficiency : float
        Air power over electric power. [-]
    supply : float or None
        What the supply on site gives. [W]
    faults : iterable of PreparedOpening
        Openings found in another state than wanted.

    Returns
    -------
    FanSet
        The smallest ring that reaches 50 Pa at the high end; failing that, the largest.

    Raises
    ------
    InputError
        If there is no fan or the efficiency is not above 0 and at most 1.

    Notes
    -----
    Size goes by the hole, not by the floor area. Two fans help only as far as both curves add at
    that pressure.

    References
    ----------
    [DERIVED] sum of curves, power Q p; [AIRLAB] efficiency of 30 %.
    """
    fans = tuple(fans)
    if not fans:
        raise InputError("No fan is entered. Give a few points of pressure and flow.")
    require_between("efficiency", efficiency, 0.01, 1.0, "-", "If you meant 30 %, write 0.3.")
    require_choice("most", most, (1, 2, 3, 4))
    if supply is not None:
        require_positive("supply", supply, "W")
    choices = tuple(fan_choice(fan, expected, flow_exponent, faults) for fan in fans)

    def strength(choice):
        return float(choice.at_high.flow_at_50)

    reach = [one for one in choices if one.answer == "yes"]
    first = min(reach, key=strength) if reach else max(choices, key=strength)
    steady = [one for one in choices if one.steady and one.at_low.reaches_50]
    second = max(steady, key=strength) if steady and not first.steady else None
    count, together = 1, None
    if not reach:
        can = strength(first)
        count = most + 1 if can <= 0.0 else ceil(float(first.at_high.flow_needed) / can - 1e-9)
        count = max(min(count, most), 1)
        if count > 1:
            pair = side_by_side(*[first.fan] * count)
            together = fan_choice(pair, expected, flow_exponent, faults)
    reached = (together or first).at_high
    pressure = min(float(reached.pressure_difference), PRESSURE_REFERENCE)
    moved = min(float(reached.flow), float(reached.flow_needed))
    air = float(fan_air_power(moved, pressure))
    return FanSet(
        choices, first, second, count, together, air, air / efficiency, supply, efficiency
    )


@dataclass(frozen=True, slots=True)
class FanPlace:
    """An opening the fan could stand in: whether it will do, and what to mind."""

    name: str
    room: str
    fits: bool
    notes: tuple[str, ...] = ()

    def sentence(self, units="metric"):
        """Return the place in words."""
        where = f"{self.name} ({self.room})"
        word = "will do" if self.fits else "is not for the fan"
        return " ".join((f"{where} {word}.", *self.notes))


def fan_places(openings, rooms=()):
    """Return the doors and windows a fan could stand in, the best first.

    Parameters
    ----------
    openings : iterable of Opening
        Openings of the house.
    rooms : iterable of Room
        Rooms; an opening of a room outside the tested volume is left out.

    Returns
    -------
    tuple of FanPlace
        Doors before windows; a door that is the only way out is refused.

    References
    ----------
    [FI_CLIENT] a doorway under about 1 m wide with a frame; [TRADE] the rest.
    """
    outside = {alike(room.name) for room in rooms if not room.included}
    usable = [o for o in openings if o.kind in ("door", "window") and alike(o.room) not in outside]
    doors = [o for o in usable if o.kind == "door"]
    found = []
    for o in usable:
        notes, fits, size = [], True, o.free_area
        if o.kind == "door" and len(doors) == 1:
            fits = False
            notes.append("It is the only door: the way out stays free.")
        if size is not None and size > _MOST_AREA:
            fits = False
            notes.append("Too wide for a door panel.")
        if size is not None and size < _LEAST_AREA:
            fits = False
            notes.append("Too small for a fan.")
        if fits:
            notes.append(
                "Measure it: about 1 m (40 in) wide at most, with a firm frame. What the fan stands in is not "
                "tested: look at its frame by eye."
            )
            if o.kind == "window":
                notes.append("In a window the fan needs a board and a stand.")
        rank = (not fits, o.kind != "door", bool(o.hides_leak))
        found.append((rank, FanPlace(o.name, o.room, fits, tuple(notes))))
    return tuple(place for _, place in sorted(found, key=lambda pair: pair[0]))
