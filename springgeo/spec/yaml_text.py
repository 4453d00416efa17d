"""YAML as untrusted input: no tags, no aliases, no duplicate keys, bounded size and depth."""

from __future__ import annotations

from typing import Any

import yaml

from springgeo.errors import SpecError
from springgeo.findings import error

LARGEST = 1_000_000
DEEPEST = 20


class _Loader(yaml.SafeLoader):
    """Safe loader that also refuses what a specification never needs."""

    depth = 0

    def compose_node(self, parent: Any, index: Any) -> Any:
        if self.check_event(yaml.events.AliasEvent):
            raise _refusal(self.peek_event(), "aliases (*name) are not supported; write it out")
        self.depth += 1
        if self.depth > DEEPEST:
            raise _refusal(self.peek_event(), f"is nested deeper than {DEEPEST} levels")
        node = super().compose_node(parent, index)
        self.depth -= 1
        return node

    def construct_mapping(self, node: Any, deep: bool = False) -> dict[Any, Any]:
        seen: set[str] = set()
        for key, _ in node.value:
            name = str(getattr(key, "value", ""))
            if name in seen:
                raise _refusal(key, f"key '{name[:60]}' is given twice; keep one of them")
            seen.add(name)
        return super().construct_mapping(node, deep)


def _refusal(node: Any, words: str) -> yaml.MarkedYAMLError:
    return yaml.MarkedYAMLError(problem=words, problem_mark=node.start_mark)


def read_yaml(text: str, source: str) -> dict[str, Any]:
    """Return the mapping a YAML text holds; ``source`` names it in messages.

    Raises
    ------
    SpecError
        Not YAML, not a mapping, or something refused above; with line and column.
    """
    if len(text) > LARGEST:
        raise _problem(source, f"is larger than {LARGEST} characters")
    try:
        data = yaml.load(text, _Loader)
    except yaml.MarkedYAMLError as exc:
        mark = exc.problem_mark
        where = f"line {mark.line + 1}, column {mark.column + 1}: " if mark else ""
        raise _problem(source, f"{where}{exc.problem}") from None
    except (yaml.YAMLError, ValueError, OverflowError, RecursionError) as exc:
        raise _problem(source, f"is not readable YAML: {exc}") from None
    if not isinstance(data, dict):
        raise _problem(source, "needs a mapping at the top: keys such as wire, body, ends")
    return {str(k): v for k, v in data.items()}


def _problem(source: str, words: str) -> SpecError:
    return SpecError(error("bad-yaml", source, " ".join(words.split())[:300]))
