"""Quantities as people write them ("0.035 in", "5.25 lbf") to the numbers used inside.

Inside: mm, N, MPa, N/mm, rad, °C, Hz, kg. A bare number is already in the unit named by
``BARE``: the inside unit, except for angles, which are degrees on paper.
Factors: international inch 25.4 mm and pound 0.453 592 37 kg, standard gravity
9.806 65 m/s² (ISO 80000-3/-4; exact by definition).
"""

from __future__ import annotations

import math
import re

from springgeo.findings import nearest

_LBF = 0.45359237 * 9.80665
_INCH = 25.4
_PSI = _LBF / _INCH**2

FACTORS: dict[str, dict[str, float]] = {
    "length": {
        "mm": 1.0,
        "cm": 10.0,
        "m": 1000.0,
        "um": 1e-3,
        "µm": 1e-3,
        "in": _INCH,
        "inch": _INCH,
        "inches": _INCH,
        '"': _INCH,
        "mil": 0.0254,
        "thou": 0.0254,
        "ft": 304.8,
    },
    "force": {
        "N": 1.0,
        "mN": 1e-3,
        "kN": 1e3,
        "lbf": _LBF,
        "lb": _LBF,
        "ozf": _LBF / 16,
        "kgf": 9.80665,
        "gf": 9.80665e-3,
    },
    "stress": {
        "MPa": 1.0,
        "Pa": 1e-6,
        "kPa": 1e-3,
        "GPa": 1e3,
        "N/mm2": 1.0,
        "N/mm²": 1.0,
        "psi": _PSI,
        "ksi": 1e3 * _PSI,
        "kpsi": 1e3 * _PSI,
        "Mpsi": 1e6 * _PSI,
    },
    "rate": {"N/mm": 1.0, "N/m": 1e-3, "kN/m": 1.0, "lbf/in": _LBF / _INCH, "lb/in": _LBF / _INCH},
    "angle": {
        "deg": math.pi / 180,
        "°": math.pi / 180,
        "degree": math.pi / 180,
        "degrees": math.pi / 180,
        "rad": 1.0,
        "turn": 2 * math.pi,
    },
    "frequency": {"Hz": 1.0, "1/s": 1.0, "kHz": 1e3, "rpm": 1 / 60},
    "number": {"": 1.0, "%": 0.01},
    "temperature": {
        "degC": 1.0,
        "°C": 1.0,
        "C": 1.0,
        "degF": 5 / 9,
        "°F": 5 / 9,
        "F": 5 / 9,
        "K": 1.0,
    },
}
# after the number of a gauge: not units, but rows of a table (`springgeo.materials.gauges`)
GAUGE_WORDS = frozenset({"ga", "ga.", "gauge", "gage", "swg", "mwg"})
_OFFSETS = {"degF": -32.0, "°F": -32.0, "F": -32.0, "K": -273.15}
BARE = {
    "length": "mm",
    "force": "N",
    "stress": "MPa",
    "rate": "N/mm",
    "angle": "deg",
    "frequency": "Hz",
    "number": "",
    "temperature": "degC",
}

_NUMBER = re.compile(r"([-+]?(?:\d[\d_]*[.,]?\d*|[.,]\d+)(?:[eE][-+]?\d+)?)\s*(.*)", re.DOTALL)
# three figures after a comma may be thousands, unless a nought stands before it
_THOUSANDS = re.compile(r"[-+]?[1-9]\d{0,2},\d{3}")
# one sign for each: the Greek mu, and the typographer's minus and inch marks
_SIGNS = str.maketrans({"\u03bc": "\u00b5", "\u2212": "-", "\u2033": '"', "\u201d": '"'})
_FRACTION = re.compile(r"(?:(\d{1,6})[ -])?(\d{1,6})/(\d{1,6})\s*(.*)", re.DOTALL)


def parse(value: object, kind: str) -> float:
    """Return ``value`` as a float in the inside unit of ``kind``.

    Parameters
    ----------
    value : float or str
        A number (in ``BARE[kind]``) or a number followed by a unit; inches may be fractions
        such as "1-7/16 in".
    kind : str
        A key of ``FACTORS``.

    Raises
    ------
    ValueError
        Not a finite number, or not a unit of this kind; says which units are.
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise ValueError(f"needs {_wanted(kind)}, not {_shown(value)}")
    if isinstance(value, str):
        magnitude, unit = split(value, _wanted(kind))
        unit = unit or BARE[kind]
    else:
        magnitude, unit = _as_float(value), BARE[kind]
    factors = FACTORS[kind]
    if unit not in factors:
        if kind == "length" and unit.casefold() in GAUGE_WORDS:
            raise ValueError(f"'{_clip(value)}' is a wire gauge; give this length in mm or in")
        other = next((k for k, f in FACTORS.items() if unit in f and unit), None)
        if other:
            raise ValueError(f"'{_clip(value)}' is {_article(other)}, but this is {_wanted(kind)}")
        raise ValueError(f"unit '{_clip(unit)}' is not known here; {nearest(unit, factors)}")
    result = (magnitude + _OFFSETS.get(unit, 0.0)) * factors[unit]
    if not math.isfinite(result):
        raise ValueError(f"'{_clip(value)}' is not a finite number")
    return result


def split(text: str, wanted: str) -> tuple[float, str]:
    """Return the number a text begins with and the unit after it, which may be empty.

    A decimal comma is read; ``1,200`` could be thousands too, and is refused.

    Parameters
    ----------
    text : str
    wanted : str
        What is asked for, for the refusal: "a length such as '1.2 mm'".

    Raises
    ------
    ValueError
        No number, or an ambiguous one.
    """
    plain = text.translate(_SIGNS).strip()
    fraction = _FRACTION.fullmatch(plain)
    if fraction and int(fraction[3]):
        whole, top, bottom, unit = fraction.groups()
        return int(whole or 0) + int(top) / int(bottom), unit.strip()
    number = _NUMBER.fullmatch(plain)
    if not number:
        raise ValueError(f"needs {wanted}, not {_shown(text)}")
    digits, unit = number[1].replace("_", ""), number[2].strip()
    if "," in digits and (unit[:1] in (".", ",") or _THOUSANDS.fullmatch(digits)):
        raise ValueError(
            f"'{_clip(text)}' could be thousands or a decimal comma; write it with a point, or "
            "without the comma"
        )
    return float(digits.replace(",", ".")), unit


def _as_float(value: float) -> float:
    try:
        result = float(value)
    except OverflowError:
        result = math.inf
    if not math.isfinite(result):
        raise ValueError(f"{_clip(value)} is not a finite number")
    return result


def _wanted(kind: str) -> str:
    example = {
        "length": "'1.2 mm' or '0.047 in'",
        "force": "'25 N' or '5.6 lbf'",
        "stress": "'800 MPa' or '116 ksi'",
        "rate": "'2 N/mm' or '11.4 lbf/in'",
        "angle": "'90 deg'",
        "frequency": "'10 Hz'",
        "temperature": "'20 degC' or '68 degF'",
    }.get(kind)
    return f"{_article(kind)} such as {example}" if example else "a number"


def _article(kind: str) -> str:
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"


def _clip(value: object) -> str:
    # str() of a huge integer raises by default; repr of a long text is of no use to a reader
    if isinstance(value, int) and abs(value) > 10**30:
        return "a huge integer"
    text = " ".join(str(value).split())
    return text if len(text) <= 40 else text[:37] + "..."


def _shown(value: object) -> str:
    if value is None:
        return "nothing (empty)"
    if isinstance(value, dict | list | tuple):
        return "a list or mapping"
    return f"'{_clip(value)}'"
