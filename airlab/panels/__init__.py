"""Panels: controls on one side, the picture and the result in words on the other.

A panel hands settings to the floors below and shows what comes back; it does no arithmetic.
"""

from airlab.panels.balloon import BalloonPanel
from airlab.panels.base import Panel
from airlab.panels.controls import Dial, choice, tick
from airlab.panels.house50 import HousePanel

__all__ = ["BalloonPanel", "Dial", "HousePanel", "Panel", "choice", "tick"]
