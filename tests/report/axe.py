"""What axe-core finds wrong for readers of the screen: rules of WCAG 2, a library from npm.

``npm install --prefix tests axe-core`` puts it where it is looked for; without it the tests that
ask are skipped.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

HOW = "axe-core is missing: npm install --prefix tests axe-core"


def violations(page):
    """Return one line for each thing that axe-core finds on a page as it stands."""
    page.run(_script() + "; 0")
    return page.run(
        "axe.run(document, {resultTypes: ['violations']}).then(r => r.violations.map("
        "v => v.id + ': ' + v.nodes.map(n => n.html.slice(0, 120)).join(' | ')))"
    )


def _script():
    own = Path(__file__).parent.parent / "node_modules"
    places = (own, Path(os.environ.get("NODE_PATH", own)))
    for place in places:
        file = place / "axe-core" / "axe.min.js"
        if file.is_file():
            return file.read_text("utf-8")
    pytest.skip(HOW)
    raise AssertionError
