"""YAML as untrusted input: no tags, no aliases, no duplicate keys, bounded size and depth.

Plain words are read by the core schema of YAML 1.2 and nothing more: null, true and false, decimal
numbers. So ``010`` is ten and not eight, ``1:30`` no number in sixties, ``no`` a word, and
``2024-05-01`` no date.
"""

from __future__ import annotations

import re
from collections.abc import Hashable
from typing import Any

import yaml

LARGEST = 1_000_000
DEEPEST = 20
# the reader, in Python for its checks, is slow: bounded, so that no file takes minutes
MOST = 30_000
# no quantity has as many; Python itself refuses to read whole numbers of more than 4300
_DIGITS = 1000


class _Loader(yaml.SafeLoader):
    """Safe loader that also refuses what a specification never needs."""

    yaml_implicit_resolvers: dict[str, list[tuple[str, re.Pattern[str]]]] = {}  # noqa: RUF012 - as the base declares it
    depth = 0
    count = 0

    def compose_node(self, parent: yaml.Node | None, index: int) -> yaml.Node | None:
        here: Any = self  # the stubs leave peek_event without types
        event = here.peek_event()
        if isinstance(event, yaml.events.AliasEvent):
            raise _refusal(event, "aliases (*name) are not supported; write it out")
        if event.tag is not None:
            raise _refusal(event, f"tags ({event.tag[:40]}) are not supported; leave it out")
        self.depth += 1
        self.count += 1
        if self.depth > DEEPEST:
            raise _refusal(event, f"is nested deeper than {DEEPEST} levels")
        if self.count > MOST:
            raise _refusal(event, f"holds more than {MOST} values; split it, or use a table")
        node = super().compose_node(parent, index)
        self.depth -= 1
        return node

    def construct_mapping(self, node: yaml.MappingNode, deep: bool = False) -> dict[Hashable, Any]:
        """Return a mapping; its keys are texts, as written."""
        found: dict[Hashable, Any] = {}
        for key, value in node.value:
            if not isinstance(key, yaml.ScalarNode):
                raise _refusal(key, "a list or mapping cannot be a key; write a word")
            name = str(key.value)
            if name in found:
                raise _refusal(key, f"key '{name[:60]}' is given twice; keep one of them")
            found[name] = self.construct_object(value, deep=deep)
        return found

    def construct_yaml_int(self, node: yaml.ScalarNode) -> int:
        """Return a whole number, decimal whatever it begins with."""
        if len(node.value) > _DIGITS:
            raise _refusal(node, f"a number of {len(node.value)} digits is not readable here")
        return int(node.value)


_Loader.add_constructor("tag:yaml.org,2002:int", _Loader.construct_yaml_int)
for _tag, _form, _first in (
    ("null", r"~|null|Null|NULL|", ["~", "n", "N", ""]),
    ("bool", r"true|True|TRUE|false|False|FALSE", list("tTfF")),
    ("int", r"[-+]?[0-9]+", list("-+0123456789")),
    (
        "float",
        r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?|[-+]?\.(?:inf|Inf|INF)"
        r"|\.(?:nan|NaN|NAN)",
        list("-+.0123456789"),
    ),
):
    _Loader.add_implicit_resolver(f"tag:yaml.org,2002:{_tag}", re.compile(f"(?:{_form})$"), _first)


def parse_own(text: str) -> dict[str, Any]:
    """Return the mapping of one of the package's own data files: trusted, so by the fast parser."""
    data = yaml.load(text, getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    assert isinstance(data, dict)
    return data


def _refusal(node: yaml.Node | yaml.Event, words: str) -> yaml.MarkedYAMLError:
    mark: Any = node.start_mark  # the fast parser's own kind, by the stubs
    return yaml.MarkedYAMLError(problem=words, problem_mark=mark)


def parse_yaml(text: str) -> dict[str, Any]:
    """Return the mapping a YAML text holds.

    Raises
    ------
    ValueError
        In one line: too large, not YAML (with line and column), not a mapping, or something
        refused above.
    """
    if len(text) > LARGEST:
        raise ValueError(f"is larger than {LARGEST} characters")
    try:
        data = yaml.load(text, _Loader)
    except yaml.MarkedYAMLError as exc:
        mark = exc.problem_mark
        where = f"line {mark.line + 1}, column {mark.column + 1}: " if mark else ""
        raise ValueError(f"{where}{_words(exc)}") from None
    except yaml.reader.ReaderError as exc:
        line = text.count("\n", 0, exc.position) + 1
        raise ValueError(f"line {line}: has the character {_code(exc)}; leave it out") from None
    except RecursionError:
        raise ValueError(f"is nested deeper than {DEEPEST} levels") from None
    except (ValueError, OverflowError) as exc:  # an escape such as \\UFFFFFFFF names no character
        raise ValueError(f"is not readable YAML: {exc}") from None
    if not isinstance(data, dict):
        raise ValueError("needs a mapping at the top: keys with values")
    return data


def _words(exc: yaml.MarkedYAMLError) -> str:
    if exc.problem and r"character '\t'" in exc.problem:
        return "a tab stands where YAML wants spaces; use spaces"
    return str(exc.problem or exc.context or "is not readable YAML")


def _code(exc: yaml.reader.ReaderError) -> str:
    code = exc.character if isinstance(exc.character, int) else ord(str(exc.character)[:1] or "?")
    return f"U+{code:04X}"
