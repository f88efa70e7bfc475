"""The base of every panel: settings, message line, reset, fallback, closing."""

from dataclasses import dataclass

import pytest
from ipywidgets.widgets.widget import _instances

from airlab.panels import BalloonPanel, Dial, HousePanel, Panel, base, choice, tick
from airlab.plots import svg
from airlab.words import InputError, mm, require_between


@dataclass(frozen=True, slots=True)
class Half:
    """A record for the test: half of a length."""

    length: float

    def sentence(self, units="metric"):
        """Return the record in words."""
        return f"Half of it is {self.length / 2:g} m <in {units}>."


class HalfPanel(Panel):
    """The smallest panel."""

    title = "Half & half"

    def __init__(self):
        self.drawn = 0
        super().__init__(
            building={"length": Dial("Length", 10.0, 1.0, 50.0, step=1.0, unit="mm")},
            openings={"kind": choice("Kind", [("round one", "round"), ("slot", "slot")])},
            driver={"taped": tick("Taped")},
            more={"scale": Dial("Scale", 10.0, 0.1, 1000.0, log=True)},
            job="My <house>",
        )

    def compute(self, length, kind, taped, scale):
        if kind == "slot" and taped:
            raise RuntimeError("a fault of ours")
        return Half(require_between("length", length, mm(1), mm(50), "m"))

    def picture(self, record, **settings):
        self.drawn += 1
        return svg.drawing(100, 80, f"Half is {record.length / 2}", svg.circle(50, 40, 10))


def test_the_first_sentences_lead_and_the_rest_is_lighter():
    assert base._led("Short. Also short.") == ("Short. Also short.", "")
    long = "It reads 3.2 /h at 50 Pa. That is under the limit of 4 and over the aim you set."
    assert base._led(f"{long} More. Still more.") == (long, " More. Still more.")
    assert base._led("") == ("", "")


def test_shows_the_first_record_at_once():
    panel = HalfPanel()
    assert panel.value == Half(mm(10))
    assert panel.sentence == "Half of it is 0.005 m <in metric>."
    assert (
        '<p role="status"><strong>Half of it is 0.005\N{NO-BREAK SPACE}m &lt;in metric&gt;.</strong></p>'
        in panel._result.value
    )
    assert 'role="img"' in panel._picture.value
    assert "My &lt;house&gt;" in panel._head.value


def test_a_slider_drag_a_typed_number_and_code_agree():
    panel = HalfPanel()
    dial = panel.controls["length"]
    dial.slider.value = 20.0
    assert (dial.box.value, dial.value, panel.value.length) == (20.0, 0.02, 0.02)
    dial.box.value = 30.0
    assert (dial.slider.value, panel.value.length) == (30.0, 0.03)
    panel.set(length=mm(40))
    assert (dial.slider.value, dial.box.value) == (40.0, 40.0)
    assert panel.drawn == 4  # the start and three moves: no echo redraws


def test_a_number_beyond_the_slider_reaches_the_model_and_its_answer_is_read():
    panel = HalfPanel()
    panel.controls["length"].box.value = 60.0
    assert "Length is 0.06 m" in panel.message
    assert "last good values" in panel.message
    assert panel.value == Half(mm(10)), "the last good record stays"
    panel.controls["length"].box.value = 20.0
    assert panel.message == ""


def test_set_is_loud_in_code():
    panel = HalfPanel()
    with pytest.raises(InputError, match="no control 'lenght'"):
        panel.set(lenght=1.0)
    with pytest.raises(InputError, match="Length is"):
        panel.set(length=mm(70))
    assert "Length is" in panel.message


def test_a_fault_of_ours_is_said_and_raised():
    panel = HalfPanel()
    panel.controls["kind"].value = "slot"
    with pytest.raises(RuntimeError):
        panel.controls["taped"].value = True
    assert "not your doing" in panel.message


def test_several_settings_redraw_once_and_reset_brings_the_start_back():
    panel = HalfPanel()
    panel.set(length=mm(20), kind="slot", scale=3.0)
    assert panel.drawn == 2
    panel._buttons.children[0].click()
    assert panel.settings == {"length": 0.01, "kind": "round", "taped": False, "scale": 10.0}
    assert panel.value == Half(mm(10))


def test_log_dial_steps_by_factors_and_rounds_what_is_shown():
    dial = Dial("Scale", 10.0, 0.1, 1000.0, log=True)
    dial.slider.value = 12.58925
    assert dial.box.value == 12.6
    dial.box.value = 5000.0
    assert dial.value == 5000.0
    assert dial.slider.value == pytest.approx(1000.0)


@pytest.mark.parametrize("log", [False, True])
def test_a_slider_that_snaps_on_the_page_leaves_the_typed_number(log):
    dial = Dial("Area", 450.0, 10.0, 3000.0, step=0.02 if log else 20.0, unit="cm2", log=log)
    dial.slider.value = 457.088 if log else 450.0 + 9.9
    assert dial.box.value == 450.0
    dial.slider.value = 478.63 if log else 470.0
    assert dial.box.value == (479.0 if log else 470.0)
    assert dial.value == pytest.approx(dial.box.value * 1e-4)


def test_not_running_it_still_says_its_sentence_and_shows_a_still_picture():
    bundle = HalfPanel()._repr_mimebundle_()
    assert bundle["text/plain"].startswith("Half of it is 0.005 m")
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert "<svg" not in bundle["text/html"]
    assert 'alt="Half is 0.005"' in bundle["text/html"]
    assert "&lt;in metric&gt;" in bundle["text/html"]


def test_at_most_five_controls_in_sight_and_more_folded():
    class Crowded(HalfPanel):
        def __init__(self):
            Panel.__init__(self, building={str(i): tick(str(i)) for i in range(6)})

    with pytest.raises(InputError, match="6 controls"):
        Crowded()
    panel = HalfPanel()
    assert panel._more_box.layout.display == "none"
    panel._more.value = True
    assert panel._more_box.layout.display is None


def test_projector_view_is_a_switch():
    panel = HalfPanel()
    panel.projector()
    assert "airlab-projector" in panel._dom_classes
    assert panel._buttons.children[1].description == "Back to the page"
    panel.projector()
    assert "airlab-projector" not in panel._dom_classes


def test_running_a_cell_again_closes_what_it_left(monkeypatch):
    run = {"now": ("cell-1", 1)}
    monkeypatch.setattr(base, "_running_cell", lambda: run["now"])
    first, twin = HalfPanel(), HalfPanel()
    run["now"] = ("cell-2", 2)
    other = HalfPanel()
    run["now"] = ("cell-1", 3)
    again = HalfPanel()
    closed = [panel.comm is None for panel in (first, twin, other, again)]
    assert closed == [True, True, False, False]


@pytest.mark.parametrize("kind", [HalfPanel, BalloonPanel, HousePanel])
def test_close_leaves_nothing_behind_also_of_what_is_out_of_sight(kind):
    held = set(_instances)
    kind().close()
    assert set(_instances) == held
