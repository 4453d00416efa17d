"""The documentation: its code runs, its commands exist, it builds without a warning."""

from __future__ import annotations

import importlib
import json
import re
from pathlib import Path

import pytest
import yaml

import springgeo as sg
from springgeo import materials
from springgeo.cli.main import run
from springgeo.specification.load import spec_of
from springgeo.spring.model import SpringModel
from springgeo.trade.limits import limits
from tests.springs import kept
from tests.verification import CHECKS, Recorder

DOCS = Path(__file__).parents[2] / "gallery" / "docs"
PAGES = sorted((DOCS / "pages").rglob("*.md"))
_FENCE = re.compile(r"^```(\w+)\n(.*?)^```", re.DOTALL | re.MULTILINE)
BLOCKS = [
    (page.stem, kind, code)
    for page in PAGES
    for kind, code in re.findall(
        r"^```(\w+)\n(.*?)^```", page.read_text(encoding="utf-8"), re.S | re.M
    )
]
PYTHON = [(name, code) for name, kind, code in BLOCKS if kind == "python"]
YAML = [(name, code) for name, kind, code in BLOCKS if kind == "yaml"]
COMMANDS = sorted(
    {
        line.strip()
        for _, kind, code in BLOCKS
        if kind == "sh"
        for line in code.splitlines()
        if line.strip().startswith("springgeo ")
    }
)


@pytest.mark.usefixtures("forgotten")
@pytest.mark.parametrize(("name", "code"), PYTHON, ids=[n for n, _ in PYTHON])
def test_python_runs(name: str, code: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    exec(compile(code, name, "exec"), {"__name__": "docs"})


@pytest.mark.parametrize(("name", "text"), YAML, ids=[n for n, _ in YAML])
def test_files_can_be_read(name: str, text: str, tmp_path: Path) -> None:
    data = yaml.safe_load(text)
    if "tensile" in data:
        file = tmp_path / "my-wire.yaml"
        file.write_text(text, encoding="utf-8")
        assert materials.get(str(file)).tensile(1.0).minimum > 0
    else:
        assert SpringModel.of(spec_of(data))


@pytest.mark.parametrize("line", COMMANDS)
def test_commands_and_their_options_exist(line: str, capsys: pytest.CaptureFixture[str]) -> None:
    command = line.split()[1]
    assert run([command, "--help"]) == 0
    text = capsys.readouterr().out
    for option in re.findall(r"(?<= )(--?[a-z][\w-]*)", line):
        assert option in text, option


def test_every_page_is_in_the_navigation() -> None:
    listed = set(re.findall(r": (\S+\.md)$", (DOCS / "mkdocs.yml").read_text(), re.M))
    written = {p.relative_to(DOCS / "pages").as_posix() for p in PAGES}
    tutorials = {f"tutorials/{p.stem}.md" for p in (DOCS / "tutorials").glob("*.ipynb")}
    assert written | tutorials <= listed


def test_every_field_of_a_specification_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Words, unit or choices and default for each; a picture for each section that has a shape."""
    monkeypatch.syspath_prepend(str(DOCS))
    page = importlib.import_module("specification_page")
    sections, told = page.sections(), page.fields()
    assert {k: set(v["properties"]) for k, v in sections.items()} == {
        k: set(v) for k, v in told.items()
    }
    for path, part in sections.items():
        rows = list(page.rows(path, part["properties"]))
        assert all(all(row) for row in rows), path
        assert path == "" or "." in path or page.picture(path), path
    named = {words[1] for part in told.values() for words in part.values() if len(words) > 1}
    free = re.compile(r"^$|\d|above |below ")
    assert all(x in limits() or free.match(x) for x in named), named


def test_tutorials_are_kept_without_outputs() -> None:
    for file in (DOCS / "tutorials").glob("*.ipynb"):
        for cell in json.loads(file.read_text(encoding="utf-8"))["cells"]:
            assert not cell.get("outputs")


def test_the_verification_manual_is_of_these_tests_and_all_hold() -> None:
    rows = json.loads((DOCS / "verification.json").read_text(encoding="utf-8"))["comparisons"]
    assert {f"tests/{r['test'].partition('::')[0]}" for r in rows} <= set(CHECKS)
    assert len(rows) > 300
    assert all(r["holds"] for r in rows)
    assert [r["test"] for r in rows if not r["what"]] == []
    assert all(abs(r["found"] - r["expected"]) <= r["tolerance"] * (1 + 1e-9) for r in rows)


def test_a_comparison_is_written_down_as_it_is_made() -> None:
    log = Recorder()

    class Item:
        nodeid = "tests/somewhere/test_it.py::test_it"
        function = test_a_comparison_is_written_down_as_it_is_made
        module = None

    log.pytest_runtest_setup(Item)
    try:
        assert pytest.approx(2.001, rel=1e-2) == 2.0
        assert pytest.approx(3.0, rel=1e-2) != 2.0
    finally:
        log.pytest_runtest_teardown()
    first, second = log.rows
    assert (first["expected"], first["found"], first["holds"]) == (2.001, 2.0, True)
    assert (second["expected"], second["holds"]) == (3.0, False)


TUTORIALS = sorted((DOCS / "tutorials").glob("*.ipynb"))


@pytest.mark.parametrize("file", TUTORIALS, ids=lambda f: f.stem)
def test_a_tutorials_cells_run(
    file: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """In this process and one name space, as a kernel runs them."""
    pytest.importorskip("IPython", reason="the extra dev has it")
    monkeypatch.setattr(sg.Spring, "from_preset", staticmethod(kept))
    space: dict[str, object] = {"__name__": "tutorial"}
    for cell in json.loads(file.read_text(encoding="utf-8"))["cells"]:
        if cell["cell_type"] == "code":
            exec(compile("".join(cell["source"]), file.stem, "exec"), space)
    text = capsys.readouterr().out
    if file.stem == "hooks_break_first":
        require_hooks_first(text)


def require_hooks_first(text: str) -> None:
    margins = dict(re.findall(r"(body_shear|hook_bending) +.*margin ([\d.]+)", text))
    assert float(margins["hook_bending"]) < float(margins["body_shear"])


@pytest.mark.parametrize("executed", [False, pytest.param(True, marks=pytest.mark.slow)])
def test_it_builds_without_a_warning_and_asks_the_network_for_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, executed: bool
) -> None:
    """If ``executed``, the tutorials are, by nbclient, and a cell that fails stops it."""
    for needed in ("mkdocs", "latex2mathml", "nbclient", "nbformat", "ipykernel"):
        pytest.importorskip(needed, reason="the extra dev has it")
    monkeypatch.syspath_prepend(str(DOCS))
    build = importlib.import_module("build")
    assert build.build(tmp_path / "site", notebooks=executed) == 0
    assert (tmp_path / "site" / "walk" / "opened.png").is_file()
    lesson = (tmp_path / "site" / "tutorials" / "hooks_break_first.html").read_text("utf-8")
    if executed:
        require_hooks_first(lesson)
        assert "<svg" in lesson
    pages = list((tmp_path / "site").rglob("*.html"))
    assert len(pages) > 25
    for page in pages:
        text = page.read_text(encoding="utf-8")
        assert not re.search(r"""<(?:script|link|img)[^>]+(?:src|href)=["']https?:""", text), page
    assert "<math" in (tmp_path / "site" / "theory" / "stress.html").read_text(encoding="utf-8")


def test_the_python_reference_is_written_as_a_page(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("latex2mathml", reason="the extra dev has it")
    monkeypatch.syspath_prepend(str(DOCS))
    text = importlib.import_module("generated").python()
    # no rules of a docstring, no address of an object, no quoted type
    assert not re.search(r"^-{3,}$|0x[0-9a-f]{6}|: '\w", text, re.MULTILINE)
    calls = re.findall(r"```python\n(.*?)\n```", text, re.DOTALL)
    assert max(len(line) for call in calls for line in call.splitlines()) < 90
    assert "sg.Spring.from_file(path: str | PathLike[str]) -> Self" in calls
    assert "spring.at(*, load: float | None = None, length: float | None = None) -> State" in calls
    assert "- `SpecError`: " in text
    # how to make one stands before what it answers
    assert text.index("### from_file") < text.index("### at\n")
