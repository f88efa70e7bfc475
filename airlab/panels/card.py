"""Panels whose card holds tables, lists and doors: the base with their style added."""

from pathlib import Path

from airlab.panels.base import Panel

__all__ = ["CardPanel"]

_STYLE = Path(__file__).with_name("card.css")


class CardPanel(Panel):
    """A panel with tables, answers, notes or doors in its card."""

    def _head_html(self):
        return f"{super()._head_html()}<style>{_STYLE.read_text(encoding='utf-8')}</style>"
