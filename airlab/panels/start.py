"""Three doors: learn it with a balloon, check the house you build, set a value for a design.

Behind each door stands what somebody needs in the first three minutes, and nothing else.
"""

from html import escape
from typing import NamedTuple

import ipywidgets as widgets

from airlab.building import Aim, Indicators, RoughStart, aim_for, indicators, rough_start
from airlab.files import current_job, save_settings, start_job
from airlab.panels.card import CardPanel
from airlab.panels.controls import Dial, choice
from airlab.panels.printed import printed_link
from airlab.physics import Balloon, Drain, RoundHole, drain
from airlab.plots.drain import drain_drawing
from airlab.plots.rough import rough_drawing, rough_tiles
from airlab.plots.sizes import aim_ladder, indicator_table, indicator_tiles, notes_list
from airlab.sheets import write_pages
from airlab.sheets.facts import facts_of
from airlab.sheets.first_last import rough_page
from airlab.words import (
    InputError,
    convert,
    display_unit,
    from_si,
    label,
    mm,
    show,
    show_duration,
)

__all__ = ["DOORS", "StartPanel"]

DOORS = {
    "apprentice": "I want to understand it",
    "self-builder": "I am building a house",
    "designer": "I have a limit to meet",
}
_SEEN = {
    "apprentice": ("guess",),
    "self-builder": ("floor_area", "mean_height", "target", "per", "name"),
    "designer": ("floor_area", "mean_height", "target", "per"),
}
_FOLDED = {"self-builder": ("storeys",), "designer": ("storeys", "confidence", "spread")}
_GUESSES = (("not yet", ""), ("10 s", 10.0), ("1 min", 60.0), ("6 min", 360.0))
_STRAW, _ACROSS = mm(6), mm(280)
_AUTO = {"description_width": "initial"}
_ASSUMED = " Assumed:"
_AT = "at 50 Pa"
_NO_FAN = "No fan before every hazard is answered: notebook 07."
_STEPS = (0.5, 0.7, 0.8, 0.9, 0.95)  # how sure, step by step
_PICK = "The same number means two different houses. Which one does your paper say?"


class Asked(NamedTuple):
    """A balloon, and the guess of its time to flat, if there was one."""

    drain: Drain
    guess: float | str


class TwoReadings(NamedTuple):
    """One number read in both units, as long as nobody has picked one."""

    per_hour: RoughStart | None
    per_area: RoughStart | None


class DesignStart(NamedTuple):
    """A limit on an assumed shape: allowance, every indicator, value to aim for."""

    rough: RoughStart
    indicators: Indicators
    aim: Aim
    aims: tuple[Aim, ...]


class StartPanel(CardPanel):
    """Three doors: "apprentice", "self-builder", "designer".

    Examples
    --------
    >>> from airlab.panels import StartPanel
    >>> panel = StartPanel(units="metric").set(door="self-builder", target=3.0, per="n50")
    >>> panel.sentence[:47]
    'ROUGH. 3 /h at 50 Pa allows 1050 m³/h at 50 Pa.'
    """

    title = "Which one are you?"

    def __init__(self, units=None):
        units = units or current_job().units
        self._per_area = display_unit("m3/(s.m2)", units)
        per = (("pick one", ""), ("per hour", "n50"),
               (f"{label(self._per_area)} of envelope", "qE50"))  # fmt: skip
        more = {
            "guess": choice("Flat in…", _GUESSES),
            "floor_area": _dial("Floor area", 140.0, 40.0, 400.0, "m2", units),
            "mean_height": _dial("Mean height", 2.5, 2.0, 4.0, "m", units),
            "target": Dial("Target or limit at 50 Pa", 3.0, 0.2, 10.0, step=0.1),
            "per": choice("Its unit", per),
            "name": widgets.Text("My house", description="Name of the house", style=_AUTO),
            "storeys": choice("Storeys", (1, 2, 3, 4), value=2, as_list=True),
            "confidence": Dial("How sure", 90.0, 50.0, 99.0, step=1.0, unit="%"),
            "spread": Dial("Assumed spread of results", 0.30, 0.05, 0.60, step=0.01),
        }
        doors = choice("Door", [(words, door) for door, words in DOORS.items()])
        self._keep = self.button("Keep it and print the draft", self.keep, main=True)
        self._draft = None
        super().__init__(building={"door": doors.add_class("airlab-doors")}, more=more, units=units)
        head, body = self.children
        self.children = (head, doors, body)

    def arrange(self, *extra):
        """Put every control in its place; those of a closed door are not shown."""
        seen = [name for door in _SEEN.values() for name in door]
        folded = [name for door in _FOLDED.values() for name in door]
        self._more_box.children = tuple(self.controls[name] for name in dict.fromkeys(folded))
        self._side.children = (
            *(self.controls[name] for name in dict.fromkeys(seen)),
            self._keep, *extra, self._more, self._more_box, self._buttons,
        )  # fmt: skip

    # what a person does -------------------------------------------------------------------

    def guess(self, seconds):
        """Say when the balloon is flat [s]."""
        return self.set(door="apprentice", guess=seconds)

    def keep(self):
        """Start a house of one's own from the rough facts and print its one-page draft.

        The new house becomes the open job.

        Returns
        -------
        PackPages
            The draft and its file.

        Raises
        ------
        InputError
            If the unit of the target was not picked, or there is such a house already.
        """
        record = self.value
        if not isinstance(record, RoughStart):
            raise InputError("Pick the unit of the target first.")
        house = record.geometry
        job = start_job(self.controls["name"].value, like="empty")
        job = save_settings(
            job,
            rough={"floor_area_m2": house.floor_area, "mean_height_m": house.mean_height},
            target={"metric": record.metric, "value": record.value},
            units=self.units,
        )
        pages = write_pages((rough_page(facts_of(job)),), job.folder / "pages", name="draft")
        self._draft = pages.pack
        self.refresh()
        return pages

    # what is shown ------------------------------------------------------------------------

    def compute(self, door, guess, per, target, confidence, spread, **sizes):
        """Return what stands behind the door."""
        self._open(door)
        if door == "apprentice":
            return Asked(
                drain(Balloon.from_diameter(_ACROSS), RoundHole.from_diameter(_STRAW)), guess
            )
        if not per:
            return TwoReadings(*(self._try(key, target, **sizes) for key in ("n50", "qE50")))
        rough = self._rough(per, target, **sizes)
        if door == "self-builder":
            return rough
        unit = "1/h" if per == "n50" else self._per_area
        aim, *aims = (aim_for(target, spread, sure, unit, at=_AT) for sure in (confidence, *_STEPS))
        return DesignStart(rough, indicators(rough.allowance, rough.geometry), aim, tuple(aims))

    def picture(self, record, **settings):
        """Return the balloon, the rough house, or the indicators and the aim."""
        if isinstance(record, Asked):
            time = 0.0 if not record.guess else record.drain.time_to_flat
            question = "When is it flat?" if not record.guess else f"Flat: {_flat(record)}"
            return (
                f'<div class="airlab-row airlab-short">{drain_drawing(record.drain, time, self.units)}'
                f'<p class="airlab-question">{question}</p></div>'
            )
        if isinstance(record, TwoReadings):
            return (
                f'<p class="airlab-question">{show(self.controls["target"].value)} of what?</p>'
                f"{notes_list(self._both(record))}"
            )
        if isinstance(record, DesignStart):
            tiles = indicator_tiles(record.indicators, units=self.units)
            ladder = aim_ladder(record.aims, record.aim.confidence)
            every = indicator_table(record.indicators, self.units)
            small = _small(record.rough.sentence(self.units), record.aim.sentence())
            return f'{tiles}{ladder}<div class="airlab-brief">{every}</div>{small}'
        draft = printed_link(self._draft, "Open the draft") if self._draft else ""
        return (
            f'<div class="airlab-row airlab-low">{rough_drawing(record, self.units)}</div>'
            f"{rough_tiles(record, self.units)}{_small(record.sentence(self.units))}{draft}"
        )

    def words(self, record, **settings):
        """Return the question, the answer, the allowance or the aim."""
        if isinstance(record, Asked):
            if not record.guess:
                unit = "in" if self.units == "us" else "cm"
                across = show(from_si(_ACROSS, unit), unit, 2)
                return (
                    f"One balloon, {across} across. One hole, as wide as a drinking straw. One clock. "
                    "When is it flat: in 10 s, 1 min or 6 min? Pick one."
                )
            said = {value: words for words, value in _GUESSES}[record.guess]
            return (
                f"You said {said}. It is flat after {_flat(record)}. "
                "Now change the hole: notebook 01."
            )
        if isinstance(record, TwoReadings):
            return f"ROUGH. {' '.join(self._both(record))} {_PICK} Pick the unit."
        if isinstance(record, DesignStart):
            return (
                f"ROUGH. {record.indicators.sentence(self.units)} {_plain(record.aim.sentence())} "
                "Check your local rules. Next: notebook 04."
            )
        kept = "Kept as your house, the draft is printed. " if self._draft else ""
        return f"{kept}{_plain(record.sentence(self.units))} {_NO_FAN} Next: notebook 04."

    # workings -----------------------------------------------------------------------------

    def _changed(self, change):
        """Forget the draft: it is no longer of what is shown."""
        self._draft = None
        super()._changed(change)

    def _open(self, door):
        """Show the controls of the door, hide the others."""
        for name, control in self.controls.items():
            here = name == "door" or name in (*_SEEN[door], *_FOLDED.get(door, ()))
            control.layout.display = None if here else "none"
        self._keep.layout.display = None if door == "self-builder" else "none"
        self._more.layout.display = None if door in _FOLDED else "none"
        self._unfold()
        if door not in _FOLDED:
            self._more_box.layout.display = "none"

    def _rough(self, key, target, floor_area, mean_height, storeys, **_):
        value = target if key == "n50" else convert(target, self._per_area, "m3/(h.m2)")
        return rough_start(floor_area, mean_height, key, value, storeys)

    def _try(self, key, target, **sizes):
        """Return the rough start in one unit; None where the number is no house's in it."""
        try:
            return self._rough(key, target, **sizes)
        except InputError:
            return None

    def _both(self, record):
        """Return what the number would allow in either unit."""
        flow, number = display_unit("m3/s", self.units), show(self.controls["target"].value)
        said = []
        for one, unit in zip(record, ("/h", f"{label(self._per_area)} of envelope")):
            allows = "is no usual house"
            if one is not None:
                allows = f"allows {show(from_si(one.allowance, flow), flow)} at 50 Pa"
            said.append(f"{number} {unit} {_AT} {allows}.")
        return said


def _dial(name, value, low, high, unit, units):
    """Return a dial in the units of the job from ends in metric."""
    shown = display_unit(unit, units)
    ends = (float(show(convert(end, unit, shown), digits=2)) for end in (value, low, high))
    return Dial(name, *ends, unit=shown)


def _flat(record):
    return show_duration(record.drain.time_to_flat)


def _plain(sentence):
    """Return a sentence without what it assumes; that stands in the card."""
    return sentence.partition(_ASSUMED)[0].strip()


def _small(*sentences):
    """Return what sentences assume, in small type, as HTML."""
    tails = (sentence.partition(_ASSUMED)[2].strip() for sentence in sentences)
    return "".join(f'<p class="airlab-small">Assumed: {escape(tail)}</p>' for tail in tails)
