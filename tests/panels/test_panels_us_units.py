"""Every panel of a US job, view by view: no metric unit is left but the few that are named here."""

import re
from html import unescape

import ipywidgets as widgets
import pytest
from matplotlib.text import Text
from us_units import left_over

from airlab.files import demo_job, save_settings, start_job
from airlab.panels import (
    BalloonPanel,
    BridgePanel,
    BudgetPanel,
    CheckDayPanel,
    CoverPanel,
    FanTestPanel,
    HousePanel,
    LiftCountPanel,
    LinePanel,
    OldAirPanel,
    OwnBenchPanel,
    PlanPanel,
    PracticePanel,
    RacePanel,
    SizesPanel,
    StartPanel,
    TargetPanel,
    TwoZonesPanel,
)
from airlab.plots.chart import Chart
from airlab.words import cm2, hazards, m3_per_h

WALKED = ("show", "look", "view", "step", "door", "drawing", "vessel", "given", "picture")


def job():
    settings = {"units": "us", "hazards": {one.key: "safe" for one in hazards()}}
    return save_settings(start_job("Our house"), **settings)


def day():
    panel = CheckDayPanel(job())
    panel.read(50.0, m3_per_h(690)).find("Hall, door", 2).read(50.0, m3_per_h(600))
    panel.make_hole(area=panel.desk.job.envelope[0].area, diameter=0.02)
    return panel


PANELS = {
    "balloon": lambda: BalloonPanel("us"), "race": lambda: RacePanel("us"),
    "bridge": lambda: BridgePanel("us"), "cover": lambda: CoverPanel("us"),
    "house": lambda: HousePanel("us").skip(), "old air": lambda: OldAirPanel("us"),
    "own bench": lambda: OwnBenchPanel("us"), "start": lambda: StartPanel("us"),
    "practice": lambda: PracticePanel(units="us"), "sizes": lambda: SizesPanel(job()),
    "target": lambda: TargetPanel(job()), "budget": lambda: BudgetPanel(job()),
    "line": lambda: LinePanel(job()), "lifts": LiftCountPanel,
    "plan": lambda: PlanPanel(job()), "zones": lambda: TwoZonesPanel(job()), "day": day,
    "fan test": lambda: FanTestPanel(job()),
}  # fmt: skip


def tree(one):
    yield one
    for child in getattr(one, "children", None) or ():
        yield from tree(child)


def words_of(panel):
    """Return every text of a panel: sentence, cards, drawings, alt texts, names, options."""
    texts = [panel.sentence, panel.message]
    for one in tree(panel):
        if isinstance(one, widgets.HTML):
            texts.append(re.sub(r'<img alt="([^"]*)"[^>]*>', r"\1 ", one.value))
        elif isinstance(one, widgets.Dropdown | widgets.RadioButtons):
            texts += [
                one.description,
                *(option[0] for option in one.options if isinstance(option, tuple)),
            ]
        else:
            texts += [getattr(one, "description", ""), getattr(one, "placeholder", "") or ""]
    return texts


@pytest.fixture
def drawn(monkeypatch):
    """Texts of the charts that are drawn: title, axes, names."""
    texts, draw = [], Chart.draw

    def kept(self, record, **view):
        done = draw(self, record, **view)
        texts.extend(one.get_text() for one in self.figure.findobj(Text) if one.get_visible())
        return done

    monkeypatch.setattr(Chart, "draw", kept)
    return texts


@pytest.mark.parametrize("name", PANELS)
def test_no_metric_unit_is_left_on_a_us_panel(name, drawn):
    panel = PANELS[name]()
    texts = words_of(panel)
    for one in tree(panel):
        if isinstance(one, widgets.Checkbox) and one.description.startswith(("More", "All holes")):
            one.value = True
    for control in [panel.controls[one] for one in WALKED if one in panel.controls]:
        for index in range(len(control.options)):
            control.index = index
            texts += words_of(panel)
    assert len(texts) > 10
    left = left_over([*texts, *drawn], demo_job())
    assert not left, "\n".join(left)


def boxes(panel):
    return {one.description: one.value for one in tree(panel) if isinstance(one, widgets.FloatText)}


@pytest.mark.parametrize("name", ["balloon", "race", "cover", "house", "start"])
def test_boxes_show_at_most_four_digits_in_us_units(name):
    panel = PANELS[name]()
    shown = boxes(panel)
    assert shown
    for words, value in shown.items():
        assert value == round(value) or len(f"{value:.10g}".strip("-0").replace(".", "").lstrip("0")) <= 4, words  # fmt: skip


def test_a_short_number_in_the_box_leaves_the_value_as_it_was():
    panel = CoverPanel("us")
    gaps = panel.controls["gaps"]
    gaps.value = cm2(2.0)
    assert gaps.box.value == 0.31 and gaps.value == cm2(2.0)
    gaps.box.value = 0.31
    assert gaps.value == pytest.approx(cm2(2.0), rel=1e-4)


def test_unescaped_words_are_looked_at():
    assert left_over([unescape("10 m&sup2; of wall")], demo_job())
