"""The page as text: what it holds, that it holds everything itself, that nothing escapes."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from base64 import b64encode
from hashlib import sha256
from html.parser import HTMLParser
from importlib.resources import files
from itertools import pairwise

import pytest
from jinja2 import UndefinedError

from springgeo import Spring
from springgeo.cli.main import run
from springgeo.errors import FileError
from springgeo.report import page, write
from springgeo.report.document import VIEW, document, inert
from springgeo.report.html import Markup, render
from springgeo.report.value import fixed, number
from springgeo.specification.load import presets
from tests.report.conftest import HOSTILE, ODD, odd, page_of, spring_of
from tests.springs import again, kept

pytestmark = pytest.mark.usefixtures("presets_kept")

# elements that HTML closes by themselves
VOID = {"meta", "input", "br", "link", "img", "hr"}


class Outline(HTMLParser):
    """Elements in order, their attributes, their text; refuses bad nesting."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: dict[str, list[str]] = {}
        self.data: list[tuple[dict[str, str | None], list[str]]] = []
        self.feed(text)
        self.close()
        assert not self.open, self.open

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag == "data":
            self.data.append((dict(attrs), []))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        assert self.open, tag
        assert self.open[-1] == tag, (self.open, tag)
        self.open.pop()

    def handle_data(self, data):
        if self.open:
            self.text.setdefault(self.open[-1], []).append(data)
            if self.open[-1] == "data":
                self.data[-1][1].append(data)


def block(text, name):
    found = re.search(rf'<script type="application/json" id="{name}">(.*?)</script>', text, re.S)
    assert found, name
    return json.loads(found[1])


# of the presets every second; tests/report/test_view.py looks at the others
EVERY = [
    *(pytest.param(n, marks=pytest.mark.slow if k % 2 else ()) for k, n in enumerate(presets())),
    *ODD,
]


@pytest.fixture(name="built", scope="module", params=EVERY)
def _built(request):
    return spring_of(request.param), page_of(request.param)


def test_nests_properly_and_has_the_headings_in_order(built):
    _, text = built
    outline = Outline(text)
    levels = [int(t[1]) for t, _ in outline.tags if re.fullmatch("h[1-6]", t)]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(b - a <= 1 for a, b in pairwise(levels))


def test_summary_inside_is_the_summary(built):
    spring, text = built
    assert block(text, "summary") == json.loads(spring.summary().json_text())


def test_every_number_shown_is_the_summarys(built):
    _, text = built
    data, seen = block(text, "summary"), 0
    for attributes, shown in Outline(text).data:
        value = data
        for key in attributes["data-path"].split("."):
            value = value[int(key)] if isinstance(value, list) else value[key]
        if isinstance(value, str):
            assert "".join(shown) == value
            continue
        assert float(attributes["value"]) == value
        plain = float("".join(shown).replace("−", "-").replace("\u202f", ""))
        exact = value * float(attributes["data-scale"])
        decimals = len("".join(shown).partition(".")[2])
        # as many digits as are printed, and at least three of them unless decimals are fixed
        assert abs(plain - exact) <= max(0.5000001 * 10.0**-decimals, 0.005 * abs(exact))
        seen += 1
    assert seen > 20


def test_asks_nothing_of_the_network(built):
    _, text = built
    own = re.sub(r'<script type="module">.*?</script>', "", text, flags=re.S)
    assert not re.findall(r'(?:src|href|action|poster|srcset)="(?!#)[^"]*"', own)
    assert not re.findall(r"@import|url\(", own)
    # the name of the SVG language is no address
    assert set(re.findall(r'https?://[^"\' )]+', own)) <= {"http://www.w3.org/2000/svg"}


def test_policy_admits_the_scripts_and_the_style_it_holds_and_nothing_else(built):
    _, text = built
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', text)[1]
    rules = dict(r.strip().split(" ", 1) for r in policy.split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["connect-src"] == "'none'"
    scripts = re.findall(r"<script(?: type=\"module\")?>(.*?)</script>", text, re.S)
    styles = re.findall(r"<style>(.*?)</style>", text, re.S)
    for rule, found in (("script-src", scripts), ("style-src", styles)):
        wanted = {f"'sha256-{b64encode(sha256(x.encode()).digest()).decode()}'" for x in found}
        assert set(rules[rule].split()) == wanted
    # a style attribute would need the policy loosened
    assert not [a for _, a in Outline(text).tags if "style" in a]
    assert not [k for _, a in Outline(text).tags for k in a if k.startswith("on")]


def test_everything_with_an_action_has_a_name(built):
    _, text = built
    outline = Outline(text)
    ids = [a["id"] for _, a in outline.tags if "id" in a]
    assert len(ids) == len(set(ids))
    labelled = {a.get("for") for t, a in outline.tags if t == "label"}
    for tag, a in outline.tags:
        for key in ("aria-labelledby", "aria-describedby", "for"):
            assert set((a.get(key) or "").split()) <= set(ids)
        if tag == "select" or (tag == "input" and a.get("type") == "range"):
            assert a["id"] in labelled
        if tag == "svg":
            assert a.get("role") == "img" or a.get("aria-hidden") == "true"


def test_same_spring_same_bytes(tmp_path):
    first, second = (
        write(of("gate-latch"), tmp_path / f"{of.__name__}.html") for of in (kept, again)
    )
    assert first.read_bytes() == second.read_bytes()
    text = first.read_text("utf-8")
    assert str(tmp_path) not in text


def test_hostile_name_stays_text():
    text = page_of("hostile")
    outline = Outline(text)
    assert [t for t, _ in outline.tags].count("img") == 0
    assert len([t for t, _ in outline.tags if t == "script"]) == 4
    assert "".join(outline.text["h1"]) == HOSTILE
    assert block(text, "summary")["name"] == HOSTILE


@pytest.mark.parametrize("text", ["</script>", "<!--<script>", "&lt;", "]]>", "\u2028"])
def test_inert_json_parses_to_the_same(text):
    written = inert(json.dumps({"x": text}))
    assert json.loads(written) == {"x": text}
    assert not set("<>&") & set(written)


def test_heading_says_what_the_fit_says():
    good, bad = page_of("gate-latch"), page_of("every-mate")
    assert kept("gate-latch").fit(states=2).ok
    assert not odd("every-mate").fit(states=2).ok
    assert "It does not fit its mating parts" not in good
    assert "It does not fit its mating parts" in bad


def test_heading_says_what_is_overstressed():
    text = page_of("open-wound")
    assert 'class="verdict bad"><strong>Fails</strong>' in text
    assert 'class="verdict good"><strong>Holds</strong>' in page_of("gate-latch")


def test_weighs_less_than_three_megabytes_at_fifty_coils():
    data = {**ODD["every-mate"], "body": {"index": 8, "coils": 50, "initial_tension": 20.0}}
    assert len(page(Spring.from_dict(data)).encode()) < 3e6


def test_loads_neither_kernel_nor_plotting():
    code = (
        "import sys; from springgeo import Spring; from springgeo.report import page; "
        "page(Spring.from_preset('gate-latch')); "
        "bad = {'OCP', 'cadquery', 'vtk', 'matplotlib', 'shapely'} & set(sys.modules); "
        "sys.exit(', '.join(sorted(bad)) or 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_command_writes_a_file(tmp_path, capsys):
    out = tmp_path / "spring.html"
    assert run(["report", "--preset", "relay-armature", "-o", str(out)]) == 0
    assert out.read_text("utf-8").startswith("<!doctype html>")
    assert "kB" in capsys.readouterr().out


def test_command_refuses_another_kind_of_file(tmp_path, capsys):
    assert run(["report", "--preset", "relay-armature", "-o", str(tmp_path / "spring.pdf")]) == 2
    assert "must end in .html" in capsys.readouterr().err


def test_a_file_that_cannot_be_written_is_refused_and_none_appears(tmp_path):
    with pytest.raises(FileError):
        write(kept("relay-armature"), tmp_path / "missing" / "spring.html")
    assert not list(tmp_path.iterdir())


def test_page_without_data_is_small():
    empty = document("", "", {})
    assert len(empty.encode()) < 100_000
    assert empty.count("WebGL") > 0


def test_every_script_is_in_the_page_and_short():
    folder = files("springgeo.report").joinpath("assets")
    scripts = {f.name for f in folder.iterdir() if f.name.endswith(".js")}
    assert scripts == {"theme.js", "page.js", "again.js", *(f"{name}.js" for name in VIEW)}
    for name in scripts:
        assert len(folder.joinpath(name).read_text("utf-8").splitlines()) < 200


@pytest.mark.parametrize(
    ("x", "digits", "text"),
    [
        (1234.56, 4, "1235"),
        (81700.0, 4, "81\u202f700"),
        (0.0123456, 3, "0.0123"),
        (40.0, 4, "40"),
        (-2.5, 3, "−2.5"),
        (999.96, 4, "1000"),
        (0.0, 4, "0"),
        (1e-9, 2, "0.000000001"),
    ],
)
def test_numbers_as_printed(x, digits, text):
    assert number(x, digits) == text


@pytest.mark.parametrize(
    ("x", "text"), [(1.5, "1.50"), (-0.001, "0.00"), (-12345.678, "−12\u202f345.68")]
)
def test_fixed_decimals_as_printed(x, text):
    assert fixed(x) == text


def test_templates_escape_text_and_refuse_what_is_missing():
    shown = render("terms", rows=[("<b>", "a & b"), ("as made", Markup("<b>c</b>"))])
    assert "<dt>&lt;b&gt;</dt><dd>a &amp; b</dd>" in shown
    assert "<dt>as made</dt><dd><b>c</b></dd>" in shown
    with pytest.raises(UndefinedError):
        render("terms")
