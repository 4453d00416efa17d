"""Ways to damage a file: flipped bits, cuts, splices, changes inside the layers of its format."""

from __future__ import annotations

import json
import random
import re
import struct
import zipfile
from collections.abc import Callable
from io import BytesIO
from typing import Any

# what a number, a reference or a value is replaced by
NUMBERS = ["0.", "-1.", "1.E+308", "1.E-308", "NaN", "INF", "9" * 40, "", "'x'", "#1", "$", "*"]
VALUES: list[Any] = [None, [], {}, "", "x", -1, 1e308, 10**400, True, [[[]]], {"a": {"a": 1}}]


def flipped(data: bytes, draw: random.Random) -> bytes:
    """Return the data with one to fifty bits flipped."""
    changed = bytearray(data)
    for _ in range(draw.choice([1, 1, 1, 3, 10, 50])):
        changed[draw.randrange(len(changed))] ^= 1 << draw.randrange(8)
    return bytes(changed)


def cut(data: bytes, draw: random.Random) -> bytes:
    """Return the start of the data, or all but a piece in the middle."""
    low = draw.randrange(len(data))
    if draw.random() < 0.5:
        return data[:low]
    return data[:low] + data[low + draw.randrange(1, 4000) :]


def spliced(data: bytes, draw: random.Random) -> bytes:
    """Return the data with a piece of itself, or of noise, put in or over another place."""
    size = draw.choice([1, 4, 30, 300, 3000])
    start, at = draw.randrange(len(data)), draw.randrange(len(data))
    piece = data[start : start + size] if draw.random() < 0.7 else draw.randbytes(size)
    return data[:at] + piece + data[at + (len(piece) if draw.random() < 0.6 else 0) :]


def _step(data: bytes, draw: random.Random) -> bytes:
    """Return STEP text with references, numbers or lines exchanged."""
    text = data.decode("ascii", "replace")
    for _ in range(draw.choice([1, 1, 2, 5, 20])):
        way = draw.random()
        if way < 0.45:
            found = list(re.finditer(r"#\d+", text))
            here, other = draw.choice(found), draw.choice(found)
            text = text[: here.start()] + other[0] + text[here.end() :]
        elif way < 0.75:
            here = draw.choice(list(re.finditer(r"-?\d+\.\d*(E[+-]\d+)?|(?<=,)\d+", text)))
            text = text[: here.start()] + draw.choice(NUMBERS) + text[here.end() :]
        elif way < 0.9:
            lines = text.split(";\n")
            del lines[draw.randrange(len(lines))]
            text = ";\n".join(lines)
        else:
            lines = text.split(";\n")
            a, b = draw.randrange(len(lines)), draw.randrange(len(lines))
            lines[a], lines[b] = lines[b].split("=")[0] + "=" + lines[a].split("=")[-1], lines[a]
            text = ";\n".join(lines)
    return text.encode("ascii", "replace")


def _json(data: bytes, draw: random.Random) -> bytes:
    """Return JSON text with values of other types, or keys gone."""
    try:
        document = json.loads(data)
    except ValueError:
        return flipped(data, draw)
    for _ in range(draw.choice([1, 1, 2, 5])):
        where: Any = document
        while isinstance(where, (dict, list)) and where:
            key = (
                draw.choice(list(where)) if isinstance(where, dict) else draw.randrange(len(where))
            )
            deeper = where[key]
            if not isinstance(deeper, (dict, list)) or not deeper or draw.random() < 0.2:
                if draw.random() < 0.2:
                    del where[key]
                else:
                    where[key] = draw.choice(VALUES)
                break
            where = deeper
    return json.dumps(document).encode()


def _glb(data: bytes, draw: random.Random) -> bytes:
    """Return a GLB file whose JSON was changed, its frame made to fit."""
    length = struct.unpack_from("<I", data, 12)[0]
    text = draw.choice([_json, flipped, spliced])(data[20 : 20 + length], draw)
    text += b" " * (-len(text) % 4)
    rest = data[20 + length :]
    head = struct.pack("<4sII", b"glTF", 2, 20 + len(text) + len(rest))
    return head + struct.pack("<I4s", len(text), b"JSON") + text + rest


def _threemf(data: bytes, draw: random.Random) -> bytes:
    """Return a 3MF package with one of its parts changed, packed anew."""
    with zipfile.ZipFile(BytesIO(data)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    name = draw.choice(list(parts))
    ways = [flipped, cut, spliced, *([_json] if name.endswith(".json") else [])]
    if parts[name]:
        parts[name] = draw.choice(ways)(parts[name], draw)
    buffer = BytesIO()
    with zipfile.ZipFile(buffer, "w", draw.choice([0, 8, 12, 14])) as archive:
        for part, content in parts.items():
            archive.writestr(part, content)
    return draw.choice([lambda d, _r: d, flipped])(buffer.getvalue(), draw)


INSIDE: dict[str, Callable[[bytes, random.Random], bytes]] = {
    ".step": _step,
    ".glb": _glb,
    ".3mf": _threemf,
    ".json": _json,
}


def damaged(data: bytes, kind: str, draw: random.Random) -> bytes:
    """Return a damaged file: half of the damage is inside the layers of its format."""
    if kind in INSIDE and draw.random() < 0.5:
        return INSIDE[kind](data, draw)
    return draw.choice([flipped, cut, spliced])(data, draw)
