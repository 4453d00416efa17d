"""YAML as untrusted input: no tags, no aliases, no duplicate keys, bounded size and depth."""

from __future__ import annotations

from typing import Any

import yaml

LARGEST = 1_000_000
DEEPEST = 20


class _Loader(yaml.SafeLoader):
    """Safe loader that also refuses what a specification never needs."""

    depth = 0

    def compose_node(self, parent: Any, index: Any) -> Any:
        here: Any = self  # the stubs leave peek_event without types
        if self.check_event(yaml.events.AliasEvent):
            raise _refusal(here.peek_event(), "aliases (*name) are not supported; write it out")
        self.depth += 1
        if self.depth > DEEPEST:
            raise _refusal(here.peek_event(), f"is nested deeper than {DEEPEST} levels")
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


def parse_own(text: str) -> dict[str, Any]:
    """Return the mapping of one of the package's own data files: trusted, so by the fast parser."""
    data = yaml.load(text, getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    assert isinstance(data, dict)
    return data


def _refusal(node: Any, words: str) -> yaml.MarkedYAMLError:
    return yaml.MarkedYAMLError(problem=words, problem_mark=node.start_mark)


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
        raise ValueError(f"{where}{exc.problem}") from None
    except (yaml.YAMLError, ValueError, TypeError, OverflowError, RecursionError) as exc:
        raise ValueError(f"is not readable YAML: {exc}") from None
    if not isinstance(data, dict):
        raise ValueError("needs a mapping at the top: keys with values")
    return {str(k): v for k, v in data.items()}
