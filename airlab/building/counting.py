"""What counts as envelope: party walls in or out, lowest floor in or out?"""

from dataclasses import dataclass

from airlab.words import InputError

__all__ = ["COUNTING_RULES", "CountingRule", "counting_rule"]


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
