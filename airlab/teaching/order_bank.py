"""Exercises on order: what has to be done before what, and why.

Orders and the figures in them are common practice, unless a source is named.
"""

from airlab.teaching.exercise import Ordering

__all__ = ["ORDERS"]


def _steps(key, question, explain, outcome, *pairs, level="core", source="TRADE"):
    """Return the exercise from (step, why it comes before the next), the last step alone."""
    steps = tuple(step for step, _ in pairs)
    reasons = {step: why for step, why in pairs if why}
    return Ordering(key, question, steps, explain, reasons, source=source, outcome=outcome, level=level)  # fmt: skip


ORDERS = (
    _steps(
        "03-26", "A lap of membrane on a dusty board is to be taped. Put the steps in order.",
        "Clean, test, prime, tape, rub, look. The bond rises for hours; the data sheet decides.", "D5",
        ("brush and vacuum the faces", "Tape holds what it touches. On dust it holds dust, and the peel test tells "
         "nothing."),
        ("peel test: 10 cm of tape, pull after ten minutes", "The test says whether a primer is needed. It comes "
         "before the primer."),
        ("prime, because fibres came off", "A face that lets go of the test tape lets go of the real one."),
        ("lay the tape without pulling it", "Nothing can be rubbed down before it is laid."),
        ("rub it down with pressure", "A tape that is only laid leaks at its edge. Rub before you judge it."),
        ("look at it under pressure", ""), level="start",
    ),
    _steps(
        "03-27", "The membrane is torn in an inside corner. Put the mending in order.",
        "Slack first, patch over it, edges down. A stretched strip across the corner opens again.", "D5",
        ("wipe the dust off, 100 mm round the tear and more", "What is cleaned later is under the patch already."),
        ("push the film into the corner until it lies slack", "A patch on a stretched film fixes the stretch."),
        ("cut a patch that reaches 100 mm beyond the tear", "Measure before you tape: a short patch ends on the tear."),
        ("tape all its edges, folds included", "Rub down what is taped."),
        ("rub down and feel it with the fan on", ""),
    ),
    _steps(
        "03-28", "A leak search with a thermal camera. Put the steps in order.",
        "What changed between the two scans is air; what stayed is the wall.", "D8",
        ("scan every room without the fan", "Without a first picture nobody knows what was cold before."),
        ("pull the house down to −50 Pa", "Cold air has to be drawn in before it can cool anything."),
        ("wait 10 to 20 minutes", "Surfaces need time to cool along the leak."),
        ("scan again from the same places", "There is nothing to compare until the second scan."),
        ("mark what changed", "Only a marked place can be checked by hand or smoke."),
        ("confirm each mark with the hand or smoke", ""),
    ),
    _steps(
        "03-29", "The unbroken line, from empty drawings to the site. Put the steps in order.",
        "Layer, line, lifts, names, dates. A line without names is a drawing; with names it gets built.", "D1",
        ("name the layer in every element", "A pen cannot follow a layer that nobody has named."),
        ("draw it bold in the plan and two sections", "Where it lifts is seen only once it is drawn."),
        ("follow it once round and number every lift", "A junction nobody has found gets no owner."),
        ("give each lift an owner and a way of joining", "Who makes it decides when it is made, and so when it can be "
         "looked at."),
        ("write down when it is looked at, before it is hidden", ""), level="start",
    ),
    _steps(
        "06-5", "A leakage budget, from the contract to the decision. Put the steps in order.",
        "Flow, list, size, sum, spend. What gains most for its cost comes first.", "D3",
        ("turn the target into a flow at 50 Pa, less a margin", "Without it nobody knows how much may be spent."),
        ("list areas, joints, openings and services", "What is not listed cannot be measured."),
        ("measure each: square metres, metres, pieces", "A leak per metre needs the metres."),
        ("multiply by what such a line usually leaks, and add up", "Compare only once there is a sum."),
        ("compare the sum with what may be spent", "Better nothing before you know that it has to be bettered."),
        ("better the line that gains most for its cost", ""),
    ),
    _steps(
        "07-6", "A timber-framed wall with a membrane. Put the trades in order.",
        "Layer, battens, services, check, boards. At the check the layer is complete, held and in sight.", "K6",
        ("carpenter: hang and tape the membrane", "There is nothing to batten before it hangs."),
        ("carpenter: batten it", "Film must be held before the fan pulls at it, and before others hang things on it."),
        ("electrician and plumber: through the layer, with collars", "Holes made after the check are not in the check."),
        ("leak check at 50 Pa, leaks sealed and looked at again", "Behind boards nobody finds a leak."),
        ("boards", "The final test is of the finished house."),
        ("final test", ""),
    ),
    _steps(
        "07-7", "The leak check is over. Put the clearing up in order.",
        "Fan, seals, fresh air, appliances, signature. A forgotten seal on a flue can kill.", "K7",
        ("stop the fan", "Seals let go under pressure. Stop the fan first."),
        ("take every seal off and count it against the schedule", "Vents still sealed give no fresh air, and a sealed "
         "flue must never be lit."),
        ("ventilation on as in use", "Extract fans can spoil a draught. It is checked while they run."),
        ("a competent person restarts the fuel appliances and checks their draught", "Signed is what is done."),
        ("sign the list with the time", ""),
    ),
    _steps(
        "08-19", "One batch of leaks, with proof of its gain. Put the steps in order.",
        "Same pressure, same preparation, same direction before and after: only then is the difference a gain.", "D8",
        ("bring the house to 50 Pa and read the flow", "Read before you seal, or the gain is lost."),
        ("find, tag and log the leaks of the batch", "A seal that nobody logged is not looked at again."),
        ("seal the batch, each with what fits its joint", "The fan tells only after the work is done."),
        ("feel each seal with the fan on, close its row", "A seal that still blows is mended before the second "
         "reading."),
        ("read the flow again at 50 Pa", "The difference needs both readings."),
        ("compare the difference with what two readings can prove", ""),
    ),
    _steps(
        "09-7", "A series of points in one direction. Put the steps in order.",
        "Zeros before and after, points between, settled each time; the other direction follows in the same way.", "D7",
        ("write down what is closed, sealed and left open", "Without its preparation a number cannot be compared."),
        ("read the zero with the fan covered", "The house has a pressure of its own before the fan runs."),
        ("uncover the fan and go to the highest pressure", "Film and seals show early whether they hold."),
        ("read the points downwards, each one settled", "A second zero in between would only interrupt the series."),
        ("cover the fan and read the zero again", "A zero that has moved tells of wind or of a drifting gauge."),
        ("take the mean zero off and lay the line through the points", ""), source="ISO9972",
    ),
)  # fmt: skip
