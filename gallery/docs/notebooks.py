"""A notebook executed, and shown as a page."""

from __future__ import annotations

import html
from pathlib import Path
from typing import Any

import nbformat


def page(path: Path, *, run: bool = True) -> str:
    """Return a notebook as Markdown with its outputs; raises CellExecutionError."""
    notebook = nbformat.read(path, as_version=4)
    if run:
        from nbclient import NotebookClient

        NotebookClient(notebook, timeout=300, kernel_name="python3").execute()
    parts = []
    for cell in notebook.cells:
        if cell.cell_type == "markdown":
            parts.append(cell.source)
        elif cell.cell_type == "code":
            parts.append(f"```python\n{cell.source}\n```")
            parts += [_output(o) for o in cell.outputs]
    return "\n\n".join(parts) + "\n"


def _output(output: Any) -> str:
    if output.output_type == "stream":
        return _text(output.text)
    data = output.get("data", {})
    for kind in ("image/svg+xml", "text/html"):
        if kind in data:
            # blank lines would end the block of HTML
            lines = "".join(data[kind]).splitlines()
            return f"<div>{''.join(line for line in lines if line.strip())}</div>"
    return _text("".join(data.get("text/plain", "")))


def _text(text: str) -> str:
    return f"<pre>{html.escape(text.rstrip())}</pre>".replace("\n\n", "\n \n")
