"""One small spring, built once, and its model."""

import json

import pytest

from springgeo.api import Spring

SPEC = {
    "name": "test spring",
    "wire": {"material": "astm-a228", "diameter": "1.2 mm"},
    "body": {"mean_diameter": "9.6 mm", "coils": 3},
    "ends": {"first": {"style": "full-twisted-loop"}, "second": {"style": "machine-half-loop"}},
    "service": {"loads": ["15 N", "30 N"]},
}
MESHES = ("stl", "3mf", "glb", "obj", "ply")


@pytest.fixture(scope="session")
def spring():
    return Spring.from_dict(SPEC)


@pytest.fixture(scope="session")
def built(spring, tmp_path_factory):
    """Return a folder with every format of the free spring."""
    folder = tmp_path_factory.mktemp("built")
    spring.build(folder, formats=["step", "brep", *MESHES])
    return folder


@pytest.fixture
def read_here(monkeypatch):
    """Let files be read in this process by what the child runs: for the many, not for the wild."""
    from springgeo.errors import FileError
    from springgeo.files import apart
    from springgeo.files.apart_child import _answer
    from springgeo.text.safe_json import parse_json

    def asked(verb, path, limits=None, more=()):
        limits = limits or apart.Limits.of(apart.require_regular(path, verb))
        answer = json.dumps(_answer(verb, path, limits.memory), ensure_ascii=True, allow_nan=False)
        answer = parse_json(answer.encode("ascii"))
        if "refused" in answer:
            raise FileError(str(answer["refused"]))
        return answer

    monkeypatch.setattr(apart, "_asked", asked)
