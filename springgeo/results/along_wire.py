"""Stress and rate from the centreline."""

from __future__ import annotations

from springgeo.results.facts import Facts
from springgeo.results.handbook import Stresses
from springgeo.results.place import Place


class WirePeak(Facts):
    """The greatest stress of one kind in one region, per newton of load, and where it is.

    ``region`` is ``body``, ``A`` (loops), ``B`` (bends) or ``elsewhere``; ``kind`` is ``shear``
    (Tresca/2), ``axial`` or ``von_mises``; MPa/N; ``s`` in mm from the first end's cut; ``angle``
    in deg round the wire from the side of the centre of curvature. ``near`` is what the wire is
    like there: ``smooth``, ``joint``, ``short bend``, or ``beyond`` what was measured; there the
    stress was off finite elements by ``error_low`` to ``error_high`` per cent.
    """

    region: str
    kind: str
    per_newton: float
    label: str
    s: float
    angle: float
    near: str
    error_low: float
    error_high: float


class WireStresses(Facts):
    """Stress under a load by the centreline's own statics: N, MPa.

    ``verdict`` says what would fail first by this method alone; the summary's verdict weighs both.
    """

    load: float
    body_shear: float
    hook_bending: float | None
    hook_torsion: float | None
    von_mises: float
    margin: Stresses
    governing: str
    place: Place | None
    verdict: str


class WirePoint(WireStresses):
    """The same at a working point, whose length is known, mm."""

    length: float
    deflection: float


class AlongTheWire(Facts):
    """Stress and rate from the centreline, beside the handbook's.

    ``compliance`` says what share of the deflection each piece gives, mm/N.
    """

    rate: float
    rate_difference_percent: float
    poisson: float
    compliance: dict[str, float]
    peaks: tuple[WirePeak, ...]
    points: tuple[WirePoint, ...]
