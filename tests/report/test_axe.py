"""The report for readers of the screen, by the rules of WCAG 2 as axe-core checks them."""

from __future__ import annotations

import pytest

from tests.report.axe import violations

pytestmark = pytest.mark.slow


@pytest.mark.parametrize("name", ["gate", "mates", "hostile", "still"])
@pytest.mark.parametrize(("wide", "scheme"), [(1200, "light"), (390, "dark")])
def test_nothing_is_wrong(page, files, name, wide, scheme):
    page.open(files[name])
    page.size(wide, 844)
    page.media(prefers_color_scheme=scheme)
    page.settle()
    assert violations(page) == []
