"""A practice house: settle what is dangerous, prepare, run the fan, search, tag, fix, open it up."""

from pathlib import Path

import ipywidgets as widgets

from airlab.files.marks import class_folder
from airlab.files.practice_houses import practice_houses, read_house, save_result
from airlab.panels.card import CardPanel
from airlab.panels.controls import Dial, choice
from airlab.plots.practice_house import HuntView, hunt_drawing, opened_drawing
from airlab.plots.practice_pages import fault_page, hazard_page, opened_table, preparation_page
from airlab.teaching.marks import learner_code
from airlab.teaching.practice import FAULTS
from airlab.teaching.practice.faults import diagnose, symptoms
from airlab.teaching.practice.fixes import fixes
from airlab.teaching.practice.gauge import AVERAGES, HOSES
from airlab.teaching.practice.house import HEIGHTS
from airlab.teaching.practice.hunt import start
from airlab.teaching.practice.score import debrief, result_row
from airlab.teaching.practice.sensing import METHODS
from airlab.teaching.practice.telling import after_act, so_far
from airlab.words import InputError

__all__ = ["STEPS", "PracticePanel"]

STEPS = (
    ("1 Safe?", "safe"), ("2 Prepare", "prepare"), ("3 Fan", "fan"), ("4 Search", "search"),
    ("5 Fix", "fix"), ("6 Open it up", "opened"),
)  # fmt: skip
_DONE = (("close it", "close"), ("seal it for the day", "seal"), ("fill it with water", "fill"),
         ("leave it as it is", "leave"))  # fmt: skip
_FIRST = "larch_yard"
_STYLE = Path(__file__).with_name("practice.css")


class PracticePanel(CardPanel):
    """Search a practice house.

    Parameters
    ----------
    house : str
        Name of a house of the workbook, or a folder with tables of your own.
    seed : int
        What is hidden; the same for everyone in a class.
    learner : str
        Number, for the board of a class; no name.
    results : path or None
        One CSV for the whole class; None keeps each learner's in the class's own folder.

    Examples
    --------
    >>> from airlab.panels.practice import PracticePanel
    >>> day = PracticePanel(seed=7).answer("run").blow(-50.0)
    >>> day.search("Kitchen", "low", "hand").value.stand.minutes > 0
    True
    """

    title = "Find the leaks"
    lead = "An invented house. Air goes through it as the laws of the whole house say."

    def __init__(self, house=_FIRST, seed=7, learner="", results=None, fault="", units="metric"):
        self._results, self._kept, self._seen, self._said, self._opened = (
            results,
            None,
            {},
            "",
            None,
        )
        self._session = start(read_house(house), seed, learner, fault=fault)
        self.step = choice("Now", STEPS)
        houses = [(read_house(name).name, name) for name in practice_houses()]
        known = house in practice_houses()
        self.house = choice("House", houses if known else [(self._session.house.name, house), *houses],
                            house, as_list=True)  # fmt: skip
        style = {"description_width": "initial"}
        self.seed = widgets.BoundedIntText(
            value=seed, min=0, max=999999, description="Seed", style=style
        )
        self.learner = widgets.Text(value=learner, description="Your number", style=style)
        self.fault = choice(
            "Instructor hides a fault",
            [("none", ""), *((f, f) for f in FAULTS)],
            fault,
            as_list=True,
        )
        self.opening = choice("Opening", [""], as_list=True)
        self.done = choice("What to do", _DONE)
        self.hose = choice(
            "Outside hose", [(words, key) for key, words in HOSES.items()], as_list=True
        )
        self.direction = choice("The fan", (("sucks air out", "out"), ("blows air in", "in")))
        self.pressure = Dial("House held at", 50.0, 10.0, 60.0, step=5.0, unit="Pa")
        self.doors = choice("Doors inside", (("open", "open"), ("shut", "shut")))
        self.seconds = choice("Average over", [(f"{s} s", s) for s in AVERAGES], 30, as_list=True)
        self.room = choice("Room", [""], as_list=True)
        self.height = choice("Height", (("low", "low"), ("mid", "mid"),
                                        ("high", "high")))  # fmt: skip
        self.method = choice("Method", [(m.name, m.key) for m in METHODS], as_list=True)
        self.spot = choice("Noticed here", [("nothing yet", "")], as_list=True)
        self.tag = choice("Tag", [("none yet", 0)], as_list=True)
        self.what = choice("What to do about it", [("", "")], as_list=True)
        self.guess = choice("What is wrong?", [(f, f) for f in FAULTS], as_list=True)
        super().__init__(view={"step": self.step}, units=units)
        self.step.add_class("airlab-doors")
        self.add_class("airlab-practice")
        for one in (self.height, self.direction, self.doors):
            one.add_class("airlab-flat")
        self._buttons.children = (*self._buttons.children, self.button("Undo", self.undo))
        self._benches = self._make_benches()
        head, body = self.children
        self.children = (head, self.step, body)
        self._view.children = (self._message, self._result, self._picture)
        for control in (self.room, self.height, self.tag):
            control.observe(self._changed, "value")
        self.house.observe(lambda _: self._act(self.begin), "value")
        self._act(self._fill)
        self._act(self.refresh)

    def _make_benches(self):
        button = self.button
        self._run = button("Run the fan", lambda: self.blow(), main=True)
        keep = button("Keep it for the class board", self.save)
        fault = (self.guess, button("That is it", self.diagnose, main=True))
        return {
            "safe": (self.house, self.seed, self.fault, button("Start this house", self.begin),
                     button("All safe: fan may run", lambda: self.answer("run"), main=True),
                     button("Stop: not safe, or not known", lambda: self.answer("stop"), main=True)),
            "prepare": (self.opening, self.done, button("Do it", self.prepare, main=True), self.hose,
                        button("Lay the hose", self.lay_hose)),
            "fan": (self.direction, self.pressure, self.doors, self.seconds, self._run,
                    button("Stop the fan", lambda: self.blow(0.0)), button("Read the gauge", self.read, main=True)),
            "search": (self.room, self.height, self.method, button("Search", self.search, main=True),
                       button("Next place", self.next_place), self.spot,
                       button("Tag it", self.mark, main=True)),
            "fix": (self.tag, self.what, button("Do it", self.fix, main=True),
                    button("Look again", self.look_again), button("Read the gauge", self.read)),
            "opened": (button("Open the house up", self.open_up, main=True), self.learner, keep),
            "fault": fault,
        }  # fmt: skip

    # what a person does -------------------------------------------------------------------

    def begin(self, house=None, seed=None, learner=None, fault=None):
        """Start a day in a house; what was done before is gone."""
        given = (
            (self.house, house),
            (self.seed, seed),
            (self.learner, learner),
            (self.fault, fault),
        )
        with self._held_back():
            for control, value in given:
                if value is not None:
                    control.value = value
            self._session = start(read_house(self.house.value), self.seed.value, self.learner.value,
                                  fault=self.fault.value)  # fmt: skip
            self._opened, self._said, self.step.value = None, "", "safe"
            self._fill()
        self.refresh()
        return self

    def reset(self):
        """Start the same day again: replay by seed."""
        return self.begin()

    def undo(self):
        """Take back the last act."""
        self._session, self._opened, self._said = self._session.undo(), None, "Taken back."
        with self._held_back():
            self._fill()
        self.refresh()
        return self

    def answer(self, answer):
        """Settle the hazards: 'run' or 'stop'."""
        return self._do(self._session.answer(answer), "prepare")

    def prepare(self, opening=None, done=None):
        """Close, seal, fill or leave an opening."""
        return self._do(
            self._session.prepare(opening or self.opening.value, done or self.done.value)
        )

    def lay_hose(self, where=None):
        """Lay the outside hose."""
        return self._do(self._session.lay_hose(where or self.hose.value))

    def blow(self, pressure=None, doors=None):
        """Hold the house at a pressure over outside [Pa]; suction has a minus sign; 0 stops the fan."""
        session, doors = self._session, doors or self.doors.value
        if pressure is None:
            pressure = (
                -self.pressure.value if self.direction.value == "out" else self.pressure.value
            )
        if doors != session.stand.doors:
            session = session.set_doors(doors)
        return self._do(session.fan(pressure))

    def read(self, seconds=None):
        """Read gauge and fan, averaged over 5, 30 or 60 s."""
        return self._do(self._session.read(seconds or self.seconds.value))

    def search(self, room=None, height=None, method=None):
        """Search a room at a height by a method."""
        given = (room or self.room.value, height or self.height.value, method or self.method.value)
        with self._held_back():
            self.room.value, self.height.value, self.method.value = given
        return self._do(self._session.look(*given), "search")

    def next_place(self):
        """Go on along the walk: low, mid, high, then the next room."""
        places = [(room, height) for room in self._session.house.walk for height in HEIGHTS]
        here = places.index((self.room.value, self.height.value))
        with self._held_back():
            self.room.value, self.height.value = places[(here + 1) % len(places)]
            self._said = ""
        self.refresh()
        return self

    def mark(self, site=None):
        """Tag what was noticed."""
        return self._do(self._session.mark(site or self.spot.value))

    def fix(self, number=None, what=None):
        """Do something about a tag."""
        return self._do(self._session.fix(number or self.tag.value, what or self.what.value))

    def look_again(self, number=None):
        """Look at a tag again, by smoke."""
        return self._do(self._session.look_again(number or self.tag.value))

    def open_up(self):
        """Open the house up: every leak, seen or missed."""
        self._opened, self._said = debrief(self._session), ""
        self.step.value = "opened"
        self.refresh()
        return self

    def save(self):
        """Keep the day under the learner's number, once, for the board of the class."""
        who = learner_code(self.learner.value)
        if self._kept is self._session:
            raise InputError("This day is kept already.")
        self.open_up()
        path = Path(self._results or class_folder() / f"hunts-{who}.csv")
        path.parent.mkdir(parents=True, exist_ok=True)
        save_result(path, result_row(self._opened) | {"learner": who})
        self._kept, self._said = self._session, f"Kept for learner {who}. "
        self.refresh()

    def diagnose(self, fault=None):
        """Say what is wrong with today's test."""
        self._said = diagnose(
            symptoms(self._session.house, self._session.hidden), fault or self.guess.value
        )[1]
        self.refresh()
        return self

    def _do(self, session, step=None):
        self._session, self._opened = session, None
        self._said = after_act(session, self.units)
        with self._held_back():
            if step:
                self.step.value = step
            self._fill()
        self.refresh()
        return self

    # what is shown --------------------------------------------------------------------------

    def _head_html(self):
        return f"{super()._head_html()}<style>{_STYLE.read_text(encoding='utf-8')}</style>"

    def compute(self, step):
        """Return the session."""
        return self._session

    def refresh(self):
        """Put the bench of this step beside the picture, and show."""
        if hasattr(self, "_benches"):
            self._lay_bench()
            self._noticed_here()
        super().refresh()

    def words(self, record, step):
        """The result of the last act, or how the day stands."""
        if step == "opened" and self._opened:
            return self._said + self._opened.sentence(self.units)
        return self._said or so_far(record, self.units)

    def picture(self, record, step):
        """Plan and section, or the page of the step."""
        if not hasattr(self, "_benches"):
            return ""
        if step == "safe":
            return hazard_page(record) + hunt_drawing(self._hunt_view(record), self.units)
        if step == "prepare":
            return preparation_page(record, self.units)
        if step == "fan" and record.hidden.fault and record.stand.readings:
            return fault_page(symptoms(record.house, record.hidden), self.units)
        if step == "opened" and self._opened:
            return opened_drawing(self._opened, self.units) + opened_table(self._opened, self.units)
        return f'<div class="airlab-hunt">{hunt_drawing(self._hunt_view(record), self.units)}</div>'

    def _hunt_view(self, record):
        stand, height = record.stand, self.height.value
        sealed = {site for site, left in stand.sealed}
        tags = tuple((record.house.site(s), n, s in sealed) for n, s in enumerate(stand.marks, 1))
        room = self.room.value
        if self.step.value == "fix" and stand.marks:
            site = record.house.site(stand.marks[self.tag.value - 1])
            room, height = site.room, site.height
        if not stand.pressure:
            return HuntView(record.house, room, height, tags, stand.searched, doors=stand.doors)
        solved = record.solved()
        flow = solved.fan_size(record.house.facts.fan_room)
        return HuntView(record.house, room, height, tags, stand.searched, stand.pressure,
                        solved.at(room), flow, stand.doors)  # fmt: skip

    def _lay_bench(self):
        faulty = (
            self.step.value == "fan" and self._session.hidden.fault and self._session.stand.readings
        )
        bench = list(self._benches["fault" if faulty else self.step.value])
        if self.step.value == "safe" and self._session.stand.answer:
            bench = bench[:-2]
        rows, buttons = [], []
        for one in bench:
            if isinstance(one, widgets.Button):
                buttons.append(one)
                continue
            if buttons:
                rows.append(widgets.HBox(buttons).add_class("airlab-buttons"))
            buttons = []
            rows.append(one)
        rows.append(widgets.HBox(buttons).add_class("airlab-buttons"))
        self._side.children = (*rows, self._buttons)

    def _fill(self):
        """Offer what this house and this day have."""
        session = self._session
        stand = session.stand
        _offer(self.room, [(name, name) for name in session.house.walk])
        left = dict(stand.chosen)
        _offer(
            self.opening,
            [(f"{o.name}{' ✓' if o.name in left else ''}", o.name) for o in session.house.openings],
        )
        tags = [(f"{n}: {session.house.site(s).where}", n) for n, s in enumerate(stand.marks, 1)]
        _offer(self.tag, tags or [("none yet", 0)])
        self._noticed_here()

    def _noticed_here(self):
        """Offer the places noticed in this room that have no tag, and the choices for the tag."""
        session = self._session
        stand = session.stand
        spots = session.spots(self.room.value)
        _offer(self.spot, [(words, site) for site, words in spots] or [("nothing yet", "")])
        if stand.marks and self.tag.value:
            site = session.house.site(stand.marks[self.tag.value - 1])
            _offer(self.what, [(one.words, one.key) for one in fixes(site)])


def _offer(control, options):
    """Put options into a list and keep what was chosen where it is still there."""
    if list(control.options) == options:
        return
    kept = control.value
    control.options = options
    values = [value for _, value in options]
    control.value = kept if kept in values else values[0]
