"""One page about one spring: a single HTML file that needs no network.

>>> import springgeo as sg
>>> from springgeo import report
>>> report.write(sg.Spring.from_preset("gate-latch"), "spring.html")  # doctest: +SKIP
"""

from springgeo.report.page import page
from springgeo.report.write import write

__all__ = ["page", "write"]
