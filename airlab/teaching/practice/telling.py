"""What is said after each act, and how does the day stand? Sentences of a session."""

from airlab.teaching.practice.gauge import HOSES
from airlab.teaching.practice.sensing import METHODS
from airlab.teaching.practice.tables import WALLS
from airlab.words import caution, show

__all__ = ["after_act", "noticed_words", "so_far"]

_OTHER_SIDE = {"north": "south", "south": "north", "east": "west", "west": "east",
               "ceiling": "floor", "floor": "ceiling"}  # fmt: skip


def noticed_words(house, one, room):
    """Return what was noticed and where, as seen from a room; not what it is."""
    site = house.site(one.site)
    wall = site.wall if site.room == room else _OTHER_SIDE.get(site.wall, site.wall)
    sides = ("south", "north") if wall in ("east", "west") else ("west", "east")
    share = (
        f"{sides[0]} end"
        if site.along < 0.34
        else "middle"
        if site.along < 0.67
        else f"{sides[1]} end"
    )
    return (
        f"{one.words}, {wall} wall, {share}"
        if wall in WALLS[:4]
        else f"{one.words}, {wall}, {share}"
    )


def after_act(session, units="metric"):
    """Return what came of the last act, in words."""
    act, house, stand = session.acts[-1], session.house, session.stand
    if act.did == "hazards":
        return _hazards(session, act)
    if act.did == "prepare":
        one = next(o for o in house.openings if o.name == act.what[0])
        right = (
            "That is what it needs."
            if one.wanted == act.what[1]
            else f"It needs another: {one.wanted}."
        )
        return f"{one.name}: {act.what[1]}. {right} {one.why}"
    if act.did == "hose":
        return f"Outside hose: {HOSES[act.what[0]]}."
    if act.did == "doors":
        return f"Doors inside are {act.what[0]}."
    if act.did == "fan":
        if not act.what[0]:
            return "The fan stands still."
        way = "sucks: leaks blow at you, film is pulled off its frame" if act.what[0] < 0 else (
            "blows: leaks draw air away from you, film is pressed on")  # fmt: skip
        return f"The fan {way}. Held at {show(act.what[0], 'Pa')}; doors {stand.doors}."
    if act.did == "read":
        return act.result[0].sentence(units)
    if act.did == "look":
        return _look(session, act)
    if act.did == "mark":
        site = house.site(act.what[0])
        return (
            f"Tag {len(stand.marks)}: {site.where}. {site.element.capitalize()}: {site.junction}."
        )
    if act.did == "fix":
        return _fix(act)
    one = act.result[0]
    left = f"still {one.words}" if one.felt >= 0.5 else "nothing more to see"
    return f"Tag {act.what[0]} by {act.what[1]}: {left}."


def _hazards(session, act):
    if session.hidden.stop:
        seen = session.seen_today(session.hidden.stop)
        if act.what[0] == "stop":
            return f"Right to stop: {seen} It was made safe by those who may; the day goes on."
        return f"Not safe. {seen} {caution(session.hidden.stop).text} In a real house this could have hurt someone."
    if act.what[0] == "stop":
        return "Everything was safe today. Asking twice is no mistake. The fan may run."
    return "Everything is safe today. The fan may run."


def _look(session, act):
    room, height, method = act.what
    way = next(m for m in METHODS if m.key == method)
    where = f"{room}, {height}, {way.name}"
    if not act.result:
        more = " The fan is off." if not session.stand.pressure else ""
        return f"{where}: nothing noticed.{more} That is not the same as nothing there."
    found = "; ".join(noticed_words(session.house, one, room) for one in act.result)
    end = (
        " An ear gives no place: search by hand or smoke."
        if method == "listening"
        else " Tag what you want to keep."
    )
    if method == "listening":
        found = f"{act.result[0].words} somewhere in this room"
    return f"{where}: {found}.{end}"


def _fix(act):
    one = act.result[0]
    verdict = (
        "Unsafe. " if one.unsafe else "Can be defended. " if one.right else "Cannot be defended. "
    )
    source = f" ({one.source})" if one.source else ""
    return f"Tag {act.what[0]}: {one.words}. {verdict}{one.reason}{source}"


def so_far(session, units="metric"):
    """Return how the day stands, in words."""
    house, stand = session.house, session.stand
    if not stand.answer:
        return f"{house.name}. {house.facts.about} Look at what could hurt someone, then decide: may the fan run?"
    if not stand.pressure:
        ready = sum(1 for name, _ in stand.chosen)
        return f"{ready} of {len(house.openings)} openings settled. The fan is off."
    searched = len({(room, height) for room, height, _ in stand.searched})
    return (
        f"{searched} of {3 * len(house.walk)} places searched; tags: {len(stand.marks)}, sealed: "
        f"{len(stand.sealed)}; {show(stand.minutes)} minutes of the day."
    )
