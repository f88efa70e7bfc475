"""What does a person take hold of while planning: the controls of each view, kept with the job."""

import ipywidgets as widgets

from airlab.building import ENVELOPE, metric, metric_value
from airlab.building.site import site_from_settings
from airlab.leak_check import CHECK_PATTERNS, PHASES, PRICE_KEYS
from airlab.leak_check.outlook import assumed_in
from airlab.leak_check.tables import DIRECTIONS, OPENING_STATES
from airlab.panels.controls import Dial, choice, short, tick
from airlab.panels.fan_points import FanPoints
from airlab.physics.wind import SHIELDINGS, TERRAINS
from airlab.words import InputError, convert, display_unit, label, show

__all__ = ["ALL", "Goal", "PlanControls"]

ALL = "the whole way"
_AUTO = {"description_width": "initial"}
_PRICE_WORDS = {
    "check": "One check", "round": "One more round", "open_up": "Opening up later",
    "retest": "Another final test", "miss": "Anything else a miss costs", "currency": "Currency",
}  # fmt: skip
_GUESSED = "as the layers say"
_GOALS = ("qE50", "n50", "qF50", "q50_flow")


class Goal(widgets.VBox):
    """A target or a limit: metric with its unit, and value.

    Parameters
    ----------
    name : str
        Target or limit.
    units : str
        'metric' or 'us'.
    changed : callable
        Called with metric key and value in the metric's own unit when a person changes either.
    """

    def __init__(self, name, units, changed):
        self._units, self._moving, self._given = units, False, changed
        self.metric = choice(name, [(self._words(key), key) for key in _GOALS], as_list=True)
        self.box = widgets.FloatText(description=f"Value of the {name.lower()}", style=_AUTO)
        super().__init__([self.metric, self.box])
        self._plan = None
        self.metric.observe(self._other, "value")
        self.box.observe(self._typed, "value")

    def show(self, goal, plan):
        """Show a goal of the job."""
        self._moving, self._plan = True, plan
        if goal and goal["metric"] in _GOALS:
            own = metric(goal["metric"]).unit
            self.metric.value = goal["metric"]
            seen = self._unit()
            self.box.value = short(convert(goal["value"], own, seen), 6 if own == seen else 4)
        self._moving = False

    def _unit(self):
        return display_unit(metric(self.metric.value).unit, self._units)

    def _words(self, key):
        one = metric(key)
        return f"{one.symbol} [{label(display_unit(one.unit, self._units))}]"

    def _other(self, change):
        """Another metric: the same leakage, said in it."""
        if self._moving or self._plan is None:
            return
        plan = self._plan
        flow = plan.target_flow if self.metric.description == "Target" else plan.limit_flow
        value = metric_value(change.new, flow, plan.final, plan.assumptions["flow_exponent"])
        self._given(change.new, float(show(value, digits=3)))

    def _typed(self, change):
        if not self._moving:
            own = metric(self.metric.value).unit
            self._given(self.metric.value, convert(change.new, self._unit(), own))


class PlanControls:
    """The controls of the six views.

    Parameters
    ----------
    panel : PlanPanel
        What is told of a person's moves, through its own public acts.
    units : str
        'metric' or 'us'.
    """

    def __init__(self, panel, units):
        self._panel, self._units, self._held = panel, units, False
        self._shown_fan = None
        temperature = display_unit("C", units)
        low, high = (20.0, 95.0) if temperature == "F" else (-10.0, 35.0)
        self.area = widgets.Dropdown(description="Area", style=_AUTO)
        self.status = choice("Its layer is", ENVELOPE.column("status").choices)
        self.later = tick("A later layer adds tightness")
        self.supported = tick("Film is battened")
        self.opening = widgets.Dropdown(description="Opening", style=_AUTO)
        self.required = choice("For the reading it is", OPENING_STATES)
        self.seal = widgets.Text(description="Seal made of", continuous_update=False, style=_AUTO)
        self.hides = tick("The seal hides a leak that counts at the end")
        self.sure = Dial("How sure of the limit", 90.0, 50.0, 99.0, step=1.0, unit="%")
        self.fan = FanPoints(display_unit("m3/s", units), panel.refuse)
        self.assumption = widgets.Dropdown(description="Assumption", style=_AUTO)
        self.assumed = widgets.FloatText(description="Its value", style=_AUTO)
        self.ours = panel.button("Put ours back", lambda: panel.assume(self.assumption.value, None))
        self.goals = tick("Target and limit")
        self.target = Goal("Target", units, lambda *goal: self._say(panel.aim, "target", *goal))
        self.limit = Goal("Limit", units, lambda *goal: self._say(panel.aim, "limit", *goal))
        self.part = widgets.Dropdown(description="Read", style=_AUTO)
        self.direction = choice("The fan will", DIRECTIONS)
        self.inside = Dial("Inside", 20.0, low, high, step=1.0, unit=temperature)
        self.outside = Dial("Outside", 10.0, low, high, step=1.0, unit=temperature)
        kinds = [(_GUESSED, ""), *((one.construction, one.construction) for one in CHECK_PATTERNS)]
        self.construction = choice("Construction", kinds, as_list=True)
        self.released_by = widgets.Text(
            description="Who releases", continuous_update=False, style=_AUTO
        )
        self.day = widgets.Text(
            description="Your own day",
            placeholder="2027-04-13",
            continuous_update=False,
            style=_AUTO,
        )
        self.fans = tick("Fans and supply")
        self.count = choice("Fans that may be had", (1, 2, 3, 4), as_list=True)
        self.efficiency = Dial("Electrical efficiency", 30.0, 1.0, 100.0, step=1.0, unit="%")
        self.supply = widgets.Text(
            description="Supply gives [W]",
            placeholder="not known",
            continuous_update=False,
            style=_AUTO,
        )
        fans = _folded(self.fans, self.count, self.efficiency, self.supply)
        eaves = {"m": (5.0, 2.0, 30.0), "ft": (16.0, 6.0, 100.0)}[display_unit("m", units)]
        self.eaves = Dial("Eaves above ground", *eaves, step=0.5, unit=display_unit("m", units))
        self.terrain = choice("Round the house", TERRAINS, as_list=True)
        self.station = choice("Round the weather station", TERRAINS, as_list=True)
        self.shielding = choice("Obstructions", SHIELDINGS, as_list=True)
        self.priced = tick("Site and your prices")
        self.prices = {
            key: widgets.Text(description=_PRICE_WORDS[key], continuous_update=False, style=_AUTO)
            for key in (*PRICE_KEYS, "currency")
        }
        place = (self.terrain, self.shielding, self.eaves, self.station)
        money = _folded(self.priced, *place, *self.prices.values())
        folded = _folded(self.goals, self.target, self.limit)
        self.views = {
            "hazards": (),
            "layer": (self.area, self.status, self.later, self.supported),
            "fan": (
                self.sure, self.fan, self.assumption, self.assumed, widgets.HBox([self.ours]),
                self.fans, fans, self.goals, folded,
            ),
            "openings": (self.opening, self.required, self.seal, self.hides),
            "route": (self.part, self.direction, self.inside, self.outside),
            "when": (self.construction, self.released_by, self.day, self.priced, money),
        }  # fmt: skip
        self._listen(panel)

    def _listen(self, panel):
        for picker in (self.area, self.opening, self.assumption, self.part):
            self._on(picker, lambda _: panel.refresh())
        for control, column in (
            (self.status, "status"), (self.later, "later_layer"), (self.supported, "supported"),
        ):  # fmt: skip
            self._on(control, lambda v, c=column: panel.set_area(self.area.value, **{c: v}))
        for control, column in (
            (self.required, "required"), (self.seal, "sealed_with"), (self.hides, "hides_leak"),
        ):  # fmt: skip
            self._on(control, lambda v, c=column: panel.set_opening(self.opening.value, **{c: v}))
        self._on(self.sure, lambda value: panel.save(confidence=value))
        self.fan.observe(lambda change: self._say(self._typed_fan, change.new), "fan")
        self._on(self.assumed, self._assume)
        self._on(self.direction, lambda value: panel.save(direction=value))
        self._on(self.inside, lambda value: panel.save(temperatures={"inside": value}))
        self._on(self.outside, lambda value: panel.save(temperatures={"outside": value}))
        self._on(self.construction, lambda value: panel.save(construction=value))
        self._on(self.released_by, lambda value: panel.save(released_by=value))
        self._on(self.day, lambda value: panel.save(check_on=value))
        for control, key in (
            (self.terrain, "terrain"), (self.shielding, "shielding"), (self.eaves, "eaves_height_m"),
            (self.station, "station_terrain"),
        ):  # fmt: skip
            self._on(control, lambda value, k=key: panel.save(site={k: value}))
        for control, key in ((self.count, "count"), (self.efficiency, "efficiency")):
            self._on(control, lambda value, k=key: self._change_fan(**{k: value}))
        self._on(self.supply, lambda typed: self._change_fan(supply_w=_number("Supply", typed)))
        for key, box in self.prices.items():
            self._on(box, lambda typed, k=key: panel.save(prices={k: _price(k, typed)}))

    def _assume(self, value):
        key, (own, seen) = self.assumption.value, self._unit
        self._panel.assume(key, convert(value, seen, own))

    def _change_fan(self, **entries):
        """Change entries of the fan; a fan of its own points is wanted first."""
        points = self.fan.fan.get("points") or ()
        if not points:
            raise InputError("No fan is entered yet. Type its points first, then what it runs on.")
        self._panel.set_fan(points, **entries)

    def _on(self, control, act):
        """Let a person's move of a control do something."""
        control.observe(lambda change: self._say(act, change.new), "value")

    def _say(self, act, *given):
        if not self._held:
            self._panel.page(act, *given)

    # keeping them with the job ------------------------------------------------------------

    def choose(self, table, name):
        """Choose a row of a table, if it is in the list."""
        picker = {"envelope": self.area, "openings": self.opening}[table]
        self._held = True
        if name in picker.options:
            picker.value = name
        self._held = False

    def show(self, job, plan):
        """Put the values of the job into the controls."""
        self._held = True
        try:
            self._show_rows(job)
            self.sure.value, self.direction.value = job.confidence, job.direction
            self.inside.value = job.temperatures["inside"]
            self.outside.value = job.temperatures["outside"]
            self._show_fan(job.fan)
            self._show_when(job)
            self.target.show(job.target, plan)
            self.limit.show(job.limit or job.target, plan)
            if plan:
                self._show_plan(plan)
        finally:
            self._held = False

    def _show_rows(self, job):
        _pick(self.area, [one.area for one in job.envelope])
        _pick(self.opening, [one.name for one in job.openings])
        for area in job.envelope:
            if area.area == self.area.value:
                self.status.value, self.later.value = area.status, area.later_layer
                self.supported.value = area.supported
        for one in job.openings:
            if one.name == self.opening.value:
                self.required.value, self.seal.value = one.required, one.sealed_with
                self.hides.value = one.hides_leak

    def _typed_fan(self, fan):
        more = {key: fan.get(key) for key in ("lowest_m3_per_h", "ranges")}
        self._panel.set_fan(fan["points"], **more)

    def _show_fan(self, fan):
        if self._shown_fan != fan:  # what was typed and refused stays in the box
            self.fan.show(fan)
        self._shown_fan, own = fan, fan or {}
        self.count.value = own.get("count") or 2
        self.efficiency.value = own.get("efficiency") or 0.3
        self.supply.value = show(own["supply_w"], digits=6) if own.get("supply_w") else ""

    def _show_when(self, job):
        site, kinds = site_from_settings(job.site), [key for _, key in self.construction.options]
        self.construction.value = job.construction if job.construction in kinds else ""
        self.released_by.value = job.released_by
        self.terrain.value, self.shielding.value = site.terrain, site.shielding
        self.station.value, self.eaves.value = site.station_terrain, site.eaves_height
        self.day.value = job.check_on
        for key, box in self.prices.items():
            price = job.prices.get(key)
            box.value = (
                "" if price is None else str(price if key == "currency" else show(price, digits=9))
            )

    def _show_plan(self, plan):
        keys = assumed_in(plan)
        rest = [one.key for one in plan.assumptions.entries if one.key not in keys]
        _pick(self.assumption, [(key.replace("_", " "), key) for key in (*keys, *rest)])
        one = plan.assumptions.entry(self.assumption.value)
        self._unit = one.unit, one.shown_unit(self._units)
        unit = f" [{label(self._unit[1])}]" if label(self._unit[1]) else ""
        self.assumed.description = f"Its value{unit}"
        own, seen = self._unit
        self.assumed.value = short(convert(one.value, own, seen), 6 if own == seen else 4)
        parts = [
            ALL,
            *(phase for phase in PHASES if phase != PHASES[3] and plan.route.phase(phase)),
        ]
        parts += dict.fromkeys(stop.room for stop in plan.route.stops if stop.room)
        _pick(self.part, [(f"{part[:1].upper()}{part[1:]}", part) for part in parts])


def _price(key, typed):
    """Return a typed price; blank is none."""
    return typed.strip() or None if key == "currency" else _number("Price", typed)


def _number(name, typed):
    """Return a typed number; blank is none."""
    typed = typed.strip()
    try:
        return float(typed.replace(",", ".")) if typed else None
    except ValueError:
        raise InputError(f"{name} {typed[:20]!r} is no number. Write it as in: 350.") from None


def _folded(unfold, *held):
    """Return controls in a box that a tick unfolds."""
    box = widgets.VBox(held).add_class("airlab-more")
    unfold.observe(lambda _: _fold(box, unfold.value), "value")
    _fold(box, False)
    return box


def _fold(box, shown):
    box.layout.display = None if shown else "none"


def _pick(picker, options):
    """Give a list its options and keep what was picked, where it is still there."""
    values = [one[1] if isinstance(one, tuple) else one for one in options]
    kept = picker.value if picker.value in values else next(iter(values), None)
    if picker.options != tuple(options):
        picker.options = options
    picker.value = kept
