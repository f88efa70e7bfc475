"""Panels: controls on one side, the picture and the result in words on the other.

A panel hands settings to the floors below and shows what comes back; it does no arithmetic.
"""

from airlab.panels.base import Panel
from airlab.panels.controls import Dial, choice, tick

__all__ = ["Dial", "Panel", "choice", "tick"]
