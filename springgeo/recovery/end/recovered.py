"""What was recovered of one end."""

from __future__ import annotations

from dataclasses import dataclass

from springgeo.recovery.value import Value


@dataclass(frozen=True)
class RecoveredEnd:
    """One end.

    Attributes
    ----------
    style : str
    equal : tuple of str
        Other styles that agree with the points as well.
    values : mapping of str to Value
        Parameters of the style, and what was built of them: r1, r2, opening.
    known : bool
        Whether the wire is that of a style; else its raw centreline was kept.
    off : float
        Share of the points beyond the body that lie on no part of the wire, 0 to 1.
    unseen : float, mm
        Length of wire without points.
    missing : float, mm
        Of it, what the style's wire goes on beyond the last points of the end.
    broken : tuple of str
        Styles that agree as well up to where the points end, in more usual proportions, but whose
        wire goes on.
    wide : bool
        Whether it lies further open than its style is made with.
    """

    style: str
    equal: tuple[str, ...]
    values: dict[str, Value]
    known: bool
    off: float
    unseen: float
    missing: float = 0.0
    broken: tuple[str, ...] = ()
    wide: bool = False
