"""The wire in finite elements along the one centreline, and how it is pulled."""

from springgeo.elements.choice import KINDS, Elements, Kind
from springgeo.elements.job import Deck
from springgeo.elements.swept import FACES
from springgeo.elements.wire import MeshedWire

__all__ = ["FACES", "KINDS", "Deck", "Elements", "Kind", "MeshedWire"]
