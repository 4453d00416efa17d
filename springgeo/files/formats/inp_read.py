"""Nodes, hexahedra and what a deck written by this package says of itself."""

from __future__ import annotations

import re

import numpy as np

from springgeo.curve.frame import Array
from springgeo.elements.quality import volume
from springgeo.files.formats.inp_heading import SHAPE
from springgeo.text.json_value import Json
from springgeo.text.safe_json import parse_json

_NODES = {"C3D20R": 20, "C3D8I": 8}


def read_inp(data: bytes) -> tuple[float, Array, dict[str, Json], str]:
    """Return volume, mm³, box ``(2, 3) mm``, what the deck says of its shape, and a digest.

    Raises
    ------
    ValueError, KeyError, IndexError, TypeError
        Not a deck of this package, of beams, or damaged.
    """
    text = data.decode("ascii", "replace")
    digest = re.search(r"^\*\* springgeo .*summary=([0-9a-f]{16})$", text, re.MULTILINE)
    stated = re.search(rf"^{re.escape(SHAPE)}(.*)$", text, re.MULTILINE)
    if digest is None or stated is None:
        raise ValueError("an input deck, but not one of springgeo: its comments name no summary")
    kind, _ = _card(text, r"\*ELEMENT, TYPE=(\w+)")
    if kind not in _NODES:
        raise ValueError("a deck of beams has no volume to be checked")
    nodes = _table(_card(text, r"\*(NODE), NSET")[1], 4)
    cards = re.findall(rf"^\*ELEMENT, TYPE={kind},[^\n]*\n([^*]*)", text, re.MULTILINE)
    tables = [_table(rows, 1 + _NODES[kind]) for rows in cards]
    elements = np.concatenate(tables)[:, 1:].astype(np.intp) - 1
    if not np.array_equal(nodes[:, 0], np.arange(1, len(nodes) + 1)):
        raise ValueError("its nodes are not numbered from 1 on")
    if not (elements.size and elements.min() >= 0 and elements.max() < len(nodes)):
        raise ValueError("an element names a node that is not there")
    place = nodes[:, 1:]
    used = place[: int(elements.max()) + 1]
    box = np.array([used.min(axis=0), used.max(axis=0)])
    whole, least = volume(place, elements)
    if not least > 0:
        raise ValueError("an element of it is folded")
    return whole, box, parse_json(stated[1]), digest[1]


def _card(text: str, head: str) -> tuple[str, str]:
    """Return the word in a card's first line, and its lines of data."""
    found = re.search(rf"^{head}[^\n]*\n", text, re.MULTILINE)
    if found is None:
        raise ValueError("it holds no nodes, or no elements")
    end = text.find("\n*", found.end() - 1)
    return found[1], text[found.end() : end if end >= 0 else len(text)]


def _table(text: str, width: int) -> Array:
    numbers = np.array(
        text.replace(",\n", ",").replace("\n", ",").strip(",").split(","), dtype=float
    )
    if numbers.size % width:
        raise ValueError("a line of it is cut short")
    return numbers.reshape(-1, width)
