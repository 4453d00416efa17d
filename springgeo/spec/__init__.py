"""The specification: frozen models of what a designer writes down.

Ground floor; end parameters are validated by their style, in ``springgeo.ends``.
"""

from springgeo.spec.body import Body, ResolvedBody
from springgeo.spec.service import Service
from springgeo.spec.specification import EndChoice, Ends, Spec
from springgeo.spec.wire import Wire

__all__ = ["Body", "EndChoice", "Ends", "ResolvedBody", "Service", "Spec", "Wire"]
