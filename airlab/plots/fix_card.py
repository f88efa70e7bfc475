"""What does the advice on one leak look like: answer, material, wait, quantity, don'ts, its size?"""

from html import escape

from airlab.plots.day_html import table
from airlab.words import caution, display_unit, from_si, show

__all__ = ["fix_card"]

_SHEET = "The product's data sheet decides."
_HANDS_OFF = ("do not seal", "not yours to seal")
_MOST = 4


def fix_card(fix=None, size=None, length=None, groups=None, units="metric", problem=""):
    """Return the advice on the leak in hand as HTML; empty where nothing is asked.

    Parameters
    ----------
    fix : Fix or None
        How it is dealt with.
    size : LeakSize or None
        How much it passes.
    length : float or None
        Length of the joint. [m]
    groups : FixGroups or None
        Which fixes are proved together.
    units : str
        'metric' or 'us'.
    problem : str
        What could not be used.
    """
    parts = []
    if problem:
        parts.append(f'<p class="airlab-missing">{escape(problem)}</p>')
    if fix is not None:
        parts.append(_fix(fix, length, units))
    if size is not None:
        parts.append(f'<p class="airlab-stop">{escape(size.sentence(units))}</p>')
    if groups is not None and groups.groups:
        parts.append(f'<p class="airlab-stop">{escape(groups.sentence(units))}</p>')
    return f'<div class="airlab-fix">{"".join(parts)}</div>' if parts else ""


def _fix(fix, length, units):
    name = f"{fix.name[:1].upper()}{fix.name[1:]}"
    look = "none" if fix.answer in _HANDS_OFF else "wait" if fix.ready else "go"
    ready = "".join(f"<li>{escape(one)}</li>" for one in fix.ready)
    hands_off = fix.answer in _HANDS_OFF
    if hands_off:
        ready = f"<li>{escape(fix.prepare[:1].upper() + fix.prepare[1:])}.</li>"
        ready += f"<li>{escape(caution('fire_stopping').text)}</li>"
    parts = [
        f'<div class="airlab-verdict airlab-{look}"><p class="airlab-word">{escape(fix.answer)}</p>'
        f"<ul><li>{escape(name)}.</li>{ready}</ul></div>"
    ]
    if hands_off:
        return parts[0]
    rows = [
        (escape(one.material), one.verdict, f"{show(one.wait)} h" if one.wait else "none",
         _quantity(one, length, units), f"{escape(one.reason)} <small>{escape(one.origin)}</small>")
        for one in fix.options[:_MOST]
    ]  # fmt: skip
    heads = ("Material", "Here", "Wait before the re-check", "Quantity", "Why, from whom")
    parts.append(table("With what", heads, rows, look=" airlab-wrap"))
    more = f" {caution('cables').text}" if fix.case == "cable" else ""
    parts.append(
        f"<p><b>Prepare:</b> {escape(fix.prepare)}. <b>Mind:</b> {escape(fix.dont)}.{escape(more)} "
        f"<b>{_SHEET}</b></p>"
    )
    return "".join(parts)


def _quantity(option, length, units):
    if option.per == "item":
        return "1 item"
    if option.per == "m" and length is not None:
        unit = display_unit("m", units)
        return show(from_si(length, unit), unit)
    return {"m": "by its length", "m2": "by its area"}[option.per]
