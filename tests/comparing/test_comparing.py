"""Springs beside each other: what differs is marked, and nothing else."""

from __future__ import annotations

import json

import pytest

from springgeo import SpecError, Spring
from springgeo.cli.main import run
from springgeo.comparing import compare

BASE = {
    "name": "one",
    "wire": {"material": "astm-a228", "diameter": 1.0},
    "body": {"index": 8, "coils": 12, "initial_tension": 6.0},
    "ends": {"first": {"style": "full-twisted-loop"}, "second": {"style": "machine-half-loop"}},
    "service": {"loads": [10.0, 15.0]},
}


@pytest.fixture(name="springs", scope="module")
def _springs():
    one = Spring.from_dict(BASE)
    return {"one": one, "two": one.with_(body__coils=16)}


def test_rows_say_where_specifications_and_answers_differ(springs):
    found = compare(springs)
    rows = {r.key: r for r in found.rows}
    assert [r.key for r in found.rows if r.given] == ["body.coils"]
    assert rows["body.coils"].values == (12, 16)
    assert rows["rates.handbook"].differs
    assert not rows["geometry.wire_diameter"].differs
    assert not rows["initial_tension.force"].differs
    # a helical spring's rate is that of its active coils, N_a = N_b + G/E (Shigley eq. 10-9, 10-40)
    one, two = (s.summary().material for s in springs.values())
    share = one.shear_modulus / two.elastic_modulus
    low, high = rows["rates.handbook"].values
    assert low / high == pytest.approx((16 + share) / (12 + share), rel=1e-6)


def test_json_holds_every_row_and_curve(springs):
    data = json.loads(compare(springs).json_text())
    assert [s["name"] for s in data["springs"]] == ["one", "two"]
    assert all(len(r["values"]) == 2 for r in data["rows"])
    free = [c[0][1] for c in data["curves"]]
    assert free == [s.free_length for s in springs.values()]


def test_one_spring_alone_or_too_many_are_refused(springs):
    with pytest.raises(SpecError, match="name 2 to 7"):
        compare({"one": springs["one"]})
    with pytest.raises(SpecError, match="8 given"):
        compare({str(i): springs["one"] for i in range(8)})


def test_command_prints_what_differs_and_writes_a_page(springs, tmp_path, capsys):
    for name, spring in springs.items():
        (tmp_path / f"{name}.yaml").write_text(spring.specification_text)
    files = [str(tmp_path / f"{name}.yaml") for name in springs]
    page = tmp_path / "page.html"
    assert run(["compare", *files, "-o", str(page)]) == 0
    out = capsys.readouterr().out
    assert "≠ body.coils" in out
    assert "wire diameter d" not in out
    text = page.read_text("utf-8")
    assert "connect-src 'none'" in text
    assert text.count('class="differs"') == sum(r.differs for r in compare(springs).rows)


def test_alike_springs_are_said_to_be_alike(springs, tmp_path, capsys):
    path = tmp_path / "one.yaml"
    path.write_text(springs["one"].specification_text)
    assert run(["compare", str(path), str(path)]) == 0
    assert "alike" in capsys.readouterr().out


def test_watch_says_what_is_wrong_and_goes_on(tmp_path, capsys):
    from springgeo.cli.commands.answers.watch import look

    path = tmp_path / "spring.yaml"
    look(path, None)
    assert "No such file" in capsys.readouterr().out
    path.write_text("wire: {diameter: 1 m}\n")
    look(path, None)
    assert "error: " in capsys.readouterr().out


def test_watch_sees_a_save_by_replacing(tmp_path):
    pytest.importorskip("watchfiles", reason="the extra live has it")
    import threading

    from springgeo.cli.commands.answers.watch import changes

    path = tmp_path / "spring.yaml"
    path.write_text("a")
    seen = changes(path)
    stop = threading.Event()

    def save() -> None:
        # until the watch has begun nobody looks
        for i in range(200):
            (tmp_path / "new").write_text("b" * (2 + i))
            (tmp_path / "new").replace(path)
            if stop.wait(0.1):
                return

    saver = threading.Thread(target=save)
    saver.start()
    try:
        assert next(seen) is None
    finally:
        stop.set()
        saver.join()


def test_a_page_that_is_written_again_looks_at_its_sign(springs, tmp_path):
    from springgeo.report import write
    from springgeo.report.write import sign_of

    file = write(springs["one"], tmp_path / "a.html", number=7)
    assert 'width="7"' in sign_of(file).read_text()
    text = file.read_text("utf-8")
    assert '"number":7' in text
    assert "img-src data: file: 'self'" in text
    plain = write(springs["one"], tmp_path / "b.html").read_text("utf-8")
    assert "img-src data:;" in plain
    assert not sign_of(tmp_path / "b.html").exists()
