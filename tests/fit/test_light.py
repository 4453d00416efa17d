"""The fit needs no kernel: importing and running it loads neither cadquery nor OCP."""

from __future__ import annotations

import subprocess
import sys

CODE = """
import sys
from springgeo import Spring
from springgeo.fit import Mating, EndMate, Pin, fit
import springgeo.fit.mechanism
pin = EndMate(pin=Pin(diameter=7, length=20))
fit(Spring.from_preset("gate-latch"), Mating(first=pin), states=2)
print(sorted({"OCP", "cadquery", "matplotlib"} & set(sys.modules)))
"""


def test_nothing_heavy_is_loaded() -> None:
    done = subprocess.run([sys.executable, "-c", CODE], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
