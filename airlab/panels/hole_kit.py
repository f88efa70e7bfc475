"""Which holes? Add, change and remove them one by one; the set moves with the learner.

The kit keeps what people typed; the panel turns it into a `HoleSet` when it computes, so that a
size a hole cannot have is refused in words like every other input.
"""

from dataclasses import dataclass, replace

import ipywidgets as widgets
import traitlets

from airlab.panels.controls import Dial, choice, tick
from airlab.physics import (
    EDGES,
    FLOW_MODELS,
    HOLE_KINDS,
    HOLE_MODES,
    Hole,
    HoleSet,
    RoundHole,
    equivalent_hole_area,
    hole_sizes,
    make_opening,
    ready_openings,
)
from airlab.words import InputError, cm2, from_si, m3_per_h, mm, show

__all__ = ["HoleKit", "describe", "holes_of"]

MODE_WORDS = {
    "rigid": "in a cap or patch, keeps its size",
    "moves with rubber": "moves with the rubber",
    "free": "free in bare rubber",
}
# words, metric dial (unit, slider ends, step), US dial, equal factors for equal moves
_DIALS = {
    "diameter": ("Hole, across", ("mm", 0.5, 8.0, 0.1), ("in", 0.02, 0.32, 0.005), False),
    "count": ("How many alike", ("-", 1.0, 20.0, 1.0), ("-", 1.0, 20.0, 1.0), False),
    "length": ("Length", ("mm", 5.0, 1000.0, None), ("in", 0.2, 40.0, None), True),
    "width": ("Width of the gap", ("mm", 0.05, 10.0, None), ("in", 0.002, 0.4, None), True),
    "depth": ("Depth, the way through", ("mm", 0.0, 100.0, 1.0), ("in", 0.0, 4.0, 0.05), False),
    "bends": ("Bends on the way", ("-", 0.0, 6.0, 1.0), ("-", 0.0, 6.0, 1.0), False),
    "material_leakage": ("Passes at 50 Pa", ("m3/(h.m2)", 0.01, 1000.0, None),
                         ("cfm/ft2", 0.0005, 50.0, None), True),
    "area": ("Area of the patch", ("cm2", 1.0, 5000.0, None), ("in2", 0.2, 800.0, None), True),
    "leakage_flow": ("Leaks at 50 Pa", ("m3/h", 0.01, 1000.0, None), ("cfm", 0.01, 600.0, None),
                     True),
    "flow_exponent": ("Flow exponent n", ("-", 0.5, 1.0, 0.01), ("-", 0.5, 1.0, 0.01), False),
    "gaps": ("Its gaps, as one sharp hole", ("cm2", 0.01, 1000.0, None), ("in2", 0.002, 150.0, None),
             True),
}  # fmt: skip
_STARTS = {
    "round hole": {"diameter": mm(2.5), "count": 1.0, "edge": "sharp"},
    "slot": {"length": mm(20), "width": mm(0.25), "edge": "sharp"},
    "deep crack": {"length": mm(50), "width": mm(0.3), "depth": mm(5), "bends": 0.0},
    "porous patch": {"material_leakage": 20.0, "area": cm2(100)},
    "leak by its numbers": {"leakage_flow": m3_per_h(0.1), "flow_exponent": 0.65},
}
_EDGE_WORDS = {"sharp": "sharp", "tube": "short tube", "rounded": "rounded"}
_FLOW_WORDS = {
    "constant": "constant coefficient",
    "two-term": "with creeping flow",
    "fitted": "follows the Reynolds number",
}
_SITE_ENDS = {"mm": 200.0, "in": 8.0}
_LARGEST = "The largest choice of this model: up to 3 times as long."
_GAPS = cm2(0.1)
_UNDONE = 30


@dataclass(frozen=True, slots=True)
class _Form:
    """A hole as typed: kind, sizes, how it sits in rubber, gaps of a layer behind (or None)."""

    kind: str
    sizes: tuple[tuple[str, object], ...]
    hole_mode: str = "rigid"
    gaps: float | None = None

    @property
    def name(self):
        return dict(self.sizes).get("name", self.kind)

    def hole(self):
        behind = None if self.gaps is None else RoundHole.from_area(self.gaps, name="layer behind")
        return Hole(make_opening(self.kind, **dict(self.sizes)), self.hole_mode, behind)


def describe(form, units="metric"):
    """Return a hole as typed in words, with its size if it is a plain round one."""
    sizes = dict(form.sizes)
    if form.name != "round hole":
        return f"{'an' if form.name[0] in 'aeiou' else 'a'} {form.name}"
    unit = "in" if units == "us" else "mm"
    size = show(from_si(sizes["diameter"], unit), unit)
    count = sizes["count"]
    return f"{show(count)} round holes of {size}" if count != 1 else f"a round hole of {size}"


def _blank(kind):
    return _Form(kind, tuple({**_STARTS[kind], "name": kind}.items()))


def _as_form(hole):
    kind, sizes = hole_sizes(hole.opening)
    kept = {n: s for n, s in sizes.items() if n in _STARTS[kind] or s != _plain(kind, n)}
    gaps = hole.behind and float(equivalent_hole_area(float(hole.behind.flow(50.0))))
    return _Form(kind, tuple(kept.items()), hole.hole_mode, gaps)


def _plain(kind, name):
    return {"depth": 0.0, "flow_model": "constant", "count": 1}.get(name)


def holes_of(forms):
    """Return the `HoleSet` of a kit's value; refuses in words what a hole cannot be."""
    return HoleSet(tuple(form.hole() for form in forms))


class HoleKit(widgets.VBox):
    """Controls of a set of holes; `value` is what was typed, one form a hole.

    Parameters
    ----------
    holes : HoleSet, optional
        The start; one round hole of 2.5 mm if left out.
    units : str
        'metric' or 'us'.
    site : bool
        Whether the sliders reach to the sizes of a building site.

    Attributes
    ----------
    chosen : int
        Place of the hole whose sizes are on show.
    finer : widgets.VBox
        Settings of the chosen hole that belong under "more".
    """

    value = traitlets.Tuple()

    def __init__(self, holes=None, units="metric", site=False):
        self._site = site
        self.units, self.chosen, self._past, self._moving = units, 0, [], False
        self._dials, self._dark, self._whole, self.in_rubber = {}, False, True, True
        self.edge = choice("Edge", [(_EDGE_WORDS[e], e) for e in EDGES], as_list=True)
        self.mode = choice(
            "How the hole sits in rubber", [(MODE_WORDS[m], m) for m in HOLE_MODES], as_list=True
        )
        self.flow_model = choice(
            "Law of the hole", [(_FLOW_WORDS[m], m) for m in FLOW_MODELS], as_list=True
        )
        self.all_holes = tick("All holes: add, change")
        self._picker = choice("Hole on show", [("1. round hole", 0)], as_list=True)
        ready = [(f"{entry.name}, {entry.said(units)}", entry.key) for entry in ready_openings()]
        self._kind = choice("Kind", [*((kind, kind) for kind in HOLE_KINDS), *ready], as_list=True)
        self._layer = tick("A second layer behind it")
        self._said = widgets.HTML().add_class("airlab-kit-says")
        self._note = widgets.HTML(f"<p>{_LARGEST}</p>").add_class("airlab-kit-says")
        buttons = (("Add a hole", self.add), ("Remove it", self.remove), ("Undo", self.undo))
        self._buttons = widgets.HBox([_button(*pair) for pair in buttons])
        self._buttons.add_class("airlab-buttons")
        self.finer = widgets.VBox()
        for control in (self.edge, self.mode, self.flow_model, self._layer):
            control.observe(self._changed, "value")
        self.all_holes.observe(lambda _: self._arrange(), "value")
        self._picker.observe(self._picked, "value")
        self._kind.observe(self._kind_chosen, "value")
        start = HoleSet(RoundHole(mm(2.5))) if holes is None else holes
        super().__init__(value=tuple(map(_as_form, start.holes)))
        self.add_class("airlab-kit")
        self.observe(lambda _: self._moving or self._stand(), "value")
        self._stand()

    # what a person does -------------------------------------------------------------------

    def add(self, hole=None):
        """Add a hole (or opening) at the end and show its sizes; a round one if left out."""
        form = _blank("round hole")
        if hole is not None:
            form = _as_form(hole if isinstance(hole, Hole) else Hole(hole))
        return self._go((*self.value, form), len(self.value))

    def remove(self):
        """Take out the hole on show."""
        left = tuple(form for place, form in enumerate(self.value) if place != self.chosen)
        return self._go(left, min(self.chosen, len(left) - 1) if left else 0)

    def undo(self):
        """Take back the last hole added, removed or turned into another kind."""
        if self._past:
            self._go(*self._past.pop(), keep=False)
        return self

    def take(self, holes):
        """Show another `HoleSet`."""
        return self._go(tuple(map(_as_form, holes.holes)), 0)

    def change(self, **fields):
        """Change fields of the hole on show: kind, hole_mode, gaps, or a size by name."""
        if not self.value:
            self.add()
        if "kind" in fields:
            self._kind.value = fields.pop("kind")
        form = self.value[self.chosen]
        own = {name: fields.pop(name) for name in ("hole_mode", "gaps") if name in fields}
        known = HOLE_KINDS[form.kind][1]
        if strange := set(fields) - set(known):
            raise InputError(
                f"A {form.kind} has no {sorted(strange)[0]}. It has: {', '.join(known)}."
            )
        sizes = tuple({**dict(form.sizes), **fields}.items())
        self._put(replace(form, sizes=sizes, **own))
        self._stand()
        return self

    @property
    def disabled(self):
        """Whether the kit can be changed."""
        return self._dark

    @disabled.setter
    def disabled(self, value):
        self._dark = value
        for control in (*self._dials.values(), self.edge, self.mode, self.flow_model, self.all_holes,
                        self._picker, self._kind, self._layer, *self._buttons.children):  # fmt: skip
            control.disabled = value

    def offer(self, whole, in_rubber):
        """Offer the whole kit or the size of one hole alone; whether the holes sit in rubber."""
        if (self._whole, self.in_rubber) == (whole, whole and in_rubber):
            return
        self._whole, self.in_rubber = whole, whole and in_rubber
        self.all_holes.layout.display = None if whole else "none"
        if not whole:
            self.all_holes.value = False
        self._arrange()

    def close(self):
        """Take the kit off the page, with what is out of sight too."""
        kept = [self, *self._dials.values(), *(v for v in vars(self).values()
                if isinstance(v, widgets.Widget))]  # fmt: skip
        while kept:
            one = kept.pop()
            kept += [*getattr(one, "children", ())]
            for look in (getattr(one, "layout", None), getattr(one, "style", None)):
                if isinstance(look, widgets.Widget):
                    look.close()
            if one is not self:
                one.close()
        super().close()

    def say(self, words):
        """Say what all holes pass together."""
        self._said.value = f"<p>{words}</p>"

    # workings -----------------------------------------------------------------------------

    def _go(self, forms, chosen, keep=True):
        if keep:
            self._past = [*self._past, (self.value, self.chosen)][-_UNDONE:]
        self.chosen = chosen
        self._moving = True
        self.value = forms
        self._moving = False
        self._stand()
        return self

    def _put(self, form):
        """Put a changed form in its place."""
        forms = (*self.value[: self.chosen], form, *self.value[self.chosen + 1 :])
        self._moving = True
        self.value = forms
        self._moving = False

    def _stand(self):
        """Make every control show the hole that is chosen."""
        self._moving = True
        self.chosen = min(self.chosen, max(len(self.value) - 1, 0))
        names = [f"{k}. {form.name}" for k, form in enumerate(self.value, 1)]
        self._picker.options = [(name, place) for place, name in enumerate(names)]
        if self.value:
            self._picker.value = self.chosen
            form = self.value[self.chosen]
            sizes = dict(form.sizes)
            for name, size in sizes.items():
                if name in _DIALS:
                    self._dial(name).value = float(size)
            self.edge.value = sizes.get("edge", "sharp")
            self.flow_model.value = sizes.get("flow_model", "constant")
            if form.kind == "round hole":
                self._dial("depth").value = float(sizes.get("depth", 0.0))
            self.mode.value, self._kind.value = form.hole_mode, form.kind
            self._layer.value = form.gaps is not None
            if form.gaps is not None:
                self._dial("gaps").value = form.gaps
        self._moving = False
        self._arrange()

    def _arrange(self):
        """Put the controls in order; only the main size while the kit is folded.

        What is pressed stands before what changes by it: the page keeps the focus only there.
        """
        if not self.value:
            self.finer.children = ()
            self.children = (self.all_holes, self._picker, self._buttons, self._said)
            return
        form = self.value[self.chosen]
        mode = (self.mode, self._note) if self.in_rubber else ()
        round_hole = form.kind == "round hole"
        own = [self._dial(name) for name, _ in form.sizes
               if name in _DIALS and not (round_hole and name == "depth")]  # fmt: skip
        self.finer.children = (self._dial("depth"), self.flow_model) if round_hole else ()
        if not self.all_holes.value:
            self.children = (self.all_holes, *own[:1], *mode)
            return
        edge = (self.edge,) if "edge" in dict(form.sizes) else ()
        layer = (self._dial("gaps"),) if self._layer.value else ()
        self.children = (self.all_holes, self._picker, self._buttons, self._kind, *own, *edge, *mode,
                         self._layer, *layer, self._said)  # fmt: skip

    def _dial(self, name):
        """Return the dial of that size, made when it is first needed."""
        if name not in self._dials:
            words, metric, us, log = _DIALS[name]
            unit, low, high, step = us if self.units == "us" else metric
            if name == "diameter" and self._site:
                high, step, log = _SITE_ENDS[unit], None, True
            dial = Dial(words, low, low, high, step=step, unit=unit, log=log)
            dial.disabled = self._dark
            dial.observe(self._changed, "value")
            self._dials[name] = dial
        return self._dials[name]

    def _changed(self, _change):
        """Read the chosen hole back from its controls."""
        if self._moving or not self.value:
            return
        form = self.value[self.chosen]
        sizes = dict(form.sizes)
        for name in sizes:
            if name in self._dials:
                sizes[name] = self._dials[name].value
        if "edge" in sizes:
            sizes["edge"] = self.edge.value
        if form.kind == "round hole":
            sizes["flow_model"], sizes["depth"] = self.flow_model.value, self._dial("depth").value
        if any(size != dict(form.sizes).get(n, _plain(form.kind, n)) for n, size in sizes.items()):
            sizes["name"] = form.kind  # no longer the ready one it may have been
        gaps = None
        if self._layer.value:
            gaps = _GAPS if form.gaps is None else self._dial("gaps").value
        shown = form.gaps is not None
        self._put(replace(form, sizes=tuple(sizes.items()), hole_mode=self.mode.value, gaps=gaps))
        if shown != (gaps is not None):
            self._stand()

    def _picked(self, change):
        if not self._moving and change.new is not None:
            self.chosen = change.new
            self._stand()

    def _kind_chosen(self, change):
        if self._moving or not self.value:
            return
        ready = {entry.key: entry.opening for entry in ready_openings()}
        kind = change.new
        form = _as_form(Hole(ready[kind])) if kind in ready else _blank(kind)
        old = self.value[self.chosen]
        form = replace(form, hole_mode=old.hole_mode, gaps=old.gaps)
        forms = (*self.value[: self.chosen], form, *self.value[self.chosen + 1 :])
        self._go(forms, self.chosen)


def _button(words, do):
    made = widgets.Button(description=words)
    made.on_click(lambda _: do())
    return made.add_class("airlab-plain")
