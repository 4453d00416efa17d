"""One small spring, built once, and its model."""

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
    from springgeo.files.publish.bundle import export_bundle

    folder = tmp_path_factory.mktemp("built")
    export_bundle(spring.model, folder, formats=["step", "brep", *MESHES])
    return folder
