"""Holes in the data are named, block by block, with source and confidence for the rest."""

from __future__ import annotations

import json

import pytest

from springgeo import materials
from springgeo.cli.main import run
from springgeo.materials.coverage import holes, sources


@pytest.mark.parametrize("name", materials.names())
def test_what_is_missing_is_named_and_what_is_there_has_its_source(name: str) -> None:
    m = materials.get(name)
    missing, known = holes(m), sources(m)
    assert ("tensile table" in missing) == ("tensile" not in known)
    assert ("repeated-load table" in missing) == ("cyclic_allowables" not in known)
    assert ("lowest temperature" in missing) == ("temperature_minimum_degC" not in known)
    assert ("relative cost" in missing) == ("relative_cost" not in known)
    # no published figures were found for any of them
    assert {"strength at temperature", "relaxation"} <= set(missing)
    assert {"shear_modulus", "elastic_modulus", "modulus_loss_per_K", "elastic_limits"} <= set(
        known
    )
    for block in known.values():
        assert block["source"]
        assert block["known"] in {"read", "from memory", "common practice"}


def test_moduli_that_cannot_both_be_right() -> None:
    """Type 302: G 10.0 and E 28.0 Mpsi as printed give 0.40; steel has 0.27 to 0.30."""
    assert "0.40" in holes(materials.get("astm-a313-302"))["which modulus holds"]
    for name in ("astm-a228", "astm-a401", "en-10270-1-sh", "en-10270-3-1.4310-ns"):
        assert "which modulus holds" not in holes(materials.get(name))


def test_the_command_names_holes_and_other_names(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["materials"]) == 0
    text = capsys.readouterr().out
    assert "not known: relaxation of every material" in text
    assert "not known: tensile table of astm-a313-316, en-10270-3-1.4568" in text
    assert run(["materials", "--json"]) == 0
    facts = {m["id"]: m for m in json.loads(capsys.readouterr().out)["materials"]}
    assert "music wire" in facts["astm-a228"]["also_called"]
    assert "K08500" in facts["astm-a228"]["also_called"]
    assert "no fatigue factor" in facts["astm-b159"]["not_known"]["repeated-load table"]
