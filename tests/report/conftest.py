"""Springs to report on, and one browser."""

from __future__ import annotations

from functools import cache

import pytest

from springgeo import Spring
from springgeo.report import page
from tests.report.browser import Browser, find_browser
from tests.springs import kept

# px: wider than what is laid out as on a phone, and no more, for every pixel is drawn without a
# graphics card
WINDOW = 900, 640

HOSTILE = (
    "</script><script>document.title='taken'</script><img src=x onerror=\"document.title='taken'\">"
    " ' \" & ]]> --> <!--"
)

ODD = {
    "plain-static-left": {
        "wire": {"material": "astm-a228", "diameter": 1.0},
        "body": {"index": 8, "coils": 12, "hand": "left", "initial_tension": 4.0},
        "ends": {"first": {"style": "plain"}, "second": {"style": "plain"}},
        "service": {"loads": [12.0]},
    },
    "no-loads": {
        "wire": {"material": "astm-a228", "diameter": 1.0},
        "body": {"index": 8, "coils": 12},
        "ends": {"first": {"style": "full-twisted-loop"}, "second": {"style": "full-twisted-loop"}},
    },
    "out-of-reach": {
        "wire": {"material": "astm-a228", "diameter": 0.5},
        "body": {"index": 22, "coils": 6, "initial_tension": 0.1},
        "ends": {"first": {"style": "machine-half-loop"}, "second": {"style": "machine-half-loop"}},
        "service": {"loads": [0.5, 16.0], "duty": "cyclic", "cycles": 1e4},
        "mating": {"over_travel": 500},
    },
    "open-wound": {
        "wire": {"material": "astm-a228", "diameter": 2.0},
        "body": {"index": 6, "coils": 3, "gap": 3.0},
        "ends": {
            "first": {"style": "extended-hook", "hook_length": 30.0},
            "second": {"style": "full-twisted-loop"},
        },
        "service": {"lengths": [80.0]},
    },
    "below-initial-tension": {
        "wire": {"material": "astm-a228", "diameter": 1.0},
        "body": {"index": 8, "coils": 12, "initial_tension": 6.0},
        "ends": {"first": {"style": "full-twisted-loop"}, "second": {"style": "full-twisted-loop"}},
        "service": {"loads": [3.0], "duty": "cyclic", "cycles": 1e5},
    },
    "every-mate": {
        "wire": {"material": "astm-a313-302", "diameter": 2.0},
        "body": {"index": 8, "coils": 20, "initial_tension": 20.0},
        "ends": {
            "first": {"style": "full-twisted-loop"},
            "second": {"style": "machine-half-loop"},
            "angle": 0,
        },
        "service": {"loads": [30.0, 60.0], "duty": "infinite"},
        "mating": {
            "first": {"plate": {"hole_diameter": 8.0, "thickness": 3.0, "edge_distance": 7.0}},
            "second": {
                "stud": {
                    "diameter": 9.0,
                    "groove_diameter": 6.0,
                    "groove_width": 4.0,
                    "length": 16.0,
                }
            },
            "around": {"bore": {"diameter": 22.0}, "rod": {"diameter": 10.0}},
            "over_travel": 8.0,
        },
    },
    "over": {
        "wire": {"material": "astm-a228", "diameter": 1.2},
        "body": {"index": 8, "coils": 16, "initial_tension": 6.0},
        "ends": {"first": {"style": "full-twisted-loop"}, "second": {"style": "machine-half-loop"}},
        "service": {"loads": [30.0, 60.0]},
    },
    "hostile": {
        "name": HOSTILE,
        "wire": {"material": "astm-a228", "diameter": 1.0},
        "body": {"index": 8, "coils": 12, "initial_tension": 6.0},
        "ends": {"first": {"style": "full-twisted-loop"}, "second": {"style": "full-twisted-loop"}},
        "service": {"loads": [float(x) for x in range(1, 18)], "duty": "cyclic", "cycles": 1e5},
    },
}


@cache
def spring_of(name: str) -> Spring:
    """Return a preset, or one of the springs no preset is like, computed once for all tests."""
    return Spring.from_dict(ODD[name]) if name in ODD else kept(name)


def odd(name: str) -> Spring:
    """Return one of the springs no preset is like."""
    return spring_of(name)


@cache
def page_of(name: str) -> str:
    """Return the page of one of these springs, written once for all tests."""
    return page(spring_of(name))


@pytest.fixture(scope="session")
def browser():
    pytest.importorskip("websocket", reason="websocket-client is missing: the dev extra has it")
    if find_browser() is None:
        pytest.skip("no chromium or chrome on this machine (Debian: apt-get install chromium)")
    running = Browser()
    yield running
    running.close()


@pytest.fixture(name="files", scope="session")
def _files(tmp_path_factory):
    folder = tmp_path_factory.mktemp("report")
    springs = {
        "gate": "gate-latch",
        "hostile": "hostile",
        "still": "below-initial-tension",
        "mates": "every-mate",
        "over": "over",
    }
    found = {name: folder / f"{name}.html" for name in springs}
    for name, spring in springs.items():
        found[name].write_text(page_of(spring), encoding="utf-8")
    return found


@pytest.fixture(name="page")
def _page(browser):
    page = browser.page()
    page.size(*WINDOW)
    yield page
    page.close()


@pytest.fixture(name="opened", scope="module")
def _opened(browser, files):
    page = browser.page()
    page.size(*WINDOW)
    page.open(files["gate"])
    yield page
    page.close()


@pytest.fixture(name="told")
def _told(opened):
    """A page that several tests read, each after it has moved the spring where it wants it."""
    opened.call("Page.bringToFront")
    return opened


@pytest.fixture(name="gate")
def _gate(page, files):
    page.open(files["gate"])
    return page
