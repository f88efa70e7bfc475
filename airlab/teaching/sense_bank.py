"""Exercises with one right option: layers, paths, sizes, hazards, schedule, materials, faults, words."""

from dataclasses import replace

from airlab.building import Geometry, metric_value
from airlab.leak_check import choose_fix
from airlab.teaching.exercise import Choice
from airlab.teaching.fan_test_bank import faulty_exercise
from airlab.words import m3_per_h, mm

__all__ = ["SENSE"]


def _pick(key, question, right, explain, outcome, hints, level="core", source="TRADE", asked=None):
    """Return a Choice; `hints` are for the wrong options, `asked` computes the right one."""
    options = tuple(sorted((right, *hints)))
    return Choice(key, question, options, asked or (lambda: right), explain, hints, source=source,
                  outcome=outcome, level=level)  # fmt: skip


def _fix(key, question, right, explain, hints, **joint):
    """Return the Choice of a material; the sealing table says which one it accepts."""

    def asked():
        accepted = {one.material for one in choose_fix(**joint).accepted}
        return next(option for option in (*hints, right) if option in accepted)

    return _pick(key, question, right, explain, "D4", hints, asked=asked)


def _leakier():
    """Return which of two houses with one n50 has more leakage per square metre of envelope."""
    houses = {"the compact house": Geometry(450.0, 360.0), "the bungalow": Geometry(300.0, 330.0)}
    return max(houses, key=lambda name: metric_value(
        "qE50", m3_per_h(2.0 * houses[name].internal_volume), houses[name]))  # fmt: skip


def _falls():
    """Return which number falls when a gallery of 20 m2 is put into an open hall."""
    before, after = (Geometry(350.0, 310.0, floor) for floor in (110.0, 130.0))
    named = {"n50": "by volume", "qE50": "by envelope", "qF50": "by floor"}
    return next(word for key, word in named.items()
                if metric_value(key, m3_per_h(700.0), after) < metric_value(key, m3_per_h(700.0), before))  # fmt: skip


def _told_apart(volumes, flows):
    """Return what moved between two tests: the house, its volume, or both."""
    moved = [abs(one / other - 1.0) > 0.042 for one, other in (volumes, flows)]  # [PRIGNON2025]
    return {(True, False): "the volume, not the house", (False, True): "the house, not the volume"}.get(
        tuple(moved), "both")  # fmt: skip


def _fault(key, seed, fault, others, level="core"):
    return replace(faulty_exercise(key, seed, fault, others), outcome="D7", level=level)


SENSE = (
    _pick("03-30", "Which layer keeps cold air from blowing through the insulation from outside?",
          "the wind barrier",
          "It sits outside and is open to vapour. The airtight layer keeps room air in, the vapour layer "
          "slows vapour.", "K1", {
              "the airtight layer": "That one stops air from going through the whole wall. Wind can still "
              "blow in and out of the insulation from outside.",
              "the vapour layer": "That one slows vapour through its sheet. It sits on the warm side."},
          "start"),
    _pick("03-31", "The film on the warm side of a roof is whole, but its laps are only stapled. Which of its "
          "jobs does it do?",
          "it slows vapour, but does not stop air",
          "Vapour through the sheet goes with the area, air goes through the gap. A leaky lap carries far more "
          "moisture than the sheet lets through.", "K1", {
              "both: film is film, stapled or taped": "The sheet is tight, the lap is not. Air goes round it.",
              "neither: a stapled lap makes it useless": "Over most of its area vapour is slowed. What fails is the lap.",
              "it stops air, but does not slow vapour": "The other way round: air needs one gap only."}),
    _pick("03-32", "With the fan on, cold air blows from a socket in an inside wall, far from any outside wall. "
          "How can that be?",
          "its void leads to the loft or the floor edge",
          "Wires pass plates, plates join voids. Such sockets can leak as much as those in an outside wall "
          "(second-hand). Seal where the void meets the layer, not at the socket.", "K2", {
              "the air comes through the wall from the next room": "The next room is under the same pressure. Nothing would blow.",
              "it cannot be, the hand is mistaken": "It is common. Think of where the void in the wall ends.",
              "the socket itself leaks and needs a gasket": "A gasket under the cover closed the wrong gap in one test "
              "before and after (second-hand)."},
          source="SITE_NOTES"),
    _pick("03-33", "A review of leak paths in houses ranks them. Which comes first?",
          "outside wall to floor and ceiling",
          "Then wall to window and door, then what goes through the layer. Leaks sit at junctions, openings "
          "and penetrations.", "K2", {
              "the plain wall between the studs": "A whole sheet hardly leaks. Look where it ends.",
              "panes, sashes and frames of windows": "A window has a class and keeps it. The joint round it is second.",
              "sockets and switches in outside walls": "Many and easy to feel, but a review of houses has other places before them."},
          "start", "SINTEF_PATHS"),
    _pick("03-34", "Spot the error. 'The reveal is closed: tape from frame to membrane, cut and folded at the "
          "corners. Two steel brackets hold the frame and come through the tape.'",
          "the brackets", "Each bracket is a hole with two edges. Tape over it, or round it, and feel it with "
          "the fan on.", "D5", {
              "the folded corners": "Folded with slack is right. Stretched round the corner would be wrong.",
              "tape to the membrane": "That is where it belongs: frame to layer.",
              "nothing": "Follow the tape round. What comes through it?"}),
    _pick("03-35", "A pipe of 50 mm goes through a hole of 60 mm in the membrane and will move when hot water "
          "runs. How is it closed?",
          "rubber collar, taped flat",
          "It grips the pipe and lets it slide. Wipe grease and dust off first.", "D5", {
              "foam all round": "The pipe moves, the foam lets go. And mind fire and sound ratings.",
              "strips of tape folded round the pipe": "The more a joint bends, the worse tape holds.",
              "acrylic paint in the gap": "5 mm and moving: paint and filler crack."}),
    _pick("04-6", "Both houses have an n50 of 2 per hour. The compact house has 450 m³ and 360 m² of envelope, "
          "the bungalow 300 m³ and 330 m². Which skin leaks more for each square metre?",
          "the compact house",
          "qE50 is n50 times volume over envelope: 2.5 against 1.8 m³/(h·m²) at 50 Pa. By volume a large compact "
          "house looks better than its joints are.", "K4", {
              "the bungalow": "It has less volume behind each square metre, so less air passes each.",
              "both alike": "n50 is by volume. Ask for the flow through each square metre of skin."},
          asked=_leakier, source="DERIVED"),
    _pick("04-7", "An open hall gets a gallery of 20 m². Skin, volume and the flow at 50 Pa stay as they are. "
          "Which number falls?",
          "by floor", "Nothing became tighter. A number by floor rewards a gallery; say which size stands below "
          "the flow.", "K4", {
              "by volume": "The volume is the same, and so is the flow.",
              "by envelope": "The envelope is the same. The gallery lies inside.",
              "all three": "Flow over size: which sizes changed?"},
          asked=_falls, source="DERIVED"),
    _pick("04-8", "Spot the error. First test: 820 m³/h at 50 Pa, volume 410 m³. Second test, other people: 815 m³/h, "
          "volume 455 m³. 'n50 fell from 2.0 to 1.8: the seals work.' What moved?",
          "the volume, not the house",
          "The flow is the same within what two readings can tell. Agree on the volume, show it, sign it.", "K8", {
              "the house, not the volume": "820 and 815 differ by less than two readings can prove.",
              "both": "Compare the flows alone: 820 and 815."},
          asked=lambda: _told_apart((410.0, 455.0), (820.0, 815.0)), source="PRIGNON2025"),
    _pick("06-6", "Spot the error. 'The layer is board, so the wall is tight. We taped the joints without primer, it "
          "is strand board after all.'", "the board and the joint",
          "Some boards leak themselves, and under tape strand board let 2 to 7 times more air past than other "
          "boards. Primer on such boards is common practice.", "D4", {
              "only the belief in the board": "True, ask for its test. And what does tape do on strand board?",
              "only the joint without primer": "True. And is every board tight because it is a board?",
              "nothing, strand board is tight": "Two things are believed here. Ask for a test of each."}, source="JUCIENE_2024"),
    _fix("06-7", "Membrane to an uneven brick wall, gap 5 mm. What is right?", "plastered-in fleece tape",
         "Plaster holds the fleece; a loop of 10 to 15 mm takes the movement.", {
             "lap tape": "On raw block or dust it lets go, and the gap is too wide for it.",
             "low-expansion foam": "Foam alone is not to be trusted."},
         first="film", second="masonry", gap=mm(5.0)),
    _fix("06-8", "Six cables in a bundle through a membrane. What is right?", "cable collar",
         "One collar for each cable, and no air between them. Ask an electrician before cables are packed tight.", {
             "filler tape round the bundle": "Air passes between the cables, inside the tape.",
             "low-expansion foam": "It may attack cables and keep them hot."},
         first="cable", second="film"),
    _fix("06-9", "A window frame in a timber wall, joint 12 mm. What is right?", "inner tape over foam",
         "Foam fills and keeps warm, the tape inside makes it tight. Corners folded, brackets taped over.", {
             "mineral wool": "Stuffing lets air through: it took away two thirds of the leak in one house, no more.",
             "inner tape alone": "12 mm is wide for tape alone, and the joint stays cold."},
         first="frame", second="planed timber", gap=mm(12.0)),
    _pick("07-8", "A ceiling of 1970 may hold asbestos; nobody has looked. The tester offers to blow instead of suck, "
          "so that no dust comes in. What now?",
          "no fan until it is assessed",
          "Air moves through the ceiling either way. Follow local law and have it assessed first.", "K7", {
              "blow, as offered: the dust stays in the ceiling": "Blowing pushes air through the same ceiling, into voids and other rooms.",
              "suck, with masks on for everybody inside": "Masks do not clean the house afterwards.",
              "suck at 25 Pa only": "Half the pressure still moves the dust."}, "start"),
    _pick("07-9", "A doorway without its door is closed for the check with board and tape. How does it stand in the "
          "schedule of openings?",
          "closed for the day, with its area",
          "At the end there will be a door with its own leak. The schedule says what was tested, and what was not.",
          "D6", {
              "as part of the wall, which is tight there": "The wall will have a door. Its leak is still to come.",
              "not at all, it is only for today": "What is not written down cannot be compared, or taken off again.",
              "as a leak found and sealed": "It is no leak of the layer. The gain would be invented."}),
    _pick("07-10", "Which of these may be sealed for a leak check and must be written down, with its photo?",
          "the duct end of a unit still to come",
          "It will be an opening of the ventilation. Sealed for the day, listed, counted off at the end.", "D6", {
              "a cavity barrier that leaks into the roof": "Fire stopping and cavity barriers are never sealed, or opened, for a number.",
              "the flue of a stove that is burning": "With a fire there is no fan at all.",
              "a crack at the sill of the front door": "That is a leak. Find it, tag it, seal it for good."}),
    _pick("07-11", "A drain has no water in its trap yet. What do you do before the check?",
          "fill or plug it, and write it down",
          "A dry trap is a hole to the sewer and brings in foul air. It is preparation, not a gain.", "D6", {
              "leave it, that is the plumber's": "A hole of 50 mm passes about 40 m³/h at 50 Pa. It hides your leaks.",
              "count the change as a gain": "Put right before the first reading it is preparation.",
              "plug it and forget it": "A plug left in floods somebody later. It goes into the list."}, "start"),
    _pick("07-12", "The stove is out and cold. The inlet for its air stays open during the check. How does it stand in "
          "the schedule of openings?",
          "left as found, and why",
          "The air of a fire is never sealed for a number. Whoever reads again leaves it open, too.", "D6", {
              "sealed for the day": "A forgotten seal there can kill. The air of a fire is never sealed for a number.",
              "not at all, nothing was done to it": "It is part of the reading. Who does not know of it cannot repeat it.",
              "as a leak, to be closed later": "It is meant to be open. It is no leak of the layer."}),
    _fault("09-8", 41, "flap", ("gust", "zero changed", "none")),
    _fault("09-9", 89, "hose in the wind", ("unit slip", "trap ran dry", "none")),
    _fault("09-10", 53, "zero drifts", ("hose in the wind", "window opened", "fan below its range")),
    _fault("09-11", 43, "unit slip", ("flap", "zero drifts", "none"), "start"),
    _fault("09-12", 42, "none", ("zero changed", "trap ran dry", "gust"), "stretch"),
    _pick("09-13", "Two testers, one house, one week. One finds 10 % more. The house did not change. What do you ask "
          "first?", "what each of them had closed and sealed",
          "Experienced people who also prepare the house repeat within about 4 %; without a check of the "
          "preparation up to 20 % was found. That is why the schedule is part of the result.", "K8", {
              "whose gauge is the newer one": "A calibrated gauge moves it little. Preparation moves it more.",
              "which number the owner likes": "A number is not chosen.",
              "the mean of both": "A mean of two different houses: first find out whether they tested the same."},
          source="PRIGNON2025"),
    _pick("09-14", "Sucking gives 500 m³/h, blowing 620 m³/h at 50 Pa, both with good points. Why is one direction not "
          "enough here?", "something opens one way, and only both readings show it",
          "A flap, a film or a hatch lifts when the house is blown up. Report both and their mean, and go and look.",
          "K8", {
              "the fan is weaker one way": "The fan reads its own flow. Good points mean that it read well.",
              "two numbers look more serious": "They do not agree. That is a finding, not decoration.",
              "blowing is the true one": "Neither is: in a storm the house meets both."}),
    _pick("10-9", "Tell the owners what n50 = 1.9 means. Which three sentences?",
          "With a fan holding 50 Pa, leaks change the air 1.9 times an hour. Day to day it is far less. Fresh air "
          "comes from the ventilation.",
          "A number with its pressure, what it means on a day, what to do. No promise, no jargon.", "D10", {
              "Your air is changed 1.9 times every hour, day and night. That is plenty of fresh air. You may switch the "
              "ventilation off to save heat.":
              "1.9 is at 50 Pa, with a fan. Without ventilation they sit in stale air.",
              "n50 is 1.9, qE50 is 1.7, n is 0.66. The house complies. See the annex.":
              "True perhaps, and nobody understands it.",
              "The house has no leaks any more. You will feel no draught. Heating costs are halved.":
              "Three promises that no test gives."}),
    _pick("10-10", "'Is the house too tight now? Must it not breathe?' What do you answer?",
          "people breathe, not walls: does the ventilation run?",
          "Leaks give fresh air when the wind blows and none when it is still. Settle the ventilation before you "
          "praise a low number.", "D10", {
              "then we open one of the leaks again, in the bathroom": "A leak is no ventilation: wind decides, and damp air goes into the wall.",
              "no house can ever be too tight, whatever they say": "With ventilation it is fine. Without, people and walls suffer.",
              "open a window once a week, that is air enough": "Fresh air is needed every hour. Ask how it is brought in."}, "start"),
    _pick("10-11", "Owners feel a draught at the large window on cold days. At 50 Pa no air came in there. Which three "
          "sentences do you say?",
          "The fan drew no air in at this window. Cold glass cools the air beside it, and that air sinks onto your "
          "feet. On a cold day we look at the glass before anything is changed.",
          "What was found, what it means, what comes next. What they feel is real, only it does not come from a leak.",
          "D10", {
              "The fan proved that nothing is wrong. You cannot feel a draught there. Put on something warm.":
              "They do feel it. The fan says only that no leak is there.",
              "The joint has opened since. We foam all round the frame today. Then the draught is gone.":
              "Nothing blew there at 50 Pa. Find the cause before you promise a cure.",
              "It is downdraught, PPD is above 15 %. See the standard for category B. The envelope complies.":
              "True perhaps, and nobody understands it."}),
)  # fmt: skip
