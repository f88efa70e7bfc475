"""With what is this joint sealed, what comes first, and when is it left alone?

The table beside this module holds the joints and, for each, materials by generic type: right,
possible or wrong, with reason, source and how it was obtained. Shares left open are mostly
assumptions and say so. Always: the product's own data sheet decides.
"""

import re
from dataclasses import dataclass, replace

from airlab.leak_check.sealing_table import SealOption, seal_cases, seal_options, substrates
from airlab.words import InputError, caution, from_si, require_between, require_choice, show
from airlab.words.saying import listed

__all__ = [
    "MOVEMENTS", "REACHES", "SEAL_ANSWERS", "SHAPES", "Fix", "SealOption", "ask_first",
    "choose_fix", "fix_of", "substrates",
]  # fmt: skip

SEAL, READY_FIRST, LEAVE, NOT_YOURS = SEAL_ANSWERS = (
    "seal", "make ready first", "do not seal", "not yours to seal",
)  # fmt: skip
MOVEMENTS = ("none", "some", "much")
SHAPES = ("joint", "floor edge", "finished edge", "tear")
REACHES = ("from the layer's side", "from the other side only", "out of reach")
_SHEET = "The product's data sheet decides."
_STOPS = {"flue": NOT_YOURS, "gas sleeve": NOT_YOURS, "vent": LEAVE, "fire stop": LEAVE}
# What people write for the joints that are left alone.
_SPOKEN = {
    "flue": "flue|chimney|stove|boiler|fireplace", "gas sleeve": "gas (pipe|sleeve)",
    "vent": "vent|extract|air inlet|air ?brick|combustion air",
    "fire stop": "fire.?(wall|stop|barrier)|cavity barrier",
}  # fmt: skip
_ASK = (
    "Is this yours to seal? An opening that feeds a fire or ventilates is never sealed; a fire wall "
    "needs a tested seal."
)
_SHAPED = {"floor edge": "rim", "finished edge": "finished edge", "tear": "tear"}
_WIDE, _FALLBACK = "wide gap", "hard joint"
_LEAST_TEMPERATURE = 5.0  # C
# Installers' tests show that each of these matters [RISE_AGED].
_READY = {
    "damp": "Dry it: timber under about 18 %, faces dry to the touch.",
    "dusty": "Brush, vacuum and wipe. Press on 10 cm of tape, pull after ten minutes: if dust or fibres "
    "come off, prime.",
    "cold": "Warm it to 5 °C, or take a product whose sheet allows the cold.",
    "loose": "Batten or back it first: nothing sticks to what gives way.",
}
# How much faster a seal opens that is asked to move more than it can, ours.
_MOVED = (1.0, 2.0, 4.0)


@dataclass(frozen=True, slots=True)
class Fix:
    """How one leak is dealt with.

    Parameters
    ----------
    answer : str
        One of `SEAL_ANSWERS`.
    case, name : str
        The joint of the table, and its name in words.
    ready : tuple of str
        What comes first.
    options : tuple of SealOption
        Right ones, then possible ones, then wrong ones.
    prepare, dont : str
        How the faces are prepared; what not to do.
    source, status : str
        Of the preparation.
    """

    answer: str
    case: str
    name: str
    ready: tuple[str, ...]
    options: tuple[SealOption, ...]
    prepare: str
    dont: str
    source: str
    status: str

    @property
    def accepted(self):
        """Ways that can be defended, the right ones first."""
        return tuple(one for one in self.options if one.accepted)

    def sentence(self, units="metric"):
        """Return answer, materials, preparation and don'ts in words."""
        text = [f"{self.name[:1].upper()}{self.name[1:]}: {self.answer}."]
        text += self.ready
        if self.answer in (LEAVE, NOT_YOURS):
            text.append(f"{self.prepare[:1].upper()}{self.prepare[1:]}.")
            if self.case in ("vent", "fire stop"):
                text.append(caution("fire_stopping").text)
            return " ".join(text)
        good = self.accepted
        text.append(
            f"Use {listed([one.material for one in good])}." if good else "Nothing fits as it is."
        )
        text.append(f"Prepare: {self.prepare}.")
        text.append(f"Mind: {self.dont}.")
        if good:
            text.append(good[0].sentence(units))
        if self.case == "cable":
            text.append(caution("cables").text)
        return " ".join((*text, _SHEET))


def _case_of(first, second, shape):
    for name in _STOPS:
        if name in (first, second):
            return name
    if shape in _SHAPED:
        return _SHAPED[shape]
    pair = (first, second)
    for case, row in seal_cases().items():
        ones, others = row["first"].split("|"), row["second"].split("|")
        for a, b in (pair, pair[::-1]):
            if a and a in ones and (others == [""] or b in others):
                return case
    return "lap" if pair == ("film", "") else _FALLBACK


def choose_fix(
    first,
    second="",
    gap=None,
    movement="some",
    damp=False,
    dusty=False,
    temperature=15.0,
    reach=REACHES[0],
    shape="joint",
    supported=True,
    intentional=False,
):
    """Return how a leak is dealt with: what comes first, with what, or that it is left alone.

    Parameters
    ----------
    first, second : str
        The two faces, of `substrates()`; the second may be blank where there is one alone.
    gap : float or None
        Width of the gap. [m]
    movement : str
        none, some or much.
    damp, dusty : bool
        State of the faces.
    temperature : float
        Of the faces. [C]
    reach : str
        One of `REACHES`.
    shape : str
        One of `SHAPES`.
    supported : bool
        Whether the faces are firm.
    intentional : bool
        An opening that must stay.

    Returns
    -------
    Fix
        Every way that can be defended is among the accepted ones.

    Raises
    ------
    InputError
        If a face, shape, movement or reach is unknown, or a size out of range.

    References
    ----------
    [TRADE] materials and preparation; [SINTEF_CLAMP], [HALLIK_2019], [JUCIENE_2024],
    [VANDENBOSSCHE_2012], [PROSKIW_1995], [LBL_TAPES], [ABUSHAKRA_2002] where a study stands behind it.

    Examples
    --------
    >>> choose_fix("film", "film").accepted[0].material
    'lap tape'
    >>> choose_fix("flue", "concrete").answer
    'not yours to seal'
    """
    known = substrates()
    require_choice("first face", first, known)
    if second:
        require_choice("second face", second, known)
    require_choice("movement", movement, MOVEMENTS)
    require_choice("reach", reach, REACHES)
    require_choice("shape", shape, SHAPES)
    require_between("temperature", temperature, -30.0, 60.0, "C")
    if gap is not None:
        require_between("gap", gap, 0.0, 0.5, "m", "If you meant millimetres, write mm(...).")
    case = "vent" if intentional else _case_of(first, second, shape)
    row = seal_cases()[case]
    if gap is not None and row["gap_high_mm"] and from_si(gap, "mm") > float(row["gap_high_mm"]):
        case, row = _WIDE, seal_cases()[_WIDE]
    answer = _STOPS.get(case, SEAL)
    if answer != SEAL:
        return Fix(answer, case, row["name"], (), (), row["prepare"], row["dont"],
                   row["source"], row["status"])  # fmt: skip
    states = {"damp": damp, "dusty": dusty, "cold": temperature < _LEAST_TEMPERATURE,
              "loose": not supported}  # fmt: skip
    ready = [_READY[key] for key, holds in states.items() if holds]
    if reach == REACHES[1]:
        ready.append(
            "Get at it from the side of the layer: a seal on the far side leaves the void open."
        )
    elif reach == REACHES[2]:
        ready.append("Open it up, or log it as unreachable now: it stays open in the log.")
    options = [_here(option, gap, movement) for option in seal_options(case)]
    if not any(option.accepted for option in options):
        ready.append("Change the joint: bring it to a narrower gap, or hold it still.")
    order = ("right", "possible", "wrong")
    return Fix(
        READY_FIRST if ready else SEAL, case, row["name"], tuple(ready),
        tuple(sorted(options, key=lambda option: order.index(option.verdict))), row["prepare"],
        row["dont"], row["source"], row["status"],
    )  # fmt: skip


def _here(option, gap, movement):
    """Return an option as it stands at this gap and movement."""
    short = max(MOVEMENTS.index(movement) - MOVEMENTS.index(option.moves), 0)
    if gap is not None and option.gap is not None and gap > option.gap:
        reason = f"the gap is wider than {show(from_si(option.gap, 'mm'), 'mm')}; {option.reason}"
        option = replace(option, verdict="wrong", reason=reason)
    if short:
        verdict = (
            "wrong" if short > 1 else {"right": "possible"}.get(option.verdict, option.verdict)
        )
        reason = f"it takes less movement than there is; {option.reason}"
        option = replace(option, verdict=verdict, reason=reason, later=option.later * _MOVED[short])
    return option


def ask_first(*words):
    """Return what to ask before sealing where words speak of fire or ventilation; else nothing.

    Examples
    --------
    >>> ask_first("stove sleeve", "foam")[:26]
    'Is this yours to seal? An '
    >>> ask_first("letter plate")
    ''
    """
    text = " ; ".join(words).casefold()
    for case, spoken in _SPOKEN.items():
        if re.search(rf"\b({spoken})", text):
            row = seal_cases()[case]
            name = f"{row['name'][:1].upper()}{row['name'][1:]}"
            return f"{_ASK} {name}: {row['prepare']}; {row['dont']}."
    return ""


def fix_of(case):
    """Return the fix of a joint named by its case, as the table has it.

    Raises
    ------
    InputError
        If the table has no such case.
    """
    row = seal_cases().get(case)
    if row is None:
        raise InputError(f"Joint is {case!r}. Choose one of: {', '.join(seal_cases())}.")
    return Fix(_STOPS.get(case, SEAL), case, row["name"], (), seal_options(case), row["prepare"],
               row["dont"], row["source"], row["status"])  # fmt: skip
