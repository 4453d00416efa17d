"""A specification with some of its values changed: by dotted key, as a file writes them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from springgeo.errors import refused
from springgeo.specification.end_names import spelled_key
from springgeo.specification.load import spec_of
from springgeo.specification.specification import Spec

# forms of one thing: a new one takes the place of the others
FORMS = (
    {"body.mean_diameter", "body.outer_diameter", "body.inner_diameter", "body.index"},
    {"body.initial_tension", "body.initial_stress"},
    {"body.pitch", "body.gap", "body.coil_clearance"},
    {"ends.angle", "ends.facing"},
    {"making.test_load", "making.test_length"},
    {"mating.first.pin", "mating.first.plate", "mating.first.stud"},
    {"mating.second.pin", "mating.second.plate", "mating.second.stud"},
)


def changed(spec: Spec, values: Mapping[str, object]) -> Spec:
    """Return a specification with other values.

    Parameters
    ----------
    spec : Spec
    values : mapping of str to value
        Keys such as ``wire.diameter`` or ``ends.first``; a value is what a file may hold there, a
        text with its unit included. None takes the key away. Another form of one thing, such as
        ``body.index`` for ``body.mean_diameter``, takes the old one's place; another
        ``ends.first.style`` leaves the parameters of the old style behind.

    Raises
    ------
    SpecError
        The result is no specification, or a key lies below a value.
    """
    data = spec.model_dump(mode="json", exclude_none=True)
    data |= {"units": spec.units, "language": spec.language}
    for key, value in ((spelled_key(k), v) for k, v in values.items()):
        for forms in FORMS:
            if key in forms and value is not None:
                for other in forms - {key, *map(spelled_key, values)}:
                    _put(data, other, None)
        if key in ("ends.first.style", "ends.second.style"):
            _put(data, key.removesuffix(".style"), {"style": value})
        else:
            _put(data, key, value)
    return spec_of(data)


def _put(data: dict[str, Any], key: str, value: Any) -> None:
    *path, last = key.split(".")
    for part in path:
        if value is None and part not in data:
            return
        data = data.setdefault(part, {})
        if not isinstance(data, dict):
            text = "lies below a value that has no keys; give the whole of it"
            raise refused("bad-key", key[:60], text)
    if value is None:
        data.pop(last, None)
    else:
        data[last] = value
