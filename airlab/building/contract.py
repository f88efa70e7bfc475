"""What has to stand in a contract so that one number means one thing?

A few sentences: metric, pressure, direction, preparation, stage, evidence, what happens on a miss. A
prompt to have checked, not legal advice.
"""

from dataclasses import dataclass

from airlab.building.counting import COUNTING_RULES, CountingRule
from airlab.building.metrics import Metric, metric
from airlab.words import InputError, convert, require_choice, require_positive, show

__all__ = ["CONTRACT_CHOICES", "ContractLine", "contract_line"]

# For each part of the sentence: key, short words to choose by, words of the sentence.
CONTRACT_CHOICES = {
    "direction": (
        ("mean", "mean of both directions", "as the mean of depressurisation and pressurisation"),
        ("each", "both directions, each within", "with depressurisation and pressurisation each within "
         "the value"),
        ("depressurise", "depressurisation only", "by depressurisation alone"),
        ("pressurise", "pressurisation only", "by pressurisation alone"),
    ),
    "preparation": (
        ("method 2", "method 2: the envelope itself", "with the building prepared by method 2 of ISO 9972 (the envelope "
         "itself), with every opening closed or sealed listed beforehand"),
        ("method 1", "method 1: the building in use", "with the building prepared by method 1 of ISO 9972 (the building in "
         "use), with every opening listed beforehand"),
        ("method 3", "method 3: as the national rule says", "with the building prepared by method 3 of ISO 9972 as the "
         "national rule named here says"),
    ),
    "stage": (
        ("both", "before covering and at handover", "before the airtight layer is covered and again when "
         "the building is finished"),
        ("handover", "at handover only", "when the building is finished"),
        ("cover", "before covering only", "when the airtight layer is complete and before it is covered"),
    ),
    "evidence": (
        ("report", "report with every reading", "with a report that holds every reading, failed ones too, "
         "the exponent, calibration dates and the preparation list, by a tester who is independent of "
         "the builder"),
        ("witnessed", "the same, with the owner present", "with a report that holds every reading, failed "
         "ones too, by an independent tester with the owner present"),
    ),
    "miss": (
        ("builder", "builder finds, seals, pays the next test", "the builder finds and seals the leaks and "
         "pays for opening up and for each further test until the value is met"),
        ("shared", "first further test shared", "the builder finds and seals the leaks and pays for opening "
         "up; the first further test is shared, each later one is paid by the builder"),
        ("who drilled", "whoever made the hole pays", "leaks are found, and whoever made each hole pays "
         "for sealing it, for opening up and for the further test"),
    ),
}  # fmt: skip
_NAMES = {"direction": "Measured", "preparation": "Prepared", "stage": "When", "evidence": "Evidence",
          "miss": "If missed"}  # fmt: skip
_SIZES = {"volume": "the internal volume", "floor": "the floor area"}


@dataclass(frozen=True, slots=True)
class ContractLine:
    """One requirement that can be read in one way only."""

    metric: Metric
    value: float
    unit: str
    rule: CountingRule
    choices: tuple[tuple[str, str], ...]

    @property
    def note(self):
        """What to do with the sentence."""
        return (
            "Have it checked: this is a prompt, not legal advice. Who pays for delay and opening up is "
            "agreed before, local rules come first, and the ventilation is settled in the same contract."
        )

    @property
    def parts(self):
        """The parts of the sentence as (name, words), in its order."""
        one, over = self.metric, ""
        if one.basis:
            sheet = "of the signed geometry sheet"
            size = _SIZES.get(one.basis)
            over = f", over {size} {sheet}" if size else (
                f", over the envelope area {sheet}: {self._counted()}"
            )  # fmt: skip
        return (
            ("What", f"{one.name} ({one.symbol}{over})"),
            ("At most", show(self.value, self.unit, 6)),
            *(
                (_NAMES[part], next(w for key, _, w in CONTRACT_CHOICES[part] if key == chosen))
                for part, chosen in self.choices
            ),
        )

    def sentence(self, units="metric"):
        """Return the requirement in words, a sentence for each question; it keeps the unit of the contract."""
        what, most, direction, preparation, stage, evidence, miss = (
            words for _, words in self.parts
        )
        return (
            f"The {what} shall not exceed {most}. It is measured by fan pressurisation to ISO 9972, "
            f"{direction}, {preparation}. It is measured {stage}, {evidence}. If it is missed, {miss}."
        )

    def _counted(self):
        if self.metric.basis == "envelope":
            return self.rule.meaning
        return next(rule.meaning for rule in COUNTING_RULES if rule.name == self.metric.basis)


def contract_line(
    metric_key,
    value,
    direction,
    preparation,
    stage,
    evidence,
    miss,
    unit=None,
    rule=COUNTING_RULES[0],
):
    """Return a requirement from choices, each of which has to be made.

    Parameters
    ----------
    metric_key : str or Metric
        Metric with its pressure, such as "qE50".
    value : float
        What may not be exceeded, in `unit` or the metric's own.
    direction, preparation, stage, evidence, miss : str
        Keys of `CONTRACT_CHOICES`.
    unit : str or None
        Unit of the contract; None takes the metric's own.
    rule : CountingRule
        What is counted as envelope, where the metric goes by envelope.

    Returns
    -------
    ContractLine
        The requirement, with the note to have it checked.

    Raises
    ------
    InputError
        If the metric is ambiguous, has no pressure or not this unit, or a choice is not made.

    References
    ----------
    [ISO9972] names, from memory. [TIGHTVENT] the methods of preparation.

    Examples
    --------
    >>> line = contract_line("n50", 1.5, "mean", "method 2", "both", "report", "builder")
    >>> line.sentence()[:96]
    'The air changes per hour at 50 Pa (n50, over the internal volume of the signed geometry sheet) s'
    """
    one = metric(metric_key)
    if one.pressure is None:
        raise InputError(
            f"{one.symbol} has no pressure. A contract needs a metric at a pressure, such as qE50."
        )
    unit = unit or one.unit
    convert(1.0, unit, one.unit)
    value = require_positive(one.symbol, value, unit)
    chosen = {"direction": direction, "preparation": preparation, "stage": stage,
              "evidence": evidence, "miss": miss}  # fmt: skip
    for part, key in chosen.items():
        require_choice(part, key, [option[0] for option in CONTRACT_CHOICES[part]])
    return ContractLine(one, value, unit, rule, tuple(chosen.items()))
