"""What may be done about a tag? The sealing choices of the real check, or leaving it alone."""

from dataclasses import dataclass

from airlab.leak_check.sealing import choose_fix, fix_of

__all__ = ["Fix", "fixes"]


@dataclass(frozen=True, slots=True)
class Fix:
    """Something done about a tag.

    Parameters
    ----------
    key : str
        Short name: a material, or a way to leave it.
    words : str
        What is done.
    residual, later : float
        What is left of the flow today; the factor on that in years to come.
    right : bool
        Whether it can be defended.
    reason, source : str
        Why, said afterwards; where that comes from, with its status.
    unsafe : bool
        Whether it can hurt someone.
    minutes : float
        How long it takes.
    """

    key: str
    words: str
    residual: float
    later: float
    right: bool
    reason: str
    source: str = ""
    unsafe: bool = False
    minutes: float = 5.0


_LEFT = (
    ("not a leak", "leave it: it is cold, but no air comes", "cold bridge",
     "A cold surface without moving air is heat, not a leak. The fan off and on tells, and so does smoke."),
    ("not yours", "leave it and tell whoever answers for it: flue, gas, vent, fire damper", "not yours to seal",
     "Flues, gas sleeves, combustion air and dampers are never sealed for a number. The trade that answers "
     "for them uses rated parts."),
    ("report", "report it: the air comes from next door", "next door",
     "It counts in the reading but is no air from outside, and the fire line runs here: design decides. A second "
     "fan next door would take it out of the number."),
)  # fmt: skip


def fixes(site):
    """Return what may be done about a site, in an order that gives nothing away.

    Parameters
    ----------
    site : Site
        The tagged place.

    Returns
    -------
    tuple of Fix
        Sealing choices and three ways to leave it alone.
    """
    return tuple(sorted((*_sealing(site), *_leaving(site)), key=lambda one: one.key))


def _leaving(site):
    for key, words, kind, reason in _LEFT:
        right = site.kind == kind
        if not right:
            reason = ("Air comes in here and nobody else will stop it: it is a leak to be sealed."
                      if site.kind == "leak" else f"It is something else: {site.kind}.")  # fmt: skip
        yield Fix(key, words, 1.0, 1.0, right, reason, minutes=1.0)


def _joint(site):
    """Return the sealing advice for the faces of a site."""
    if not site.first:
        return fix_of("finished edge")
    shape = (
        "floor edge"
        if site.family == "rim"
        else "tear"
        if (site.first, site.second) == ("film", "")
        else "joint"
    )
    gap = site.size if site.shape == "slot" else None
    advice = choose_fix(
        site.first, site.second, gap, "some" if site.movement else "none", shape=shape
    )
    return advice if advice.options else fix_of("pipe")  # what someone might wrongly take


def _sealing(site):
    other = next((why for _, _, kind, why in _LEFT if kind == site.kind), "")
    for one in _joint(site).options:
        yield Fix(
            one.material, f"seal with: {one.material}", one.residual, one.later,
            one.accepted and not other, other or f"{one.reason[:1].upper()}{one.reason[1:]}.",
            "" if other else f"{one.source}, {one.status}; the product's data sheet decides",
            site.kind == "not yours to seal",
        )  # fmt: skip
