"""What is closed, sealed or left open for the fan, what does each seal hide, and may the fan run?"""

from dataclasses import dataclass

from airlab.leak_check.tables import Opening
from airlab.physics.openings import hole_flow
from airlab.words import (
    HAZARD_ANSWERS,
    PRESSURE_REFERENCE,
    Caution,
    caution,
    hazards,
    require_choice,
)
from airlab.words.saying import listed, said

__all__ = [
    "FILM_WORDS",
    "HazardVerdict",
    "Preparation",
    "PreparedOpening",
    "has_film",
    "hazard_verdict",
    "preparation",
]

FILM_WORDS = ("film", "membrane", "foil", "polythene", "polyethylene")
_FIRE = ("appliance", "flue")


def has_film(area):
    """Return whether the airtight layer of an area is a film."""
    return any(word in area.layer.casefold() for word in FILM_WORDS)


@dataclass(frozen=True, slots=True)
class HazardVerdict:
    """Each hazard with its answer, and whether the fan may run.

    Parameters
    ----------
    answers : tuple of (Caution, str)
        Every hazard asked, with safe, not safe or don't know.
    stops : tuple of Caution
        Hazards that forbid the fan, the flow and a go.
    reasons : tuple of str
        Why each of them stops it.
    """

    answers: tuple[tuple[Caution, str], ...]
    stops: tuple[Caution, ...]
    reasons: tuple[str, ...]

    @property
    def fan_may_run(self):
        """Whether nothing forbids the fan."""
        return not self.stops

    @property
    def open_questions(self):
        """Hazards that do not forbid the fan but are not answered safe."""
        return tuple(c for c, answer in self.answers if answer != "safe" and c not in self.stops)

    def sentence(self, units="metric"):
        """Return whether the fan may run, and why not."""
        if self.stops:
            return "No fan, no flow, no go. " + " ".join(self.reasons)
        text = "Nothing known forbids the fan."
        if self.open_questions:
            names = listed([c.name.lower() for c in self.open_questions])
            text += f" Settle first: {names}."
        return text


def hazard_verdict(answers, areas=(), openings=()):
    """Return whether the fan may run, from three answers for each hazard and from the tables.

    Parameters
    ----------
    answers : dict
        Hazard key to safe, not safe or don't know; a key that is missing is don't know.
    areas : iterable of EnvelopeElement
        Areas; film that is up and not supported is not safe, whatever the answer.
    openings : iterable of Opening
        Openings; fuel appliances and flues get their own line.

    Returns
    -------
    HazardVerdict
        "Not safe" stops the fan whatever the hazard; "don't know" does so for those that can
        kill or tear at once. Where answer and table differ, the stricter stands.

    Raises
    ------
    InputError
        If an answer is none of the three.
    """
    given = {one.key: answers.get(one.key) or "don't know" for one in hazards()}
    for key, answer in given.items():
        require_choice(key, answer, HAZARD_ANSWERS)
    loose = [
        area.area
        for area in areas
        if not area.supported
        and area.kind not in ("window", "door", "hatch")
        and area.status in ("open laps", "complete and visible")
        and has_film(area)
    ]
    if loose:
        given["film"] = "not safe"
    stops, reasons = [], []
    for one in hazards():
        unknown_is_open = given[one.key] == "don't know" and not one.stops_fan
        if given[one.key] == "safe" or unknown_is_open:
            continue
        stops.append(one)
        why = f" (film not battened at {listed(loose)})" if one.key == "film" and loose else ""
        reasons.append(f"{one.name}: {given[one.key]}{why}. {one.text}")
    fires = [o.name for o in openings if o.kind in _FIRE]
    if fires and given["combustion"] != "safe":
        reasons.append(f"In this house: {listed(fires)}.")
    pairs = tuple((one, given[one.key]) for one in hazards())
    return HazardVerdict(pairs, tuple(stops), tuple(reasons))


@dataclass(frozen=True, slots=True)
class PreparedOpening:
    """One line of the preparation schedule.

    Parameters
    ----------
    opening : Opening
        The opening.
    flow : float
        What it would pass at 50 Pa if it were left open. [m3/s]
    sealed : bool
        Whether a seal for the day is on it, or wanted.
    fault : bool
        Whether it was found in another state than wanted.
    notes : tuple of str
        What to mind.
    """

    opening: Opening
    flow: float
    sealed: bool
    fault: bool
    notes: tuple[str, ...] = ()

    @property
    def hides(self):
        """Whether its seal hides a leak that belongs in the result."""
        return self.sealed and self.opening.hides_leak

    def sentence(self, units="metric"):
        """Return the line in words."""
        o = self.opening
        state = {"closed": "closed, not taped"}.get(o.required, o.required)
        text = f"{o.name} ({o.room}): {state}"
        if o.sealed_with and self.sealed:
            text += f" with {o.sealed_with}"
        if self.flow:
            text += f"; left open it would pass {said(self.flow, 'm3/s', units)} at 50 Pa"
        return ". ".join((text, *(note.rstrip(".") for note in self.notes))) + "."


@dataclass(frozen=True, slots=True)
class Preparation:
    """The preparation schedule: every opening, the seals and their count.

    Parameters
    ----------
    lines : tuple of PreparedOpening
        In the order of the table.
    seals, removed : int
        Seals for the day; seals ticked as taken off. [-]
    hidden_flow : float
        What the leaks behind seals would pass at 50 Pa if left open. [m3/s]
    excluded_flow : float
        What the other sealed openings would pass if left open. [m3/s]
    open_flow : float
        What openings left open on purpose pass at 50 Pa. [m3/s]
    warnings : tuple of str
        What to look at.
    """

    lines: tuple[PreparedOpening, ...]
    seals: int
    removed: int
    hidden_flow: float
    excluded_flow: float
    open_flow: float
    warnings: tuple[str, ...] = ()

    @property
    def faults(self):
        """Lines found in another state than wanted."""
        return tuple(line for line in self.lines if line.fault)

    @property
    def hiding(self):
        """Lines whose seal hides a leak that belongs in the result."""
        return tuple(line for line in self.lines if line.hides)

    @property
    def counts_match(self):
        """Whether every seal is ticked as taken off."""
        return self.seals == self.removed

    def sentence(self, units="metric"):
        """Return the count of seals, what they hide, and faults."""
        many = len(self.lines)
        text = (
            f"{many} opening{'' if many == 1 else 's'} to prepare, {self.seals} sealed for the day"
        )
        text += f", {self.removed} taken off again." if self.removed else "."
        if self.hiding:
            names = listed([line.opening.name for line in self.hiding])
            text += f" The seal at {names} hides a leak that belongs in the result"
            text += (
                f"; left open it would pass {said(self.hidden_flow, 'm3/s', units)} at 50 Pa."
                if self.hidden_flow
                else "; its size is not entered."
            )
        if self.faults:
            names = listed([f"{f.opening.name} ({f.opening.found})" for f in self.faults])
            text += f" Put right first: {names}. That is preparation, not gain."
        return text


def preparation(openings):
    """Return the preparation schedule of a job's openings.

    Parameters
    ----------
    openings : iterable of Opening
        Openings with the state wanted and, on the day, the state found.

    Returns
    -------
    Preparation
        Lines, seals and their count, what they hide.

    Notes
    -----
    A free area passes what a sharp hole of that area passes at 50 Pa. For a window or door enter
    the gap that stays when it is shut, not the whole leaf.

    References
    ----------
    [TRADE] preparation by closed, sealed, open, as found; [DERIVED] sharp hole at 50 Pa.
    """
    lines, warnings = [], []
    for o in openings:
        found = o.found.strip().casefold()
        sealed = o.required == "sealed" or found == "sealed"
        fault = bool(found) and o.required != "as found" and found != o.required
        flow = float(hole_flow(o.free_area or 0.0, PRESSURE_REFERENCE))
        notes = []
        if o.hides_leak and sealed:
            notes.append("The seal hides a leak that belongs in the result")
            if not o.free_area:
                warnings.append(
                    f"The seal at {o.name} hides a leak of unknown size. Enter its free area."
                )
        if o.kind == "drain":
            notes.append("Fill the trap; a dry trap is an open hole")
        if o.kind in _FIRE:
            notes.append(
                "Off, isolated and cold, no pilot flame; a competent person restarts and checks it"
            )
        if o.kind == "vent" and sealed:
            notes.append("A permanent vent: the seal is for the day only")
        if o.removed and not sealed:
            warnings.append(f"{o.name} is ticked as taken off, but no seal is on the list.")
        lines.append(PreparedOpening(o, flow, sealed, fault, tuple(notes)))

    def total(keep):
        return sum(line.flow for line in lines if keep(line))

    return Preparation(
        tuple(lines),
        sum(line.sealed for line in lines),
        sum(line.sealed and line.opening.removed for line in lines),
        total(lambda line: line.hides),
        total(lambda line: line.sealed and not line.hides),
        total(lambda line: line.opening.required == "open" and not line.sealed),
        (*warnings, *((caution("seals_off").text,) if any(line.sealed for line in lines) else ())),
    )
