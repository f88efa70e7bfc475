"""What counts as envelope: party walls in or out, lowest floor in or out? And in which country?"""

from dataclasses import dataclass

from airlab.words import InputError

__all__ = [
    "COUNTING_RULES", "NATIONAL_COUNTING", "CountingRule", "NationalCounting", "counting_rule",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class CountingRule:
    """What counts as envelope area: party walls and floors in or out, lowest floor in or out."""

    name: str
    party: bool
    lowest_floor: bool
    meaning: str
    source: str
    status: str

    def counts(self, element):
        """Return whether an envelope element is counted."""
        return (self.party or not element.party) and (self.lowest_floor or not element.lowest_floor)


COUNTING_RULES = (
    CountingRule("ISO 9972", True, True, "every floor, wall and ceiling that borders the tested "
                 "volume, party walls and lowest floor included, by overall inside dimensions",
                 "ISO9972", "from memory"),
    CountingRule("heat-loss area", False, True, "areas that lose heat: party walls and party floors "
                 "left out, as in Belgium", "BE_EPB", "second-hand"),
    CountingRule("heat-loss area without lowest floor", False, False, "areas that lose heat, lowest "
                 "floor left out, as in France", "FR_2010", "read"),
    CountingRule("without lowest floor", True, False, "all areas but the lowest floor", "AIRLAB",
                 "assumption"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class NationalCounting:
    """How one country counts: the envelope rule that fits, what else differs, how it is known."""

    country: str
    rule: str
    twist: str
    status: str
    source: str

    def sentence(self):
        """Return the counting of the country in words."""
        return (
            f"{self.country}: envelope as {self.rule}; {self.twist} ({self.status}). "
            "Check your local rules."
        )


NATIONAL_COUNTING = (
    NationalCounting("Ireland, UK", "ISO 9972", "lowest floor and party walls are counted",
                     "from memory", "ISO9972"),
    NationalCounting("France", "heat-loss area without lowest floor", "at 4 Pa", "read", "FR_2010"),
    NationalCounting("Belgium", "heat-loss area", "party walls are left out", "second-hand", "BE_EPB"),
    NationalCounting("Finland", "ISO 9972", "by overall internal dimensions", "read", "FI_ENERGY"),
    NationalCounting("Denmark", "ISO 9972", "the result goes by heated floor area, measured outside",
                     "read", "DK_BR18"),
    NationalCounting("Germany", "ISO 9972", "the result goes by heated air volume, national annex",
                     "read", "DE_GEG"),
    NationalCounting("Austria", "ISO 9972", "volume and envelope by ISO 9972, floor by its own standard",
                     "second-hand", "AIVC_ANSWERS"),
    NationalCounting("Canada", "ISO 9972", "attached homes: say whether the neighbours were held at the "
                     "same pressure", "second-hand", "CA_NBC"),
)  # fmt: skip


def counting_rule(name="ISO 9972", party=None, lowest_floor=None):
    """Return the counting rule of that name, or the one that fits the two switches.

    Parameters
    ----------
    name : str
        Name of one of `COUNTING_RULES`.
    party, lowest_floor : bool or None
        Count party walls and floors; count the lowest floor. None leaves it to the named rule.

    Raises
    ------
    InputError
        If no rule has that name.
    """
    for rule in COUNTING_RULES:
        if rule.name == name:
            break
    else:
        known = ", ".join(repr(rule.name) for rule in COUNTING_RULES)
        raise InputError(f"Counting rule is {name!r}. Choose one of: {known}.")
    wanted = (
        rule.party if party is None else bool(party),
        rule.lowest_floor if lowest_floor is None else bool(lowest_floor),
    )
    return next(rule for rule in COUNTING_RULES if (rule.party, rule.lowest_floor) == wanted)
