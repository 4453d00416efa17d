"""The least that pip needs to build this package: so that no build tool has to be downloaded.

A real plug-in names its usual build tool in ``pyproject.toml`` and has no such file.
"""

from __future__ import annotations

import tomllib
import zipfile
from pathlib import Path

HERE = Path(__file__).parent


def build_wheel(
    wheel_directory: str, config_settings: object = None, metadata_directory: object = None
) -> str:
    """Write the wheel: the package, its name, and its entry points."""
    project = tomllib.loads((HERE / "pyproject.toml").read_text("utf-8"))["project"]
    stem = f"{project['name'].replace('-', '_')}-{project['version']}"
    groups = [
        f"[{group}]\n" + "\n".join(f"{k} = {v}" for k, v in entries.items())
        for group, entries in project["entry-points"].items()
    ]
    files = {
        "METADATA": f"Metadata-Version: 2.1\nName: {project['name']}\n"
        f"Version: {project['version']}\n",
        "WHEEL": "Wheel-Version: 1.0\nGenerator: example\nRoot-Is-Purelib: true\n"
        "Tag: py3-none-any\n",
        "entry_points.txt": "\n\n".join(groups) + "\n",
    }
    packed = {f"{stem}.dist-info/{name}": text for name, text in files.items()}
    for source in sorted((HERE / "crook_end").glob("*.py")):
        packed[f"crook_end/{source.name}"] = source.read_text("utf-8")
    record = f"{stem}.dist-info/RECORD"
    name = f"{stem}-py3-none-any.whl"
    with zipfile.ZipFile(Path(wheel_directory) / name, "w") as wheel:
        for path, text in packed.items():
            wheel.writestr(path, text)
        wheel.writestr(record, "".join(f"{path},,\n" for path in [*packed, record]))
    return name
