"""Which mistake gives the numbers someone else reckoned? The chain worked out again with each slip.

Give what a report states; the slip whose numbers come closest is named, if it comes close enough
and the right chain does not.
"""

from dataclasses import dataclass

import numpy as np

from airlab.fan_test.corrections import REFERENCE_DENSITY, envelope_flow, fan_flow, zero_flow
from airlab.fan_test.fit import fit_power_law
from airlab.words import InputError, from_si, require_positive, show_percent

__all__ = ["MISTAKES", "STATED", "Suspicion", "chain_with", "name_the_mistake"]

_KELVIN = 273.15
MISTAKES = {
    "none": "No slip: this is the right chain.",
    "zero not subtracted": "The zero-flow pressure was not subtracted.",
    "zero added": "The zero-flow pressure was added instead of subtracted.",
    "ratio inverted": "The density ratio between fan and leaks is upside down.",
    "ratio omitted": "The flow through the fan was taken for the flow through the leaks.",
    "ratio of temperatures": "The ratio of temperatures was used for the ratio of densities.",
    "wrong side": "The coefficient was brought to standard state with the air of the wrong side.",
    "standard state skipped": "The coefficient was not brought to standard state.",
    "fan density skipped": "The fan reading was not brought to the density of the air in the fan.",
    "temperatures only": "Temperatures stand for densities everywhere; air pressure and moisture are "
    "left out.",
}  # fmt: skip
STATED = ("n", "C_env", "C_L", "q50", "q4", "n50")


def chain_with(mistake, series, conditions):
    """Return exponent, coefficients and flows of a series worked out with a slip.

    Parameters
    ----------
    mistake : str
        One of `MISTAKES`.
    series : Series
        Points as read.
    conditions : Conditions
        Air inside and outside, both temperatures read.

    Returns
    -------
    dict
        n, C_env and C_L in m³/(h·Paⁿ), q50 and q4 in m³/h.

    Raises
    ------
    InputError
        If the slip is unknown or takes a point's pressure away.

    Examples
    --------
    >>> from airlab.fan_test.readings import Conditions, Series
    >>> one = Series("depressurise", (20, 35, 50), (0.10, 0.145, 0.183), (-1.0,), (-1.0,))
    >>> given = Conditions(21.0, 6.0)
    >>> right, wrong = (chain_with(m, one, given)["n"] for m in ("none", "zero not subtracted"))
    >>> bool(wrong > right)
    True
    """
    if mistake not in MISTAKES:
        raise InputError(f"Mistake is {mistake!r}. Choose one of: {', '.join(MISTAKES)}.")
    inside, outside = conditions.density("inside"), conditions.density("outside")
    kelvin = [
        _KELVIN + (20.0 if t is None else t)
        for t in (conditions.inside_temperature, conditions.outside_temperature)
    ]
    out = series.direction == "depressurise"
    factor = {"zero not subtracted": 0.0, "zero added": -1.0}.get(mistake, 1.0)
    zero = zero_flow(series.zero_before, series.zero_after).mean
    induced = series.signed_pressure - factor * zero
    flow = np.array(series.flow)
    if conditions.flow_basis == "reading" and mistake != "fan density skipped":
        flow = fan_flow(flow, inside if out else outside, conditions.calibration_density)
    if conditions.flow_basis != "through the envelope":
        pair = (inside, outside)
        if mistake == "ratio inverted":
            pair = (outside, inside)
        elif mistake in ("ratio of temperatures", "temperatures only"):
            pair = (kelvin[1], kelvin[0])
        if mistake != "ratio omitted":
            flow = envelope_flow(flow, series.direction, *pair)
    fit = fit_power_law(induced, flow)
    n = fit.flow_exponent
    leak = outside if out != (mistake == "wrong side") else inside
    state = (leak / REFERENCE_DENSITY) ** (1.0 - n)
    if mistake == "standard state skipped":
        state = 1.0
    elif mistake == "temperatures only":
        state = ((_KELVIN + 20.0) / kelvin[1 if out else 0]) ** (1.0 - n)
    standard = fit.times(state)
    return {
        "n": float(n),
        "C_env": from_si(float(fit.flow_coefficient), "m3/(h.Pa^n)"),
        "C_L": from_si(float(standard.flow_coefficient), "m3/(h.Pa^n)"),
        "q50": from_si(float(standard.flow(50.0)), "m3/h"),
        "q4": from_si(float(standard.flow(4.0)), "m3/h"),
    }


@dataclass(frozen=True, slots=True)
class Suspicion:
    """The slip whose numbers come closest to those stated, and how close."""

    mistake: str
    apart: float  # largest relative difference to the stated numbers
    apart_right: float  # the same for the right chain
    others: tuple[str, ...] = ()  # slips that come as close

    def sentence(self, units="metric"):
        """Return what was found in words."""
        if self.mistake == "none":
            return f"The stated numbers agree with ours to {show_percent(self.apart)}."
        if not self.mistake:
            return (f"The stated numbers are {show_percent(self.apart_right)} from ours, and no slip "
                    "known here explains them.")  # fmt: skip
        text = (f"The stated numbers are {show_percent(self.apart_right)} from ours. "
                f"{MISTAKES[self.mistake]} That gives them to {show_percent(self.apart)}.")  # fmt: skip
        if self.others:
            text += " As close: " + " ".join(MISTAKES[other] for other in self.others)
        return text


def name_the_mistake(series, conditions, within=2e-4, volume=None, **stated):
    """Return the slip that explains the numbers a report states.

    Parameters
    ----------
    series : Series or tuple of Series
        Points as read; of several the numbers are averaged.
    conditions : Conditions
        Conditions as read.
    within : float
        How close, relative, a number must come; the rounding of the report. [-]
    volume : float, optional
        Internal volume, where n50 is stated. [m3]
    stated : float
        Any of `STATED`: n, C_env and C_L in m³/(h·Paⁿ), q50 and q4 in m³/h, n50.

    Returns
    -------
    Suspicion
        With an empty mistake where nothing explains the numbers.

    Raises
    ------
    InputError
        If nothing is stated, or a name is unknown.

    Notes
    -----
    Slips that leave a number alone cannot be seen in it: state n and q50 at least.

    Examples
    --------
    >>> from airlab.fan_test.readings import Conditions, Series
    >>> one = Series("depressurise", (20, 35, 50), (0.10, 0.145, 0.183), (-1.0,), (-1.0,))
    >>> given = Conditions(21.0, 6.0)
    >>> wrong = chain_with("ratio inverted", one, given)
    >>> name_the_mistake(one, given, n=wrong["n"], q50=wrong["q50"]).mistake
    'ratio inverted'
    """
    stated = {name: value for name, value in stated.items() if value is not None}
    unknown = set(stated) - set(STATED)
    if unknown or not stated:
        raise InputError(f"State at least one of: {', '.join(STATED)}.")
    if "n50" in stated:
        flow = stated.pop("n50") * require_positive(
            "volume", 0.0 if volume is None else volume, "m3"
        )
        stated["q50"] = flow
    apart, series = {}, series if isinstance(series, tuple) else (series,)
    for mistake in MISTAKES:
        try:
            ours = [chain_with(mistake, one, conditions) for one in series]
        except InputError:
            continue
        means = {name: sum(one[name] for one in ours) / len(ours) for name in stated}
        apart[mistake] = max(abs(value / means[name] - 1.0) for name, value in stated.items())
    close = sorted((m for m in apart if apart[m] <= within), key=apart.get)
    right = apart["none"]
    if right <= within:
        return Suspicion("none", right, right)
    if not close:
        return Suspicion("", min(apart.values()), right)
    return Suspicion(close[0], apart[close[0]], right, tuple(close[1:]))
