"""Which material does each joint of this house want, and how much of it?

Joints come from the job; what their two sides are made of is read from the words people typed. Where
the words do not say, the page asks instead of guessing.
"""

from dataclasses import dataclass

from airlab.leak_check.sealing import Fix, choose_fix
from airlab.words import from_si, require_between, show
from airlab.words.saying import alike

__all__ = ["MaterialLine", "MaterialSchedule", "material_schedule", "substrate_of"]

WASTE = 0.1  # cut ends, laps, second tries; ours
# Word in what people type: face of the sealing table. The first that fits counts.
_WORDS = (
    ("hatch", "hatch"), ("frame", "frame"), ("membrane", "film"), ("film", "film"), ("foil", "film"),
    ("polythene", "film"), ("polyethylene", "film"), ("vapour", "film"), ("osb", "wood board"),
    ("plywood", "wood board"), ("wood board", "wood board"), ("sheathing", "wood board"),
    ("plasterboard", "gypsum board"), ("gypsum", "gypsum board"), ("plaster", "plaster"),
    ("parge", "plaster"), ("render", "plaster"), ("slab", "concrete"), ("concrete", "concrete"),
    ("screed", "concrete"), ("block", "masonry"), ("brick", "masonry"), ("masonry", "masonry"),
    ("stone", "masonry"), ("sawn", "sawn timber"), ("timber", "planed timber"),
    ("wood", "planed timber"), ("lining", "planed timber"), ("steel", "metal"), ("metal", "metal"),
    ("board", "gypsum board"),
)  # fmt: skip
_BY_KIND = {"window": "frame", "door": "frame", "hatch": "frame"}  # a hatch by its lining


def substrate_of(words, kind=""):
    """Return the face of the sealing table that typed words stand for, empty where they do not say.

    Parameters
    ----------
    words : str
        Layer as typed.
    kind : str
        Kind of area; a window, door or hatch is a frame.

    Examples
    --------
    >>> substrate_of("membrane, laps taped"), substrate_of("ground slab"), substrate_of("")
    ('film', 'concrete', '')
    """
    if kind in _BY_KIND:
        return _BY_KIND[kind]
    text = words.casefold()
    return next((face for word, face in _WORDS if word in text), "")


@dataclass(frozen=True, slots=True)
class MaterialLine:
    """One joint of the schedule.

    Parameters
    ----------
    junction : str
        Its name.
    first, second : str
        Faces, empty where nobody said.
    fix : Fix or None
        How it is sealed; None where a face is not known.
    material, per : str
        The first choice, counted by m, m2 or item.
    quantity : float or None
        With what is wasted; None where length or count is missing. [-]
    closed : bool
        Whether the joint is closed already.
    """

    junction: str
    first: str
    second: str
    fix: Fix | None
    material: str
    per: str
    quantity: float | None
    closed: bool

    def sentence(self, units="metric"):
        """Return joint, material and quantity in words."""
        if self.fix is None:
            return f"{self.junction}: say what both sides are made of."
        size = (
            "length or count is missing"
            if self.quantity is None
            else _amount(self.quantity, self.per, units)
        )
        wait = self.fix.accepted[0].wait if self.fix.accepted else 0.0
        cure = f", wait {show(wait)} h" if wait else ""
        return f"{self.junction} ({self.first} to {self.second}): {self.material}, {size}{cure}."


def _amount(quantity, per, units):
    if per == "item":
        return f"{show(quantity)} piece{'' if quantity == 1 else 's'}"
    unit = {"m": ("m", "ft"), "m2": ("m2", "ft2")}[per][units == "us"]
    return show(from_si(quantity, unit), unit)


@dataclass(frozen=True, slots=True)
class MaterialSchedule:
    """All joints with their material, and the total of each material.

    Parameters
    ----------
    lines : tuple of MaterialLine
        In the order of the table.
    totals : tuple of (str, str, float)
        Material, what it is counted by, quantity over the joints that are not closed yet.
    waste : float
        Share added for what is wasted. [-]
    """

    lines: tuple[MaterialLine, ...]
    totals: tuple[tuple[str, str, float], ...]
    waste: float

    @property
    def asking(self):
        """Joints for which a face, a length or a count is missing."""
        return tuple(one.junction for one in self.lines if one.fix is None or one.quantity is None)

    def sentence(self, units="metric"):
        """Return the totals of the joints that are still open."""
        if not self.lines:
            return "No joint is entered."
        parts = [f"{name} {_amount(quantity, per, units)}" for name, per, quantity in self.totals]
        text = f"For the open joints: {'; '.join(parts)}." if parts else "Every joint is closed."
        if self.asking:
            text += f" Say more about: {', '.join(self.asking)}."
        return f"{text} Generic types; the product's data sheet decides. Buy one system, primer included."


def material_schedule(junctions, areas=(), waste=WASTE):
    """Return the material of each joint and the totals.

    Parameters
    ----------
    junctions : iterable of Junction
        Joints with their layers, length or count.
    areas : iterable of EnvelopeElement
        Areas; they say what kind each element is, and its layer where the joint does not.
    waste : float
        Share added. [-]

    Returns
    -------
    MaterialSchedule
        Totals count joints that are not closed yet.

    Raises
    ------
    InputError
        If the waste is not between 0 and 1.

    References
    ----------
    [AIRLAB] waste; [TRADE] materials by generic type.
    """
    require_between("waste", waste, 0.0, 1.0, "-", "If you meant 10 %, write 0.1.")
    kinds, layers = {}, {}
    for area in areas:
        kinds.setdefault(alike(area.element), area.kind)
        layers.setdefault(alike(area.element), area.layer)
    lines, totals = [], {}
    for joint in junctions:
        sides = ((joint.element_a, joint.layer_a), (joint.element_b, joint.layer_b))
        known = [kinds.get(alike(element), "") for element, _ in sides]
        faces = [
            substrate_of(layer or layers.get(alike(element), ""), kind)
            for (element, layer), kind in zip(sides, known)
        ]
        line = _line(joint, *faces, "floor edge" in known, waste)
        lines.append(line)
        if not line.closed and line.quantity:
            key = (line.material, line.per)
            totals[key] = totals.get(key, 0.0) + line.quantity
    return MaterialSchedule(
        tuple(lines), tuple((name, per, total) for (name, per), total in totals.items()), waste
    )


def _line(joint, first, second, rim, waste):
    if not first or not second:
        return MaterialLine(joint.junction, first, second, None, "", "", None, joint.closed)
    fix = choose_fix(first, second, shape="floor edge" if rim else "joint")
    best = fix.accepted[0] if fix.accepted else None
    per = best.per if best else "m"
    size = joint.length if per == "m" else joint.count if per == "item" else None
    quantity = None if size is None else size * (1.0 + (waste if per != "item" else 0.0))
    return MaterialLine(joint.junction, first, second, fix, best.material if best else "", per,
                        quantity, joint.closed)  # fmt: skip
