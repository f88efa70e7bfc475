"""Leaks are found, marked, sealed and looked at again: one row for each, typed or tapped in."""

from airlab.leak_check import HEIGHTS, Log, standing_areas
from airlab.leak_check.stage import areas_at
from airlab.panels.controls import tick
from airlab.panels.day_form import DayForm, box, choices, moment, picks, read_where, tags
from airlab.panels.how_to_seal import HowToSeal
from airlab.plots.day_cards import log_card, next_acts
from airlab.words import InputError
from airlab.words.saying import listed

__all__ = ["LogPart"]

# Offered, not prescribed; any other words may be typed.
MATERIALS = (
    "tape for membranes", "sealant that stays elastic", "collar for a pipe", "collar for a cable",
    "patch of membrane, taped", "gasket", "compressed sealing strip", "plaster, airtight board edge",
)  # fmt: skip
METHODS = ("hand", "damp hand", "smoke", "thermal camera", "sound")
_STRENGTHS = (("", None), ("1 faint", 1), ("2 clear", 2), ("3 strong", 3))
_LOOKED = (("not yet", ""), ("tight", "tight"), ("still leaks", "leaks"))
_ROW = (
    "number",
    "where",
    "height",
    "strength",
    "material",
    "recheck",
    "act",
    "note",
    "photo",
    "at",
)


class LogPart:
    """Part of the day: the log of leaks.

    Parameters
    ----------
    panel : CheckDayPanel
        The panel it belongs to.
    """

    def __init__(self, panel):
        self._panel, self.chosen, self.how = panel, None, HowToSeal(panel)
        fields = {
            "number": picks("Leak no.", ()),
            "where": picks("Where", ()),
            "height": choices("Height", ["", *HEIGHTS]),
            "strength": choices("Strength", _STRENGTHS),
            "material": picks("Fixed with", MATERIALS),
            "recheck": choices("Re-check", _LOOKED),
        }
        fields["where"].placeholder = "Bathroom, waste pipe"
        fields["number"].add_class("airlab-narrow").add_class("airlab-number")
        folds = {
            **self.how.folds,
            "Another act, photo, who": {
                "act": choices("It is", [("as above", "")]),
                "note": box("Reason or remark"),
                "method": choices("Found by", ["", *METHODS]),
                "photo": box("Photo"),
                "by": box("Who"),
            },
            "Typed in from paper": {
                "paper": tick("Entered afterwards"),
                "at": box("Time on the paper, if it is there", hint="14:05"),
            },
            "Several at once": {
                "numbers": box("Leak numbers, empty for all sealed", hint="1-4, 7"),
                "looked": choices("All of them are", _LOOKED[1:]),
                "buttons": [panel.doer("Save the re-checks", self.save_several)],
            },
        }
        self.form = DayForm(
            fields,
            [
                panel.doer("Save the row", self.save, main=True),
                panel.doer("Undo", self.undo),
                panel.doer("Stop done, next", panel.go_on),
            ],
            folds,
            pairs=[("number", "where"), ("height", "strength")],
        )
        fields["number"].observe(self._number_typed, "value")

    def fit(self, shown):
        """Offer the free number, the leaks that need something, areas and rooms."""
        job, fields = self._panel.desk.job, self.form.fields
        log = shown.day.log
        waiting = [str(leak.number) for leak in log.blocking]
        fields["number"].options = tuple(dict.fromkeys((str(log.next_number), *waiting)))
        fields["number"].placeholder = str(log.next_number)
        names = [room.name for room in job.rooms if room.included]
        fields["where"].options = tuple(dict.fromkeys((*names, *(a.area for a in job.envelope))))
        leak = log.leak(self.chosen) if self.chosen else None
        acts = [("as above", "")]
        acts += next_acts(leak) if leak else [
            ("not a leak", "not a leak"), ("intentional, never seal", "intentional"),
            ("out of reach now", "unreachable"), ("accept with a reason", "accepted"),
        ]  # fmt: skip
        if fields["act"].options != tuple(acts):
            fields["act"].options = tuple(acts)

    def card(self, shown):
        """Return the card of the log."""
        listed = log_card(
            shown.day.log, self._panel.desk.job.rooms, shown.stop, self._panel.units, self.chosen
        )
        return self.how.card(shown.day) + listed

    def said(self, shown):
        """Return how many leaks stand in which state, and the next stop."""
        text = shown.day.log.sentence(self._panel.units)
        stop = shown.stop
        if stop is not None:
            where = ", ".join(p for p in (stop.room, stop.height) if p) or stop.place
            text += f" Next stop, {stop.number}: {where}."
        elif shown.day.plan is not None:
            text += " The route is walked to its end; going on begins it anew."
        return text

    # acts ---------------------------------------------------------------------------------

    def save(self):
        """Save what stands in the form as one row of the log."""
        form, text = self.form, self.form.text
        height, size = text("height"), self.how.size(self.how.pressure(self._panel.value.day))
        said = self.enter(
            _tag(text("number")),
            ", ".join(part for part in (text("where"), height) if part),
            form.fields["strength"].value,
            text("material"),
            form.fields["recheck"].value,
            act=form.fields["act"].value,
            note=text("note") or ("" if form.fields["act"].value else self.how.remark()),
            at=moment(text("at")),
            later=form.fields["paper"].value or None,
            method=text("method"), photo=text("photo"), by=text("by"), flow=size and size.at_least,
        )  # fmt: skip
        self.chosen = None
        form.clear(*_ROW, *self.how.names)
        form.fields["number"].focus()
        return said

    def enter(
        self, number=None, where="", strength=None, material="", recheck="", act="", note="",
        at=None, later=None, method="", photo="", by="", flow=None,
    ):  # fmt: skip
        """Enter one row: what is new of it becomes acts of the log; return what was done."""
        job = self._panel.desk.job
        place = read_where(where, job.envelope, job.rooms)
        stamp = {"at": at, "later": later, "by": by, "photo": _file_name(photo)}

        def acts(log):
            leak = log.leak(number) if number else None
            start, tag = log, number or log.next_number
            if leak is None:
                remark = "" if act or recheck == "leaks" else note
                log = log.found(tag, strength=strength, flow=flow, method=method, note=remark,
                                **place, **stamp)  # fmt: skip
            elif act != "marked" and _differs(leak, place, strength):
                log = log.found(tag, **stamp)  # refused, with the number that is free
            elif flow is not None and flow != leak.flow and act != "marked":
                log = log.act(tag, "marked", flow=flow, note=note if not act else "", **stamp)
            if material and not (leak and leak.material == material and leak.state != "open"):
                log = log.sealed(tag, material, **stamp)
            if recheck:
                log = log.rechecked(tag, recheck == "tight", note=note if not act else "", **stamp)
            if act:
                more = {**place, "strength": strength, "flow": flow} if act == "marked" else {}
                log = log.act(tag, act, note=note, **more, **stamp)
            if log is start:
                allowed = ", ".join(words for words, _ in next_acts(leak))
                raise InputError(f"Nothing new for leak {tag}, {leak.state}. It may be: {allowed}.")
            return log

        return self.act(acts)

    def act(self, make):
        """Do acts on the log, save them at once, and say what became of them."""
        panel = self._panel
        before = Log(panel.desk.job.leaks)
        after = make(before)
        new = after.events[len(before.events) :]
        panel.desk.append_events(new)
        return self._told(new)

    def _told(self, new):
        """Say what was done; a number that somebody else used meanwhile is given anew."""
        held = {event.event: event.leak for event in self._panel.desk.job.leaks}
        log = Log(self._panel.desk.job.leaks)
        moved = {event.leak: held[event.event] for event in new if held[event.event] != event.leak}
        tags = dict.fromkeys(held[event.event] for event in new)
        text = _sentences(log, tags) + self._lost([log.leak(tag) for tag in tags])
        for old, tag in moved.items():
            text += f"\nSomebody else used number {old} meanwhile: write {tag} on the tag."
        return text

    def _lost(self, leaks):
        """Say which leaks hold back every area, because no area of the house is where they are."""
        job = self._panel.desk.job
        areas = standing_areas(job.rooms, job.envelope)
        lost = [str(leak.number) for leak in leaks
                if leak and leak.blocks and not areas_at(areas, leak.area, leak.room)]  # fmt: skip
        if not lost:
            return ""
        rooms = listed(dict.fromkeys(area.room for area in areas)) or "none is entered yet"
        return (
            f"\nLeak {listed(lost)}: no area of this house is there, so it holds back every area. "
            f"Tag it anew with its room. Rooms: {rooms}."
        )

    def recheck_several(self, numbers=None, tight=True, **details):
        """Enter the re-check of several leaks; of all that wait for one if no number is given."""
        leaks = Log(self._panel.desk.job.leaks).leaks
        waiting = tuple(leak.number for leak in leaks if "awaiting" in leak.state)
        chosen = tuple(numbers) if numbers else waiting
        if not chosen:
            raise InputError("No leak waits for a re-check.")

        def acts(log):
            for tag in chosen:
                log = log.rechecked(tag, tight, **details)
            return log

        return self.act(acts)

    def save_several(self):
        """Save the re-check of the numbers that are typed."""
        form = self.form
        stamp = {
            "at": moment(form.text("at")), "later": form.fields["paper"].value or None,
            "by": form.text("by"),
        }  # fmt: skip
        tight = form.fields["looked"].value == "tight"
        said = self.recheck_several(tags(form.text("numbers")), tight, **stamp)
        form.clear("numbers")
        return said

    def undo(self):
        """Take back the act entered last."""
        log = Log(self._panel.desk.job.leaks)
        undone = log.undo(self.form.text("by"))
        taken = next(e for e in log.events if e.event == undone.events[-1].undoes)
        self._panel.desk.append_events(undone.events[-1:])
        return f"Took back: leak {taken.leak}, {taken.did}."

    def _number_typed(self, change):
        """Show the leak of the number that is typed, with what may be done to it."""
        tag = change.new.strip()
        leak = Log(self._panel.desk.job.leaks).leak(int(tag)) if tag.isdigit() else None
        self.chosen = leak.number if leak else None
        self._panel.redraw()
        if leak:
            allowed = ", ".join(words for words, _ in next_acts(leak))
            ask = f"\n{leak.ask}" if leak.ask else ""
            self._panel.tell(f"{leak.sentence()} It may be: {allowed}.{ask}")


def _sentences(log, numbers):
    leaks = [log.leak(tag) for tag in numbers]
    leaks = [leak for leak in leaks if leak is not None]
    said = [leak.sentence() for leak in leaks]
    if len(said) > 4:
        said = [f"{len(said)} leaks saved. {log.sentence()}"]
    asked = {}
    for leak in leaks:
        if leak.ask:
            asked.setdefault(leak.ask, []).append(leak.number)
    more = [f"Leak {listed(tags)}: {ask}" for ask, tags in asked.items()]
    return "\n".join((" ".join(said), *more))


def _tag(text):
    """Return the number typed, None for the next free one."""
    if not text:
        return None
    if not text.isdigit() or not 1 <= int(text) <= 100000:
        raise InputError(f"Leak number is '{text[:20]}'. It is a whole number, 1 or more.")
    return int(text)


def _file_name(photo):
    """Refuse a photo that is more than the name of a file."""
    if any(mark in photo for mark in "/\\:<>|\0"):
        raise InputError(f"Photo is '{photo[:40]}'. Write its number or its file name alone.")
    return photo


def _differs(leak, place, strength):
    """Whether a row typed for a known leak speaks of another place."""
    pairs = [(getattr(leak, name), value) for name, value in place.items()]
    pairs += [(leak.strength, strength)] if strength else []
    return any(known and known != value for known, value in pairs)
