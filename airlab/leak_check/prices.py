"""What does each choice cost in the long run: check or not, cover now or mend first?

Prices are the user's own; none is built in. A choice has what it costs for certain and what a miss
at the end would cost, times its chance. What a price would have to be to change the choice is said.
"""

from dataclasses import dataclass
from math import inf

from airlab.building.aim import ASSUMED_SPREAD, pass_probability
from airlab.words import InputError, require_between, require_positive, show, show_percent

__all__ = ["PRICE_KEYS", "Choice", "Choices", "check_or_not", "compare_choices", "cover_or_wait"]

PRICE_KEYS = {
    "check": "one check: fan, people, half a day",
    "round": "one more round of mending and reading before it is covered, delay included",
    "open_up": "opening up, mending and closing again once it is covered",
    "retest": "another final test",
    "miss": "anything else a missed limit costs: penalty, late handover",
}


@dataclass(frozen=True, slots=True)
class Choice:
    """A choice: its name, what it costs for certain, the chance of a miss [-], what a miss costs."""

    name: str
    certain: float
    chance: float
    miss_cost: float

    def __post_init__(self):
        require_positive(f"cost of '{self.name}'", self.certain, allow_zero=True)
        require_positive("cost of a miss", self.miss_cost, allow_zero=True)
        require_between("chance", self.chance, 0.0, 1.0, "-", "If you meant 10 %, write 0.1.")

    @property
    def expected(self):
        """Certain cost plus chance times the cost of a miss."""
        return self.certain + self.chance * self.miss_cost


@dataclass(frozen=True, slots=True)
class Choices:
    """Choices by what they cost in the long run, the cheapest first.

    Parameters
    ----------
    choices : tuple of Choice
        Sorted.
    miss_cost : float
        What a miss at the end costs.
    break_even : float
        Cost of a miss at which the two cheapest cost the same; infinite or zero if none does.
    currency : str
        As people write it.
    """

    choices: tuple[Choice, ...]
    miss_cost: float
    break_even: float
    currency: str = ""

    @property
    def cheapest(self):
        """The choice that costs least in the long run."""
        return self.choices[0]

    def _money(self, value):
        return f"{show(value)} {self.currency}".strip()

    def sentence(self, units="metric"):
        """Return the choices with their cost, and the price at which the choice would change."""
        parts = [
            f"{one.name}: {self._money(one.expected)} on average ({self._money(one.certain)} for certain, "
            f"a miss with {show_percent(one.chance)})"
            for one in self.choices
        ]
        text = f"{'; '.join(parts)}. A miss costs {self._money(self.miss_cost)}."
        if 0.0 < self.break_even < inf:
            text += (
                f" '{self.choices[0].name}' and '{self.choices[1].name}' cost the same if a miss costs "
                f"{self._money(self.break_even)}."
            )
        return f"{text} Your prices; the mean of many houses, not a promise for one."


def compare_choices(choices, currency=""):
    """Return choices by what they cost in the long run.

    ``E = certain + P(miss) miss_cost``; two choices break even where
    ``miss_cost = (c_1 - c_2) / (P_2 - P_1)``.

    Parameters
    ----------
    choices : iterable of Choice
        Two or more, with one cost of a miss.
    currency : str
        As people write it.

    Returns
    -------
    Choices
        The cheapest first.

    Raises
    ------
    InputError
        If there are fewer than two, or they differ in the cost of a miss.

    References
    ----------
    [DERIVED] mean of two outcomes

    Examples
    --------
    >>> found = compare_choices([Choice("no check", 0, 0.4, 2000), Choice("check", 350, 0.1, 2000)])
    >>> found.cheapest.name, round(found.break_even)
    ('check', 1167)
    """
    choices = tuple(choices)
    if len(choices) < 2:
        raise InputError("Give two choices or more to compare.")
    if len({one.miss_cost for one in choices}) > 1:
        raise InputError("A miss costs the same whatever was chosen before; give one cost.")
    ranked = tuple(sorted(choices, key=lambda one: (one.expected, one.certain)))
    first, second = ranked[:2]
    fewer, dearer = second.chance - first.chance, first.certain - second.certain
    even = dearer / fewer if fewer else inf
    return Choices(ranked, first.miss_cost, even if even > 0.0 else 0.0, currency)


def _priced(prices, wanted):
    """Return the prices wanted; refuse where one is missing."""
    prices = dict(prices or {})
    missing = [key for key in wanted if prices.get(key) is None]
    if missing:
        told = "; ".join(f"{key}: {PRICE_KEYS[key]}" for key in missing)
        raise InputError(f"Prices are missing. Enter your own: {told}.")
    return [require_positive(f"price of {key}", prices[key], allow_zero=True) for key in wanted]


def _miss_cost(prices):
    open_up, retest = _priced(prices, ("open_up", "retest"))
    return open_up + retest + float(prices.get("miss") or 0.0)


def check_or_not(prices, aim_flow, limit_flow, confidence=0.9, spread=ASSUMED_SPREAD):
    """Return whether a check before covering pays, against opening up later.

    Without a check a miss has the chance of a house that aims at `aim_flow` with that spread; with
    one, what is covered is as sure as is wanted.

    Parameters
    ----------
    prices : dict
        Keys of `PRICE_KEYS`: check, open_up, retest; miss where it costs more; `currency`.
    aim_flow, limit_flow : float
        Flow at 50 Pa aimed for, allowed. [m3/s]
    confidence : float
        How sure one is of what was released. [-]
    spread : float
        Spread of as-built about the aim, as a logarithm. [-]

    Returns
    -------
    Choices
        'check before it is covered' and 'no check'.

    Raises
    ------
    InputError
        If a price is missing or negative.

    Notes
    -----
    The check costs the same whether it finds anything; mending what it finds is counted at the
    decision. Nobody has published the spread.

    References
    ----------
    [AIRLAB] spread; [DERIVED]
    """
    (check,), miss = _priced(prices, ("check",)), _miss_cost(prices)
    without = 1.0 - float(pass_probability(aim_flow, limit_flow, spread))
    choices = (
        Choice("check before it is covered", check, min(1.0 - confidence, without), miss),
        Choice("no check", 0.0, without, miss),
    )
    return compare_choices(choices, prices.get("currency") or "")


def cover_or_wait(prices, probability, probability_after):
    """Return what covering now and mending first cost in the long run.

    Parameters
    ----------
    prices : dict
        Keys of `PRICE_KEYS`: round, open_up, retest; miss where it costs more; `currency`.
    probability : float
        That the final test keeps the limit as the house stands. [-]
    probability_after : float
        The same after one more round. [-]

    Returns
    -------
    Choices
        'cover now' and 'one more round first'.

    Raises
    ------
    InputError
        If a price is missing, or one more round makes it worse.

    Notes
    -----
    An area with an open row, an open lap or a seal that hides its leak waits whatever this says.
    """
    (again,), miss = _priced(prices, ("round",)), _miss_cost(prices)
    for name, value in (("probability", probability), ("probability_after", probability_after)):
        require_between(name, value, 0.0, 1.0, "-", "If you meant 90 %, write 0.9.")
    if probability_after < probability:
        raise InputError(
            f"Probability after is {show_percent(probability_after)}, below the "
            f"{show_percent(probability)} of today. One more round does not make a house leakier."
        )
    choices = (
        Choice("cover now", 0.0, 1.0 - probability, miss),
        Choice("one more round first", again, 1.0 - probability_after, miss),
    )
    return compare_choices(choices, prices.get("currency") or "")
