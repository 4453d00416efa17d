"""Build the documentation: ``python gallery/docs/build.py [--out FOLDER]``, warnings as errors.

Needs ``pip install -e '.[docs]'``; asks nothing of the network. Pages are in ``pages``; reference,
verification manual and figures are made from the package (``generated.py``, ``figures.py``), the
tutorials are executed (``notebooks.py``).
"""

from __future__ import annotations

import argparse
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE))


def gather(target: Path, *, notebooks: bool = True) -> None:
    """Put every page, written and generated, and every figure into a folder."""
    import figures
    import generated
    import notebooks as tutorials

    shutil.copytree(HERE / "pages", target, dirs_exist_ok=True)
    shutil.copy(HERE.parent / "CHANGELOG.md", target / "changelog.md")
    for name, text in figures.figures().items():
        place = target / "figures" / name
        place.parent.mkdir(exist_ok=True)
        place.write_text(text, encoding="utf-8")
    for name, text in generated.pages().items():
        (target / name).parent.mkdir(parents=True, exist_ok=True)
        (target / name).write_text(text, encoding="utf-8")
    (target / "tutorials").mkdir(exist_ok=True)
    for notebook in sorted((HERE / "tutorials").glob("*.ipynb")):
        text = tutorials.page(notebook, run=notebooks)
        (target / "tutorials" / f"{notebook.stem}.md").write_text(text, encoding="utf-8")


def build(out: Path, *, notebooks: bool = True) -> int:
    """Build the site into a folder; return MkDocs' exit code."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        for name in ("mkdocs.yml", "hooks.py"):
            shutil.copy(HERE / name, place / name)
        shutil.copytree(HERE / "theme", place / "theme")
        gather(place / "docs", notebooks=notebooks)
        command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet"]
        done = subprocess.run([*command, "--site-dir", str(out.resolve())], cwd=place, check=False)
    if done.returncode == 0:
        sys.stdout.write(f"wrote {out / 'index.html'}\n")
    return done.returncode


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=Path("build/docs"))
    parser.add_argument("--without-notebooks", action="store_true", help="do not execute tutorials")
    asked = parser.parse_args()
    sys.exit(build(asked.out, notebooks=not asked.without_notebooks))
