"""An exchange structure of ISO 10303-21 read as text, by nothing but the standard's own grammar."""

import re

_TOKEN = re.compile(r"'(?:[^']|'')*'|#\d+|[^'#;]+|;")


def entities(text):
    """Return number to (text without line breaks, what it refers to) of the data section."""
    data = text[text.index("\nDATA;\n") + 7 : text.rindex("ENDSEC;")]
    found, body, refs = {}, [], []
    for token in _TOKEN.findall(data):
        if token == ";":
            number = refs.pop(0)
            assert number not in found, f"#{number} is there twice"
            found[number] = "".join(body).replace("\n", "").partition("=")[2].strip(), refs
            body, refs = [], []
            continue
        body.append(token)
        if token[0] == "#":
            refs.append(int(token[1:]))
    return found
