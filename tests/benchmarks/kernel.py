"""Move sliders in a real kernel and time value to picture: our panels and `interact`."""

from jupyter_client.manager import start_new_kernel

SETUP = """
import time
%matplotlib inline
import ipywidgets, numpy as np, matplotlib.pyplot as plt
from airlab.files import demo_job
from airlab.panels import (BalloonPanel, BridgePanel, CoverPanel, FanTestPanel, HousePanel,
                           LivingPanel, OldAirPanel, RacePanel)
from airlab.physics import Balloon, RoundHole, drain
from airlab.words import mm, to_si
from airlab.files import open_weather
from airlab.in_use import LivedHouse, side_by_side
from airlab.plots.living import daily_rate

def replot(x):
    record = drain(Balloon(), RoundHole.from_diameter(mm(x)))
    figure, (top, bottom) = plt.subplots(2, 1, figsize=(8, 4.5), sharex=True)
    top.plot(record.time, record.volume, label="volume"); top.legend(); top.grid(True)
    bottom.plot(record.time, record.flow, label="flow"); bottom.legend(); bottom.grid(True)
    plt.show()

def replot_year(n50):
    year = side_by_side(LivedHouse(310.0, to_si(310.0 * n50, "m3/h"), envelope_area=301.0), open_weather()).engine
    figure, axes = plt.subplots(figsize=(8, 4))
    axes.plot(daily_rate(year), label="leaks"); axes.axhline(0.36, label="asked for")
    axes.axhline(n50 / 20, label="n50 / 20"); axes.legend(); axes.grid(True)
    plt.show()

year_yard = ipywidgets.interactive(replot_year, n50=ipywidgets.FloatSlider(value=2.0, min=0.5, max=10.0))
display(year_yard)
yard = ipywidgets.interactive(replot, x=ipywidgets.FloatSlider(value=2.0, min=0.5, max=10.0))
display(yard)
panels = {"balloon": BalloonPanel().skip(), "house": HousePanel().skip(),
          "fan test": FanTestPanel(demo_job()), "race": RacePanel().skip(),
          "four volumes": BridgePanel(), "covering": CoverPanel(), "old air": OldAirPanel(),
          "year": LivingPanel(demo_job())}
for one in panels.values():
    display(one)

def timed(work, values):
    spent = []
    for value in values:
        start = time.perf_counter(); work(value); spent.append(time.perf_counter() - start)
    return sorted(spent)[len(spent) // 2]

def yardstick(name, step):
    slider = (year_yard if name == "year" else yard).children[0]
    return timed(lambda v: setattr(slider, "value", v),
                 [2.0 + 0.1 * (step + k) for k in range(1, 9)])

def panel(name, step):
    one = panels[name]
    key, low, span = {"balloon": ("diameter", 0.20, 0.12), "house": ("volume", 200.0, 400.0),
                      "fan test": ("moved", -0.12, 0.24), "race": ("left_diameter", 0.20, 0.12),
                      "four volumes": ("small", 100.0, 300.0), "covering": ("leak", 1e-3, 9e-3),
                      "old air": ("after", 60.0, 3000.0), "year": ("leak", 1.0, 4.0)}[name]
    return timed(lambda v: setattr(one.controls[key], "value", v),
                 [low + span * ((k * 0.13 + step * 0.017) % 1.0) for k in range(1, 13)])
"""

PANELS = ("balloon", "house", "fan test", "race", "four volumes", "covering", "old air", "year")


def move_sliders(rounds):
    """Yield (panel name, our seconds, yardstick seconds), taking turns in one kernel."""
    manager, client = start_new_kernel(kernel_name="python3")

    def run(code, expression=None):
        wanted = {"it": expression} if expression else {}
        asked = client.execute(code, user_expressions=wanted, store_history=False)
        while True:
            heard = client.get_shell_msg(timeout=120)
            if (
                heard["parent_header"].get("msg_id") != asked
            ):  # a late answer to an earlier question
                continue
            reply = heard["content"]
            if reply["status"] == "error":
                raise RuntimeError("\n".join(reply["traceback"]))
            return float(reply["user_expressions"]["it"]["data"]["text/plain"]) if wanted else None

    try:
        run(SETUP)
        for name in PANELS:
            ours, theirs = [], []
            for step in range(rounds + 1):
                ours.append(run("", f"panel({name!r}, {step})"))
                theirs.append(run("", f"yardstick({name!r}, {step})"))
            yield name, ours[1:], theirs[1:]
    finally:
        client.stop_channels()
        manager.shutdown_kernel(now=True)
