"""The desk in a notebook: the same page in a frame of the cell, asking this kernel."""

from __future__ import annotations

import asyncio
import tempfile
from functools import cache
from os import PathLike
from pathlib import Path
from typing import Any

from springgeo.computed import ComputedSpring
from springgeo.desk.desk import BadQuestionError, Desk
from springgeo.desk.lane import Answer
from springgeo.desk.page import page
from springgeo.desk.source import spring_of
from springgeo.optional import need
from springgeo.publish.atomic import atomic_write
from springgeo.report.document import asset


def live(spring: ComputedSpring, path: str | PathLike[str] | None = None) -> Any:
    """Return a widget that shows a spring at the desk; its ``spring`` is the one it stands at.

    Parameters
    ----------
    spring : ComputedSpring
    path : path, optional
        The file that is to hold the specification as it becomes: one that is there is opened as it
        stands. If left out, one of its own in a temporary folder.

    Raises
    ------
    MissingLibraryError
        anywidget is not installed.
    FileError
        The file cannot be written.
    """
    made = _kind()
    folder = tempfile.TemporaryDirectory(prefix="springgeo-") if path is None else None
    file = Path(folder.name) / "spring.yaml" if folder is not None else Path(str(path)).absolute()
    if not file.exists():
        atomic_write(file, spring.specification_text.encode("utf-8"))
    desk = Desk(file)
    return made(desk, folder)


@cache
def _kind() -> Any:
    Base: Any = need("anywidget", "a widget", "notebook").AnyWidget
    traitlets = need("traitlets", "a widget", "notebook")

    class LiveSpring(Base):  # type: ignore[misc]
        _esm = asset("widget.js", "springgeo.desk")
        document = traitlets.Unicode().tag(sync=True)

        def __init__(self, desk: Desk, folder: object) -> None:
            self.desk, self._folder = desk, folder
            super().__init__(document=page(desk.path.name, desk.reader(), "parent"))
            self.on_msg(self._asked)

        @property
        def spring(self) -> ComputedSpring:
            """The spring that the page stands at, as it is in its file."""
            self.desk.file.poll()
            return spring_of(self.desk.file.text, str(self.desk.path.parent), self.desk.path.name)

        def __repr__(self) -> str:
            # what stands in the cell where the notebook knows nothing of widgets
            return (
                f"<spring at the desk, {self.desk.path.name}: to see it, install anywidget "
                "where the notebook server runs too, and open the notebook anew>"
            )

        def close(self) -> None:
            """End the widget and what runs beside it."""
            self.desk.closing = True
            self.desk.close()
            super().close()

        def _asked(self, _widget: object, content: object, _buffers: object) -> None:
            try:
                asyncio.get_running_loop().create_task(self._answer(content))
            except RuntimeError:  # outside of a kernel nobody runs a loop
                asyncio.run(self._answer(content))

        async def _answer(self, content: object) -> None:
            asked = content if isinstance(content, dict) else {}
            answer: Answer
            try:
                answer = await self.desk.ask(asked.get("question"))
            except BadQuestionError as exc:
                answer = {"problem": str(exc)}
            self.send({"springgeo": asked.get("springgeo"), "answer": answer})

    return LiveSpring
