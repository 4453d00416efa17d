"""NumPy docstrings as Markdown: signature, text, and a list for each section."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator
from typing import Any

_HEAD = re.compile(r"^(\w[\w ]*)\n-{3,}$", re.MULTILINE)
# sections whose items are a name, perhaps a type, and what is indented below
_LISTS = ("Parameters", "Attributes", "Returns", "Yields", "Raises", "Warns")
_WIDE = 84


def described(name: str, member: Any) -> str:
    """Return a member of a class, or a function: its signature if it has one, and its text."""
    function = inspect.unwrap(getattr(member, "__func__", member))
    parts = []
    if inspect.isfunction(function):
        parts.append(f"```python\n{signature(name, function)}\n```")
    return "\n\n".join([*parts, *text(inspect.getdoc(member) or "")])


def signature(name: str, function: Any) -> str:
    """Return a call as it is written, without ``self``; long ones with a line for each argument."""
    found = inspect.signature(function)
    given = [p for p in found.parameters.values() if p.name not in ("self", "cls")]
    words, alone = [], False
    for p in given:
        if p.kind is p.VAR_POSITIONAL:
            alone = True
        if p.kind is p.KEYWORD_ONLY and not alone:
            words.append("*")
            alone = True
        words.append(_argument(p))
    answer = "" if found.return_annotation is found.empty else f" -> {found.return_annotation}"
    line = f"{name}({', '.join(words)}){answer}"
    if len(line) <= _WIDE:
        return line
    return f"{name}(\n" + "".join(f"    {w},\n" for w in words) + f"){answer}"


def _argument(p: inspect.Parameter) -> str:
    stars = {p.VAR_POSITIONAL: "*", p.VAR_KEYWORD: "**"}.get(p.kind, "")
    kind = "" if p.annotation is p.empty else f": {p.annotation}"
    default = ""
    if p.default is not p.empty:
        # what a default function does is in the text; its address is another one every time
        value = "..." if callable(p.default) else repr(p.default)
        default = f"{' = ' if kind else '='}{value}"
    return f"{stars}{p.name}{kind}{default}"


def text(doc: str) -> Iterator[str]:
    """Yield a docstring's paragraphs, and its sections as lists."""
    pieces = _HEAD.split(doc)
    yield from _paragraphs(pieces[0])
    for head, body in zip(pieces[1::2], pieces[2::2], strict=True):
        yield f"**{head}**"
        if head in _LISTS:
            yield "\n".join(_items(body.strip("\n")))
        else:
            yield from _paragraphs(body)


def _paragraphs(body: str) -> Iterator[str]:
    for paragraph in re.split(r"\n\s*\n", body.strip("\n")):
        if paragraph.lstrip().startswith(">>>"):
            yield f"```python\n{inspect.cleandoc(paragraph)}\n```"
        elif paragraph.strip():
            yield _escaped(" ".join(paragraph.split()))


def _items(body: str) -> Iterator[str]:
    """Yield a line for each item: names, type, and what is said of it."""
    for item in re.split(r"\n(?=\S)", body):
        head, _, rest = item.partition("\n")
        names, _, kind = head.partition(" : ")
        shown = ", ".join(f"`{n.strip()}`" for n in names.split(","))
        yield f"- {shown}" + (f" ({_escaped(kind)})" if kind else "") + _told(rest)


def _told(rest: str) -> str:
    words = " ".join(rest.split())
    return f": {_escaped(words)}" if words else ""


def _escaped(words: str) -> str:
    """Return words in which nothing but code is marked up."""
    parts = re.split(r"(``.+?``|`.+?`)", words)
    return "".join(
        p if k % 2 else re.sub(r"([*_<])", r"\\\1", p).replace("\\<", "&lt;")
        for k, p in enumerate(parts)
    )
