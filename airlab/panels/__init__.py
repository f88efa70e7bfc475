"""Panels: controls on one side, the picture and the result in words on the other.

A panel hands settings to the floors below and shows what comes back; it does no arithmetic.
"""

from airlab.panels.balloon import BalloonPanel
from airlab.panels.base import Panel
from airlab.panels.bridge import BridgePanel
from airlab.panels.budget import BudgetPanel
from airlab.panels.check_day import CheckDayPanel
from airlab.panels.class_board import ClassBoardPanel
from airlab.panels.controls import Dial, choice, tick
from airlab.panels.cover import CoverPanel
from airlab.panels.desk import Desk
from airlab.panels.exercises import ExercisesPanel
from airlab.panels.fan_test import FanTestPanel
from airlab.panels.health import HealthPanel, safety_first
from airlab.panels.house50 import HousePanel
from airlab.panels.job_chooser import JobPanel
from airlab.panels.line import LinePanel
from airlab.panels.line_count import LiftCountPanel
from airlab.panels.living import LivingPanel
from airlab.panels.old_air import OldAirPanel
from airlab.panels.own_bench import OwnBenchPanel
from airlab.panels.plan import PlanPanel
from airlab.panels.plan_zones import TwoZonesPanel
from airlab.panels.practice import PracticePanel
from airlab.panels.race import RacePanel
from airlab.panels.sizes import SizesPanel
from airlab.panels.start import StartPanel
from airlab.panels.table_editor import TableEditor
from airlab.panels.target import TargetPanel
from airlab.panels.teach import TeachPanel

__all__ = [
    "BalloonPanel",
    "BridgePanel",
    "BudgetPanel",
    "CheckDayPanel",
    "ClassBoardPanel",
    "CoverPanel",
    "Desk",
    "Dial",
    "ExercisesPanel",
    "FanTestPanel",
    "HealthPanel",
    "HousePanel",
    "JobPanel",
    "LiftCountPanel",
    "LinePanel",
    "LivingPanel",
    "OldAirPanel",
    "OwnBenchPanel",
    "Panel",
    "PlanPanel",
    "PracticePanel",
    "RacePanel",
    "SizesPanel",
    "StartPanel",
    "TableEditor",
    "TargetPanel",
    "TeachPanel",
    "TwoZonesPanel",
    "choice",
    "safety_first",
    "tick",
]
