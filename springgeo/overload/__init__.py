"""Wire that yields: round sections beyond their elastic limit, set after an overload, springback.

The estimates of the trade's question "what happens if it was pulled too far?". The wire is taken
to be elastic-perfectly plastic from its published elastic limit on, unless a hardening is given.
"""

from springgeo.overload.springback import Bent, springback

__all__ = ["Bent", "springback"]
