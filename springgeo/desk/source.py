"""A spring from a text on the desk: nothing is read beside the file's own folder."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from springgeo.computed import ComputedSpring
from springgeo.desk.edited import parsed
from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.materials.library import is_path
from springgeo.specification.load import spec_of
from springgeo.text.kinds import require_kind

# springs kept between questions about the same text: as it is, as it was, and on the way
KEPT = 4


@lru_cache(maxsize=KEPT)
def spring_of(text: str, folder: str, name: str) -> ComputedSpring:
    """Return the spring of a text.

    Parameters
    ----------
    text : str
    folder : str
        Where its file lies: a material of the user's own must lie there or below.
    name : str
        Of the file, for messages.

    Raises
    ------
    SpecError
        It describes no spring that can be made.
    """
    data = parsed(text)
    require_kind(data, "specification", name)
    spec = spec_of(data)
    named = spec.wire.material
    if isinstance(named, str) and is_path(named):
        place = Path(folder).resolve()
        own = (place / named).resolve()
        if not own.is_relative_to(place):
            words = f"'{named[:60]}' lies outside the file's folder; put the material beside it"
            raise SpecError(error("material-outside", "wire.material", words))
        wire = spec.wire.model_copy(update={"material": str(own)})
        spec = spec.model_copy(update={"wire": wire})
    return ComputedSpring(spec, text)
