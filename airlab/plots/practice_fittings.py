"""What stands in a room of a practice house, what its walls are made of, who searches it."""

from airlab.plots.style import INK, QUIET
from airlab.plots.svg import circle, line, path, rect

__all__ = ["fitting", "person", "wall_band"]

_LOOKS = {"timber": "#e6d3b3", "masonry": "#d9b8a6", "concrete": "#c4c4c0"}
_FITTING = {"fill": "none", "stroke": "#bdb7ad", "stroke_width": 1.4}
# words in the name of a room: boxes in it (x, y, length, width as shares of the room), in plan
_FITTINGS = (
    ("bath", ((0.06, 0.70, 0.6, 0.24), (0.72, 0.08, 0.2, 0.14))),
    ("wash", ((0.06, 0.70, 0.3, 0.24), (0.60, 0.70, 0.3, 0.22))),
    ("toilet", ((0.3, 0.72, 0.4, 0.22),)),
    ("kitchen", ((0.04, 0.82, 0.92, 0.14), (0.04, 0.10, 0.14, 0.70), (0.3, 0.86, 0.12, 0.06))),
    ("scullery", ((0.04, 0.80, 0.92, 0.16), (0.2, 0.84, 0.1, 0.08))),
    ("bed", ((0.10, 0.10, 0.42, 0.34), (0.12, 0.12, 0.1, 0.30))),
    ("living", ((0.08, 0.08, 0.12, 0.5), (0.28, 0.2, 0.14, 0.26))),
    ("parlour", ((0.10, 0.10, 0.4, 0.12), (0.22, 0.28, 0.2, 0.12))),
    ("dining", ((0.28, 0.14, 0.44, 0.24),)),
    ("boiler", ((0.15, 0.66, 0.4, 0.26),)),
    ("study", ((0.55, 0.70, 0.38, 0.22),)),
    ("work", ((0.12, 0.70, 0.76, 0.2),)),
    ("den", ((0.12, 0.72, 0.6, 0.2),)),
    ("store", ((0.08, 0.1, 0.84, 0.14),)),
    ("larder", ((0.08, 0.1, 0.2, 0.8),)),
    ("utility", ((0.08, 0.74, 0.3, 0.2), (0.42, 0.74, 0.3, 0.2))),
    ("stair", tuple((0.1, 0.1 + 0.07 * n, 0.8, 0.07) for n in range(4))),
    ("landing", tuple((0.1, 0.1 + 0.07 * n, 0.8, 0.07) for n in range(4))),
)


def fitting(room, frame):
    """Return what stands in a room by its name, in plan."""
    for word, boxes in _FITTINGS:
        if word in room.name.lower():
            return "".join(
                frame.box(room.x + a * room.length, room.y + b * room.width, c * room.length,
                          d * room.width, rx=2, **_FITTING)
                for a, b, c, d in boxes
            )  # fmt: skip
    return ""


def wall_band(frame, u, v, across, up, look):
    """Return a piece of outside wall: quilt between studs, brick, or concrete."""
    x, y = frame.at(u, v + up)
    w, h = across * frame.scale, up * frame.scale
    thick, flat = min(w, h), w >= h
    out = [rect(x, y, w, h, fill=_LOOKS[look], stroke=INK, stroke_width=1.6)]
    length, d = max(w, h), []
    step = {"timber": 0.7 * thick, "masonry": 8.0, "concrete": 13.0}[look]
    for k in range(int(length / step)):
        at = k * step
        if look == "timber":  # the quilt is drawn as one bent line
            one = (at, 0.2 * thick, at + 0.5 * step, 0.8 * thick, at + step, 0.2 * thick)
        elif look == "masonry":
            one = (at, thick, at + min(thick, step), max(thick - step, 0.0))
        else:
            one = (at + 3, (0.25 + 0.5 * (k % 2)) * thick, at + 5, (0.25 + 0.5 * (k % 2)) * thick)
        if one[-2] <= length:
            pairs = zip(one[::2], one[1::2])
            d.append(
                "M"
                + "L".join(
                    f"{x + (a if flat else b):.1f} {y + (b if flat else a):.1f}" for a, b in pairs
                )
            )
    out.append(
        path(
            "".join(d),
            fill="none",
            stroke="#8a7a66" if look != "concrete" else QUIET,
            stroke_width=1.1,
        )
    )
    return "".join(out)


def person(frame, u, room, height):
    """Return someone who searches a room at a height: kneeling, standing, on low steps."""
    scale = frame.scale
    reach = {"low": 0.2, "mid": 1.25, "high": min(room.height - 0.1, 2.3)}[height]
    tall = 1.1 if height == "low" else 1.7  # kneeling
    stand = max(reach - 1.9, 0.0) if height == "high" else 0.0
    if room.height < tall:
        return ""
    x, foot = frame.at(u, room.floor + stand)
    shoulder, hips, hand = (
        foot - 0.8 * tall * scale,
        foot - 0.45 * tall * scale,
        frame.at(u, room.floor + reach)[1],
    )
    body = {"stroke": INK, "stroke_width": max(0.2 * scale, 5.0), "stroke_linecap": "round", "fill": "none",
            "stroke_linejoin": "round"}  # fmt: skip
    limb = {**body, "stroke_width": max(0.11 * scale, 3.5)}
    if height == "low":
        legs = f"M{x:.1f} {hips:.1f}L{x + 0.2 * scale:.1f} {foot - 3:.1f}H{x - 0.35 * scale:.1f}"
    else:
        legs = f"M{x:.1f} {hips:.1f}L{x - 0.12 * scale:.1f} {foot:.1f}M{x:.1f} {hips:.1f}L{x + 0.12 * scale:.1f} {foot:.1f}"
    steps = ""
    if stand:
        steps = rect(
            x - 0.28 * scale,
            foot,
            0.56 * scale,
            stand * scale,
            fill="#fff",
            stroke=QUIET,
            stroke_width=2,
        )
    return (
        steps
        + path(f"M{x:.1f} {shoulder:.1f}V{hips:.1f}", **body)
        + path(legs, **limb)
        + line(x, shoulder, x + 0.6 * scale, hand, **limb)
        + circle(x, foot - 0.93 * tall * scale, 0.13 * scale, fill=INK)
    )
