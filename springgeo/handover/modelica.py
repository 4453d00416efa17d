"""Modelica: the curve as a function of the length, and as a translational element."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np

from springgeo.handover.table import LoadTable

_ROW = 4
_TEXT = """package {name} "{title}"
{comment}
  function load "Load, N, at a length inside hooks, m; straight between the points of the table"
    input Real length(unit = "m");
    output Real f(unit = "N");
  protected
    constant Integer n = {count};
    constant Real L[n] = {{
      {lengths}}};
    constant Real F[n] = {{
      {loads}}};
    Integer i;
  algorithm
    i := 1;
    while i < n - 1 and length > L[i + 1] loop
      i := i + 1;
    end while;
    f := if length <= L[1] then 0 else F[i] + (F[i + 1] - F[i])*(length - L[i])/(L[i + 1] - L[i]);
  end load;

  model Spring "Between two flanges; their distance and 'beside' make the length inside hooks"
    extends Modelica.Mechanics.Translational.Interfaces.PartialCompliant;
    parameter Real beside(unit = "m") = {beside} "Of a pin in each hook its radius";
  equation
    f = load(s_rel + beside);
  end Spring;
end {name};
"""


def modelica_text(
    table: LoadTable, name: str, words: Sequence[str], pins: tuple[float, float] = (0.0, 0.0)
) -> str:
    """Return the file: a package with the function ``load`` and the element ``Spring``.

    ``pins``, mm: diameters of pins between whose middles the element stands.
    """
    return _TEXT.format(
        name=package_name(name),
        title=_plain(name),
        comment="\n".join(f"  // {_plain(w)}" for w in words),
        count=len(table.length),
        lengths=_rows(table.length / 1000),
        loads=_rows(table.load),
        beside=f"{sum(pins) / 2000:.12g}",
    )


def package_name(stem: str) -> str:
    """Return a name for a package: ``gate-latch`` is ``GateLatch``."""
    word = "".join(w.capitalize() for w in re.split(r"[^A-Za-z0-9]+", stem))
    return word if word[:1].isalpha() else f"Spring{word}"


def _rows(values: np.ndarray) -> str:
    words = [f"{x:.12g}" for x in values.tolist()]
    return ",\n      ".join(", ".join(words[i : i + _ROW]) for i in range(0, len(words), _ROW))


def _plain(text: str) -> str:
    ascii_only = text.encode("ascii", "replace").decode("ascii")
    return "".join(c for c in ascii_only if c.isprintable() and c not in '"\\')
