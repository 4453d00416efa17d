"""The report for readers of the screen, by the rules of WCAG 2 as axe-core checks them."""

from __future__ import annotations

import pytest

from tests.report.acting import cut
from tests.report.axe import violations

pytestmark = pytest.mark.slow


@pytest.mark.parametrize("name", ["gate", "mates", "hostile", "still"])
@pytest.mark.parametrize(
    ("wide", "density", "scheme"), [(1200, 1, "light"), (640, 2, "light"), (390, 3, "dark")]
)
def test_nothing_is_wrong(page, files, name, wide, density, scheme):
    """On a desk's screen, at 200 % of one, and on a phone: nothing is cut either."""
    page.size(wide, 844, density=density)
    page.open(files[name])
    page.media(prefers_color_scheme=scheme)
    page.settle()
    assert cut(page) == []
    assert violations(page) == []
