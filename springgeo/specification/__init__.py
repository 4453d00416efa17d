"""The specification: frozen models of what a designer writes down.

Ground floor; end parameters are validated by their style, in ``springgeo.ends``.
"""

from springgeo.specification.body import Body, ResolvedBody
from springgeo.specification.service import Service
from springgeo.specification.specification import EndChoice, Ends, Spec
from springgeo.specification.wire import Wire

__all__ = ["Body", "EndChoice", "Ends", "ResolvedBody", "Service", "Spec", "Wire"]
