"""What pydantic refuses, in our own findings: one line each, with the nearest valid word."""

from __future__ import annotations

import typing
from collections.abc import Sequence

from pydantic import BaseModel, ValidationError

from springgeo.findings import Finding, error, nearest

_WORDS = {
    "missing": ("missing-key", "is missing; add it"),
    "model_type": ("not-a-mapping", "needs a mapping of keys to values"),
    "tuple_type": ("not-a-list", "needs a list, for example [25 N, 40 N] or [5 lbf, 8 lbf]"),
    "string_type": ("not-a-text", "needs a text"),
    "string_unicode": ("hidden-character", "holds what is no character; leave it out"),
    "bool_type": ("not-a-flag", "needs true or false"),
    "bool_parsing": ("not-a-flag", "needs true or false"),
    "string_too_long": ("text-too-long", "is too long"),
    "string_too_short": ("text-empty", "must not be empty"),
    # with the numbers of the limit
    "greater_than": ("bad-value", "{shown} must be above {gt:g}"),
    "greater_than_equal": ("bad-value", "{shown} must be {ge:g} or more"),
    "less_than": ("bad-value", "{shown} must be below {lt:g}"),
    "less_than_equal": ("bad-value", "{shown} must be {le:g} or less"),
    "too_long": ("list-too-long", "has more than {max_length} entries; shorten the list"),
    "too_short": ("list-too-short", "needs {min_length} entries or more, {actual_length} given"),
}


def findings_of(
    exc: ValidationError,
    model: type[BaseModel],
    prefix: str = "",
) -> tuple[Finding, ...]:
    """Return one error finding per problem; ``prefix`` is put before each field's name."""
    return tuple(_finding(e, model, prefix) for e in exc.errors(include_url=False)[:20])


def _finding(e: typing.Any, model: type[BaseModel], prefix: str) -> Finding:
    path = [str(x) for x in e["loc"]]
    field = ".".join(([prefix] if prefix else []) + [p[:60] for p in path]) or "specification"
    kind = e["type"]
    if kind == "springgeo":
        return error(e["ctx"]["code"], e["ctx"]["field"] or field, e["ctx"]["message"])
    if kind == "extra_forbidden" and path[-1][:1].isdigit():
        text = (
            "is no key, but may be what follows a decimal comma; write a point (1.2 mm), or "
            "quotation marks round the value ('1,2 mm')"
        )
        return error("decimal-comma", field, text)
    if kind == "extra_forbidden":
        return error(
            "unknown-key", field, f"is not a key here; {nearest(path[-1], _keys(model, path[:-1]))}"
        )
    if kind == "value_error":
        return error("bad-value", field, str(e["ctx"]["error"]))
    if kind == "literal_error":
        choices = e["ctx"]["expected"].replace("'", "").replace(" or ", ", ").split(", ")
        shown = " ".join(str(e["input"])[:40].split())
        return error("unknown-choice", field, f"'{shown}' is not known; {nearest(shown, choices)}")
    if kind in _WORDS:
        code, words = _WORDS[kind]
        shown = " ".join(str(e["input"])[:40].split())
        return error(code, field, words.format(shown=shown, **e.get("ctx", {})))
    return error("bad-value", field, " ".join(e["msg"].split()))


def _keys(model: type[BaseModel], path: Sequence[str]) -> list[str]:
    for name in path:
        field = model.model_fields.get(name)
        kind = field.annotation if field else None
        inner = [
            x
            for x in (kind, *typing.get_args(kind))  # a model, or a model that may be left out
            if isinstance(x, type) and issubclass(x, BaseModel)
        ]
        if not inner:
            break
        model = inner[0]
    return list(model.model_fields)
