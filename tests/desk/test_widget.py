"""The desk in a notebook: the page in a frame, questions by messages."""

from __future__ import annotations

import pytest

from springgeo import Spring
from springgeo.optional import MissingLibraryError
from tests.desk.test_explore import small

pytest.importorskip("ruamel.yaml", reason="the extra live has it")


def test_without_its_library_it_is_named(monkeypatch):
    import sys

    from springgeo.desk import widget

    widget._kind.cache_clear()
    monkeypatch.setitem(sys.modules, "anywidget", None)
    with pytest.raises(MissingLibraryError, match=r"springgeo\[notebook\]"):
        Spring.from_dict(small()).live()


def test_a_widget_answers_and_its_spring_follows():
    pytest.importorskip("anywidget", reason="the extra notebook has it")
    live = Spring.from_dict(small()).live()
    sent = []
    live.send = sent.append
    try:
        question = {"what": "near", "page": "p"}
        live._asked(live, {"springgeo": "1", "question": question}, None)
        assert sent[-1]["springgeo"] == "1"
        assert sent[-1]["answer"]["rows"]
        change = {"what": "change", "changes": {"body.coils": "9"}, "seen": 0}
        live._asked(live, {"springgeo": "2", "question": change}, None)
        assert live.spring.spec.body.coils == 9
        live._asked(live, {"springgeo": "3", "question": {"what": "no"}}, None)
        assert sent[-1]["answer"] == {"problem": "no such question"}
        live._asked(live, "nonsense", None)
        assert "problem" in sent[-1]["answer"]
        assert '"way":"parent"' in live.document
    finally:
        live.close()
