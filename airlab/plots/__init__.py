"""Pictures: a record in, a drawing or a chart out.

Things are drawn as SVG strings (`svg`), curves as charts on one kept figure (`Chart`); colours and
sizes come from `style`. Nothing here computes a result.
"""

from airlab.plots.chart import Chart, encode_png

__all__ = ["Chart", "encode_png"]
