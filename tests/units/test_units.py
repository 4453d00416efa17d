"""Units against their definitions, and refusals a person can act on.

Exact by definition: inch 25.4 mm and avoirdupois pound 0.453 592 37 kg (international yard and
pound agreement of 1959), standard gravity 9.806 65 m/s² (3rd CGPM, 1901; ISO 80000-3). The
decimal values of lbf and psi are those of NIST Special Publication 811 (2008), appendix B.8.
"""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.units import BARE, FACTORS, parse

INCH = Fraction(254, 10)
POUND_FORCE = Fraction(45359237, 10**8) * Fraction(980665, 10**5)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("1 in", "length", INCH),
        ('1"', "length", INCH),
        ("12 inches", "length", 12 * INCH),
        ("1 ft", "length", 12 * INCH),
        ("1 mil", "length", INCH / 1000),
        ("35 thou", "length", 35 * INCH / 1000),
        ("1 um", "length", Fraction(1, 1000)),
        ("1 µm", "length", Fraction(1, 1000)),
        ("1 \u03bcm", "length", Fraction(1, 1000)),  # Greek letter, not the micro sign
        ("1,5 mm", "length", Fraction(3, 2)),
        (",5 mm", "length", Fraction(1, 2)),
        ("0,125 in", "length", INCH / 8),
        ("12,5 N", "force", Fraction(25, 2)),
        ("\u22122 N", "force", -2),
        ("1\u2033", "length", INCH),
        ("1 cm", "length", 10),
        ("1 m", "length", 1000),
        ("1 lbf", "force", POUND_FORCE),
        ("1 lb", "force", POUND_FORCE),
        ("16 ozf", "force", POUND_FORCE),
        ("1 kgf", "force", Fraction(980665, 10**5)),
        ("1000 gf", "force", Fraction(980665, 10**5)),
        ("1 kN", "force", 1000),
        ("1 mN", "force", Fraction(1, 1000)),
        ("1 psi", "stress", POUND_FORCE / INCH**2),
        ("1 ksi", "stress", 1000 * POUND_FORCE / INCH**2),
        ("1 kpsi", "stress", 1000 * POUND_FORCE / INCH**2),
        ("1 Mpsi", "stress", 10**6 * POUND_FORCE / INCH**2),
        ("1 GPa", "stress", 1000),
        ("1 kPa", "stress", Fraction(1, 1000)),
        ("1 Pa", "stress", Fraction(1, 10**6)),
        ("1 N/mm²", "stress", 1),
        ("1 N/mm2", "stress", 1),
        ("1 lbf/in", "rate", POUND_FORCE / INCH),
        ("1 lb/in", "rate", POUND_FORCE / INCH),
        ("1 kN/m", "rate", 1),
        ("1 N/m", "rate", Fraction(1, 1000)),
        ("60 rpm", "frequency", 1),
        ("2 kHz", "frequency", 2000),
        ("5 1/s", "frequency", 5),
        ("25 %", "number", Fraction(1, 4)),
        ("18.5", "number", Fraction(37, 2)),
        ("212 degF", "temperature", 100),
        ("32 °F", "temperature", 0),
        ("-40 F", "temperature", -40),
        ("273.15 K", "temperature", 0),
        ("20 °C", "temperature", 20),
    ],
)
def test_exact_definitions(text: str, kind: str, value: Fraction | int) -> None:
    assert parse(text, kind) == pytest.approx(float(value), rel=1e-15, abs=1e-13)


def test_published_decimals() -> None:
    assert parse("1 lbf", "force") == pytest.approx(4.4482216152605, rel=1e-14)
    assert parse("1 psi", "stress") == pytest.approx(6.894757e-3, rel=1e-7)
    assert parse("1 lbf/in", "rate") == pytest.approx(0.1751268, rel=3e-7)


def test_angles() -> None:
    assert parse("180 deg", "angle") == math.pi
    assert parse("90°", "angle") == math.pi / 2
    assert parse("0.5 turn", "angle") == math.pi
    assert parse("1.5 rad", "angle") == 1.5
    assert parse(180, "angle") == math.pi  # a bare number is in degrees


@pytest.mark.parametrize("kind", list(FACTORS))
def test_bare_numbers(kind: str) -> None:
    factor = FACTORS[kind][BARE[kind]]
    for value in (3, 3.0, "3", " 3 ", "3.0", "3e0", "+3", ".3e1"):
        assert parse(value, kind) == 3 * factor


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("1/8 in", Fraction(1, 8)),
        ("7/16 in", Fraction(7, 16)),
        ("1-7/16 in", Fraction(23, 16)),
        ("1 7/16 in", Fraction(23, 16)),
        ('2 1/2"', Fraction(5, 2)),
        ("3/32 inch", Fraction(3, 32)),
    ],
)
def test_fractions(text: str, inches: Fraction) -> None:
    assert parse(text, "length") == pytest.approx(float(inches * INCH), rel=1e-15)


def test_fraction_without_unit_is_in_the_bare_unit() -> None:
    assert parse("1/2", "length") == 0.5
    assert parse("18 1/2", "number") == 18.5


def test_spelling() -> None:
    for text in ("1.2mm", "1,2mm", "1,20 mm", "1.2 mm", "  1.2   mm ", "1.2\tmm", "1_2e-1 mm"):
        assert parse(text, "length") == 1.2


BAD = [
    math.nan,
    math.inf,
    -math.inf,
    10**400,
    -(10**400),
    10**10_000,
    "1e308 m",
    "1e999 mm",
    "-1e999 mm",
    "9" * 5000 + " mm",
    "nan",
    "inf mm",
    "infinity",
    "",
    "   ",
    "mm",
    "1.2.3 mm",
    "1,200 mm",
    "1,234.5 mm",
    "18 ga",
    "one mm",
    "1/0 in",
    "1 furlong",
    "25 N",
    "1 mm\n2 mm",
    "x" * 100_000,
    "1 " + "x" * 100_000,
    "0x10 mm",
    "1e mm",
    None,
    True,
    False,
    [],
    [1.2],
    {},
    {"a": 1},
    (1, 2),
    b"1 mm",
    1 + 2j,
    Decimal("1.2"),
    object(),
]


@pytest.mark.parametrize("value", BAD, ids=range(len(BAD)))
@pytest.mark.parametrize("kind", ["length", "temperature"])
def test_refused_in_one_short_line(value: object, kind: str) -> None:
    with pytest.raises(ValueError) as caught:
        parse(value, kind)
    message = str(caught.value)
    assert message
    assert "\n" not in message
    assert len(message) < 250


@pytest.mark.parametrize(
    ("value", "kind", "parts"),
    [
        ("25 N", "length", ["25 N", "force", "length", "1.2 mm"]),
        ("5 mm", "force", ["5 mm", "length", "force", "25 N"]),
        ("5 mm", "number", ["length", "number"]),
        ("1 mmm", "length", ["mmm", "did you mean", "'mm'"]),
        ("1 furlong", "length", ["furlong", "use one of", "inch"]),
        ("1 lbs", "force", ["lbs", "lb"]),
        (None, "length", ["nothing", "1.2 mm"]),
        ("", "length", ["length", "1.2 mm"]),
        ([1], "length", ["list", "1.2 mm"]),
        (True, "force", ["True", "25 N"]),
        (math.nan, "length", ["nan", "finite"]),
        ("1e999 mm", "length", ["1e999 mm", "finite"]),
        ("1e308 m", "length", ["1e308 m", "finite"]),
        (10**400, "length", ["huge", "finite"]),
        ("90 deg", "length", ["angle", "length"]),
    ],
)
def test_message_says_what_and_what_instead(value: object, kind: str, parts: list[str]) -> None:
    with pytest.raises(ValueError) as caught:
        parse(value, kind)
    for part in parts:
        assert part in str(caught.value)


@given(st.floats(allow_nan=False, allow_infinity=False, width=32))
def test_numbers_and_their_text_agree(value: float) -> None:
    for kind in ("length", "force", "rate"):
        assert parse(value, kind) == value
        assert parse(f"{value!r} {BARE[kind]}", kind) == value


@given(st.sampled_from([(k, u) for k, f in FACTORS.items() for u in f]), st.floats(-1e6, 1e6))
def test_every_unit_is_linear(which: tuple[str, str], value: float) -> None:
    kind, unit = which
    low, high, got = (parse(f"{x!r} {unit}", kind) for x in (0.0, 1.0, value))
    assert got == pytest.approx(low + value * (high - low), rel=1e-9, abs=1e-6)


@given(st.text(max_size=60), st.sampled_from(sorted(FACTORS)))
def test_any_text_is_a_number_or_a_clear_refusal(text: str, kind: str) -> None:
    refusal = ""
    try:
        assert math.isfinite(parse(text, kind))
    except ValueError as exc:
        refusal = str(exc)
    assert len(refusal.splitlines()) <= 1
    assert "could not convert" not in refusal
