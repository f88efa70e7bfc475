"""What did sealing gain, and could so small a gain be proved at all?

Both readings are brought to 50 Pa before they are subtracted. The smallest gain that can be
proved comes from this visit's own repeats; published figures stand in where there are too few.
"""

from dataclasses import dataclass

import numpy as np

from airlab.fan_test.compare import difference
from airlab.leak_check.assumptions import Assumptions
from airlab.leak_check.readings import STAGES, CorrectedReading, correct_reading, stages_of
from airlab.physics.openings import equivalent_hole_area
from airlab.words import PRESSURE_REFERENCE, normal_point, require_positive, show, show_percent
from airlab.words.saying import said, said_range

__all__ = ["Gain", "RepeatSpread", "gain", "repeat_spread", "smallest_provable"]

_NORMAL = normal_point(0.975)
_LEAST_SPREAD = 0.0001  # repeats that read alike to the last digit still differ by so much
_MOST_SPREAD = 1.0  # readings that differ more prove nothing, whatever the figure


def smallest_provable(spread, factor=_NORMAL):
    """Return the smallest relative change two readings can prove: ``k sqrt(2) u``.

    Parameters
    ----------
    spread : float or array
        Relative spread of one reading. [-]
    factor : float or array
        Coverage factor; 1.96 for 95 % with a spread that is known. [-]

    Returns
    -------
    float or array
        Relative change. [-]

    Examples
    --------
    >>> round(float(smallest_provable(0.015)), 3), round(float(smallest_provable(0.024)), 3)
    (0.042, 0.067)
    """
    return factor * np.sqrt(2.0) * require_positive("spread", spread)


@dataclass(frozen=True, slots=True)
class RepeatSpread:
    """How well a reading repeats: relative spread, coverage factor, where it comes from."""

    spread: float
    factor: float
    degrees_of_freedom: int | None
    source: str


def repeat_spread(corrected, assumptions=None, same_people=True):
    """Return the spread of a repeat: from this visit if it has enough, else published.

    ``u^2 = sum (ln Q - mean)^2 / (N - k)`` over k groups of repeats.

    Parameters
    ----------
    corrected : iterable of CorrectedReading
        All readings of the visit; repeats share stage, direction and aperture.
    assumptions : Assumptions or None
        Published figures.
    same_people : bool
        Which published figure stands in.

    Returns
    -------
    RepeatSpread
        With at least three repeats of one setting, Student's factor for so few.

    References
    ----------
    [PRIGNON2025] 1 to 2 % method alone; [REPEAT_2011] 2.4 % between laboratories.
    """
    groups, corrected = {}, tuple(corrected)
    for one, stage in zip(corrected, stages_of(one.reading for one in corrected)):
        if stage:
            key = (stage, one.direction, one.reading.aperture)
            groups.setdefault(key, []).append(np.log(one.flow_50))
    repeats = [np.asarray(group) for group in groups.values() if len(group) > 1]
    freedom = sum(len(group) - 1 for group in repeats)
    if freedom >= 2:
        from scipy.special import stdtrit

        scatter = sum(float(np.sum((group - group.mean()) ** 2)) for group in repeats)
        spread = min(max(float(np.sqrt(scatter / freedom)), _LEAST_SPREAD), _MOST_SPREAD)
        return RepeatSpread(spread, float(stdtrit(freedom, 0.975)), freedom, "this visit's repeats")
    key = "repeat_spread" if same_people else "other_people_spread"
    spread = (assumptions or Assumptions())[key]
    who = "the same people" if same_people else "different people"
    return RepeatSpread(spread, _NORMAL, None, f"published figures for {who}")


@dataclass(frozen=True, slots=True)
class Gain:
    """The change between two readings at 50 Pa.

    Parameters
    ----------
    before, after : CorrectedReading
        The two readings.
    change : float
        Flow before minus flow after, at 50 Pa; negative if the flow rose. [m3/s]
    low, high : float
        95 % interval of the change. [m3/s]
    smallest : float
        Smallest gain these two readings could prove. [m3/s]
    repeat : RepeatSpread
        Where that comes from.
    preparation : str
        Preparation that changed in between; then it is not a gain.
    flags : tuple of str
        What makes the two readings hard to compare.
    unsealed : bool
        Whether nothing was sealed in between by the log; then no gain is proved, something else changed.
    """

    before: CorrectedReading
    after: CorrectedReading
    change: float
    low: float
    high: float
    smallest: float
    repeat: RepeatSpread
    preparation: str = ""
    flags: tuple[str, ...] = ()
    unsealed: bool = False

    @property
    def relative(self):
        """Change over the flow before. [-]."""
        return self.change / self.before.flow_50

    @property
    def fell(self):
        """Whether the flow fell by more than chance, the two are comparable, and it is no preparation."""
        clear = self.low > 0.0 and self.change > self.smallest
        return clear and not self.flags and not self.preparation

    @property
    def proved(self):
        """Whether a gain is proved: the flow fell, and something was sealed."""
        return self.fell and not self.unsealed

    def sentence(self, units="metric"):
        """Return what was gained, or why nothing can be said."""
        size, least = said(abs(self.change), "m3/s", units), said(self.smallest, "m3/s", units)
        verb = "fell" if self.change >= 0 else "rose"
        text = (
            f"At 50 Pa the flow {verb} from {said(self.before.flow_50, 'm3/s', units)} to "
            f"{said(self.after.flow_50, 'm3/s', units)}, by {size} "
            f"({show_percent(abs(self.relative))})."
        )
        smallest = (
            f" The smallest gain these two readings can prove is {least} "
            f"({show_percent(self.smallest / self.before.flow_50)}, from {self.repeat.source})."
        )
        if self.preparation:
            text += (
                f" That is preparation ({self.preparation}), not gain. Start from the new reading."
            )
        elif self.flags:
            text += " It is not proved, the two are hard to compare."
        elif self.proved:
            hole = said(equivalent_hole_area(self.change), "hole", units)
            interval = said_range(self.low, self.high, "m3/s", units)
            text += f" A gain is proved: {interval} (95 %), as much as a sharp hole of {hole}."
        elif self.fell:
            text += (
                " It fell by more than chance, but by the log nothing was sealed in between: no gain is "
                "proved. What changed: a window or door shut, a trap filled, the ring? Enter what was "
                "done, or read again."
            )
        elif self.change < -self.smallest:
            text += (
                " It rose by more than chance. Look for a seal that came off, a window, another "
                "aperture; then read again."
            )
        else:
            text += " That is within what repeats differ by: no gain is proved, and no loss. "
            text += "Group several small fixes before the next reading."
        return " ".join((text + smallest, *self.flags))


def gain(before, after, visit=(), assumptions=None, preparation="", direction=None, unsealed=False):
    """Return the gain between two readings, with the smallest gain they could prove.

    ``gain = Q_50,before - Q_50,after``, its limits by `fan_test.difference`; the smallest that can
    be proved is the half-width where nothing changed: ``k sqrt(2 (u Q_before)^2 + u_x^2)``, with
    u_x what the unknown exponent adds where the two were read at different pressures.

    Parameters
    ----------
    before, after : Reading
        Readings of one visit.
    visit : iterable of Reading
        All readings of the visit, for its own repeats.
    assumptions : Assumptions or None
        Exponent, published repeat figures, zero change that is flagged.
    preparation : str
        Preparation that changed in between (a window closed, a trap filled); a reading of stage
        'preparation put right' says it by itself.
    direction : str or None
        Used where a reading has none.
    unsealed : bool
        Whether nothing was sealed in between by the log.

    Returns
    -------
    Gain
        Change, interval, smallest provable, flags.

    Raises
    ------
    InputError
        If a reading cannot be corrected.

    References
    ----------
    [PRIGNON2025], [REPEAT_2011] published figures, used only as defaults.
    """
    given = assumptions or Assumptions()
    common = (given, None, direction)
    first, second = (correct_reading(one, *common) for one in (before, after))
    same_people = not (before.by and after.by and before.by != after.by)
    repeat = repeat_spread([correct_reading(one, *common) for one in visit], given, same_people)
    tilt = abs(_exponent_tilt(first) - _exponent_tilt(second)) * given["exponent_spread"]
    change = _difference(first.flow_50, second.flow_50, repeat, tilt)
    smallest = _difference(first.flow_50, first.flow_50, repeat, tilt).high
    if not preparation and after.stage == STAGES[1]:
        preparation = STAGES[1]
    return Gain(
        first,
        second,
        -change.change,
        -change.high,
        -change.low,
        smallest,
        repeat,
        preparation,
        tuple(_flags(first, second, given)),
        unsealed,
    )


def _difference(before, after, repeat, tilt):
    """Return after minus before; what comes from the exponent is taken as well known."""
    freedom = np.inf
    if repeat.degrees_of_freedom is not None:
        own = repeat.spread * np.hypot(before, after)
        freedom = repeat.degrees_of_freedom * (1.0 + (tilt / own) ** 2) ** 2
    return difference(before, after, repeat.spread, repeat.spread, degrees_of_freedom=freedom,
                      change_spread=tilt)  # fmt: skip


def _exponent_tilt(one):
    """How the flow at 50 Pa moves with the exponent. [m3/s]."""
    return one.flow_50 * np.log(PRESSURE_REFERENCE / abs(one.pressure_difference))


def _flags(first, second, given):
    if first.direction != second.direction:
        yield "The fan blew the other way. Compare readings of one direction."
    if first.reading.aperture != second.reading.aperture:
        yield "The fan's aperture was changed. Read before and after with one aperture."
    zeros = (first.zero, second.zero)
    if (zeros[0] is None) != (zeros[1] is None):
        yield "One reading has a zero-flow pressure, the other has none."
    elif zeros[0] is not None and abs(zeros[1] - zeros[0]) > given["zero_change"]:
        yield (
            f"The zero went from {show(zeros[0], 'Pa')} to {show(zeros[1], 'Pa')}. The weather "
            "changed; read again."
        )
