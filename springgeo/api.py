"""The one façade: a ``Spring`` that computes, shows, checks and writes itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self, TypedDict, Unpack

from springgeo.computed import ComputedSpring
from springgeo.files.publish.naming import DEFAULT_FORMATS
from springgeo.specification.change import changed
from springgeo.specification.load import read_preset_text, read_spec_text, spec_of
from springgeo.state import State
from springgeo.text.quantity import Units
from springgeo.text.shown import Language

if TYPE_CHECKING:
    from springgeo.elements import Elements
    from springgeo.files.publish.bundle import Bundle
    from springgeo.files.publish.detail import Detail
    from springgeo.handover import LoadTable
    from springgeo.specification.making import Paper


class BuildOptions(TypedDict, total=False):
    """What is built, and how: the options of `Spring.build`, all but who is told of it."""

    formats: Sequence[str]
    states: Sequence[str | State]
    detail: Detail
    elements: Elements | None
    overwrite: bool


class Spring(ComputedSpring):
    """A spring from a validated specification: what ``ComputedSpring`` answers, and files of it.

    Made by `from_file`, `from_preset`, `from_dict`, or ``Spring(spec)``.
    """

    @classmethod
    def from_file(cls, path: str | PathLike[str]) -> Self:
        """Return the spring a YAML file describes; raises FileError or SpecError."""
        spec, text = read_spec_text(path)
        return cls(spec, text)

    @classmethod
    def from_preset(cls, name: str) -> Self:
        """Return one of the embedded example springs; raises SpecError."""
        spec, text = read_preset_text(name)
        return cls(spec, text)

    @classmethod
    def from_dict(cls, data: Mapping[str, object]) -> Self:
        """Return the spring a mapping describes, as a YAML file would hold it."""
        return cls(spec_of(data))

    def with_(self, values: Mapping[str, object] | None = None, /, **changes: object) -> Self:
        """Return the spring with some values of its specification changed.

        ``spring.with_(wire__diameter=1.4)``: two underscores stand for the dot of a key;
        ``spring.with_({"ends.first.bend_radius": "2 mm"})`` says the same with the keys of a file.
        A value is what a file may hold, None takes the key away, and another form of one thing
        (``body__index`` for ``mean_diameter``) takes the old one's place. Raises SpecError.
        """
        new = {key.replace("__", "."): value for key, value in changes.items()}
        return type(self)(changed(self.spec, {**(values or {}), **new}))

    def export(
        self, folder: str | PathLike[str], **options: Unpack[BuildOptions]
    ) -> tuple[Path, ...]:
        """Build, check and write; return the files written, all of them or none.

        Arguments, and what is raised, as for `build`.
        """
        return self.build(folder, **options).files

    def build(
        self,
        folder: str | PathLike[str],
        *,
        formats: Sequence[str] = DEFAULT_FORMATS,
        states: Sequence[str | State] = (),
        detail: Detail = "exact",
        elements: Elements | None = None,
        overwrite: bool = True,
        told: Callable[[str], object] = lambda _step: None,
    ) -> Bundle:
        """Build, check and write; return the files and the summary of what was built.

        Parameters
        ----------
        folder : path
            Made if missing.
        formats : sequence of str
            step, stl, 3mf, glb, obj, ply, brep, inp, vtu, msh, or a plug-in's; the summary as
            JSON is always written.
        states : sequence of str or State
            ``free``, a load (25N), a length (60mm), or states of this spring; the free spring
            if left out. With states a manifest is written.
        detail : "exact", "light" or "envelope"
            Fewer triangles, or only the space taken up.
        elements : Elements, optional
            Kind and size of the finite elements of inp, vtu and msh.
        told : callable
            Is told every step: for a display of progress.

        Raises
        ------
        SpecError
            A format or a state is unknown, or a state cannot be reached.
        BuildError
            A check on the finished solid failed; nothing is written.
        FileError
            The folder cannot be written, or a file exists and ``overwrite`` is false.
        """
        from springgeo.files.publish.bundle import export_bundle

        return export_bundle(
            self.model,
            Path(folder),
            overwrite=overwrite,
            say=told,
            formats=formats,
            states=[state.as_named() for state in self.named_states(states)],
            detail=detail,
            elements=elements,
            summary=self.summary(),
        )

    def report(
        self,
        path: str | PathLike[str],
        *,
        units: Units | None = None,
        language: Language | None = None,
    ) -> Path:
        """Write one offline HTML page and return its path: 3-D view, diagrams, tables.

        Units and language are those of the specification if left out; raises FileError.
        """
        from springgeo.report import write

        return write(self.unasked(), path, self.shown_in(units, language))

    def note(
        self,
        path: str | PathLike[str],
        *,
        units: Units | None = None,
        language: Language | None = None,
    ) -> Path:
        """Write the calculation note as PDF, HTML or Markdown and return its path.

        Units and language are those of the specification if left out. Raises FileError for another
        ending or a file that cannot be written, MissingLibraryError for a PDF without the extra
        ``note``.
        """
        from springgeo.note import write

        return write(self, path, self.shown_in(units, language, typeset=True))

    def explore(
        self,
        path: str | PathLike[str],
        vary: Mapping[str, Sequence[object]],
        *,
        units: Units | None = None,
        language: Language | None = None,
        told: Callable[[str], object] = lambda _step: None,
    ) -> Path:
        """Write one offline HTML page with a slider for each varied value, and return its path.

        ``vary``: one to three keys of the specification, each with the values that its slider
        goes through, ``{"wire.diameter": ["1 mm", "1.1 mm"]}``; every combination is computed
        before. Raises SpecError and FileError.
        """
        from springgeo.desk.explore import explored
        from springgeo.publish.atomic import atomic_write

        text = explored(self, vary, self.shown_in(units, language), told)
        atomic_write(path, text.encode("utf-8"))
        return Path(path)

    def live(self, path: str | PathLike[str] | None = None) -> Any:
        """Return a widget for a notebook: the spring at the desk; needs the extra ``notebook``.

        Arguments, and what is raised, as for `springgeo.desk.widget.live`.
        """
        from springgeo.desk.widget import live

        return live(self, path)

    def curve(
        self,
        path: str | PathLike[str],
        *,
        load: float | None = None,
        length: float | None = None,
        pins: tuple[float, float] = (0.0, 0.0),
        told: Callable[[str], object] = lambda _step: None,
    ) -> LoadTable:
        """Write the load curve as CSV, JSON, MJCF (.xml) or Modelica (.mo); return its points.

        Straight lines between the points stay within 0.1 % of the load.

        Parameters
        ----------
        path : path
        load, length : float, N or mm
            How far it goes, one of them at most; to the travel stop, or to the highest working
            load where that is further, if left out.
        pins : (float, float), mm
            Diameters of the pins: MJCF and Modelica then count from middle to middle.
        told : callable
            Is told every step: for a display of progress.

        Raises
        ------
        SpecError
            A value is out of range, or no state is found so far.
        FileError
            The name has another ending, or the file cannot be written.
        """
        from springgeo.handover import write

        return write(self.unasked(), Path(path), load=load, length=length, pins=pins, told=told)

    def draw(
        self,
        path: str | PathLike[str],
        *,
        paper: Paper | None = None,
        units: Units | None = None,
        language: Language | None = None,
        both_units: bool = False,
    ) -> tuple[Path, ...]:
        """Write the sheet for the spring maker as PDF, SVG, DXF or PNG; return the files.

        What one sheet cannot hold goes on to further ones: pages of a PDF, else files such as
        ``sheet-2.svg``. ``paper`` is that of the specification, or A4, if left out; with
        ``both_units`` the other system stands in brackets behind.

        Raises
        ------
        FileError
            The name has another ending, or the file cannot be written.
        MissingLibraryError
            The extra ``drawing`` is not installed.
        """
        from springgeo.drawing.write import write_drawing

        shown = self.shown_in(units, language, both_units=both_units, typeset=True)
        return write_drawing(self.model, self.summary(), Path(path), paper, shown)

    def making(
        self,
        path: str | PathLike[str],
        *,
        paper: Paper | None = None,
        tolerance: float = 0.01,
        units: Units | None = None,
        language: Language | None = None,
        both_units: bool = False,
    ) -> tuple[Path, ...]:
        """Write how the spring is made as PDF, SVG, DXF, PNG, JSON or CSV; return the files.

        Bends, arbor, inspection list; ``tolerance``, mm, is how far the wire bent by the table
        may come out. The rest, and what is raised, as for `draw`.
        """
        from springgeo.drawing.write_making import write_making

        shown = self.shown_in(units, language, both_units=both_units, typeset=True)
        return write_making(self.model, self.summary(), Path(path), paper, tolerance, shown)
