"""``springgeo size``: from a job to springs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from springgeo.cli import table
from springgeo.cli.reader import json_option, look_into, of_file, reader, units_option
from springgeo.cli.target import out_folder
from springgeo.errors import SpecError
from springgeo.results.facts import CAUTIONS
from springgeo.text import quantity as q

if TYPE_CHECKING:
    from springgeo.sizing import Job, Result
    from springgeo.sizing.answer.why_not import Reason
    from springgeo.sizing.answer.winner import Winner


# a dimension that makes less of the spread than this is not named
_TOLD = 0.005


@click.command("size")
@click.argument("job", metavar="JOB")
@out_folder("springgeo-sizes", says="Folder for the specifications; made if missing.")
@click.option(
    "--top", default=5, show_default=True, type=click.IntRange(1, 100), help="How many choices."
)
@units_option
@click.option("--build", is_flag=True, help="Build each choice too: STEP, STL, summary.")
@click.option(
    "--page",
    is_flag=True,
    help="Write choices.html too: the front to click, each choice's shape, or why nothing fits.",
)
@json_option("the result")
def command(job: str, out: str, top: int, build: bool, page: bool, as_json: bool) -> int:
    """Find the springs that do a job best.

    JOB is a YAML file; `springgeo new --for job` writes a commented one to start from. Writes a
    specification for each choice, sizing.json, and a picture of the front. Leaves with 2 and the
    reasons if nothing fits.
    """
    from springgeo.sizing import size
    from springgeo.sizing.answer import report

    result = size(_job(job), top)
    folder = Path(out)
    files = _write(result, folder, page) if result.winners or page else []
    if build:
        files += _build(result, folder)
    if as_json:
        click.echo(report.json_text(result), nl=False)
    elif result.winners:
        _show(result, files)
    if not result.winners:
        for line in _why_not(result):
            click.echo(f"springgeo: {line}", err=True)
        for path in files:
            click.echo(f"wrote {path}")
    return 0 if result.winners else 2


def _job(path: str) -> Job:
    from springgeo.sizing import read_job
    from springgeo.specification.bare import bare_finding

    try:
        job = read_job(path)
    except SpecError:
        look_into(path, "job")
        raise
    of_file(job.units)
    if job.bare:
        click.echo(f"springgeo: {bare_finding(job.bare).line()}", err=True)
    return job


def _write(result: Result, folder: Path, page: bool) -> list[Path]:
    from springgeo.files.publish.bundle import made
    from springgeo.publish.atomic import staged
    from springgeo.sizing.answer import report
    from springgeo.sizing.answer.plot import front_svg

    with made(folder), staged(folder, last="sizing.json") as stage:
        for number, w in enumerate(result.winners, 1):
            text = report.specification_text(w, result.found.job.name, reader())
            (stage / f"choice-{number}.yaml").write_text(text, encoding="utf-8")
        (stage / "sizing.json").write_text(report.json_text(result), encoding="utf-8")
        if (picture := front_svg(result, reader())) is not None:
            (stage / "front.svg").write_text(picture, encoding="utf-8")
        if page:
            from springgeo.comparing.sizes import sizes_page

            (stage / "choices.html").write_text(sizes_page(result, reader()), encoding="utf-8")
        names = sorted(p.name for p in stage.iterdir())
    return [folder / name for name in names]


def _build(result: Result, folder: Path) -> list[Path]:
    from springgeo.api import Spring

    files: list[Path] = []
    for number, w in enumerate(result.winners, 1):
        place = folder / f"choice-{number}"
        files += Spring.from_dict(w.specification).export(place)
    return files


def _show(result: Result, files: list[Path]) -> None:
    from springgeo.sizing.answer import report

    found, shown = result.found, reader()
    click.echo(f"{found.job.name}: {found.looked_at} candidates, {len(found.places)} on the front")
    for line in table.rows(report.rows(result.winners, shown)):
        click.echo(line)
    click.echo(
        "margins: the lesser of handbook and along the wire"
        if found.job.method != "handbook"
        else "margins: handbook"
    )
    first = result.winners[0].spreads
    worst = min(first, key=lambda s: s.chance)
    for line in _unproven(result.winners):
        click.echo(line)
    shares = ", ".join(
        f"{k.replace('_', ' ')} {100 * v:.0f} %"
        for k, v in list(worst.shares.items())[:3]
        if v >= _TOLD
    )
    click.echo(
        "in tol: share of springs within the load tolerance at the worst length, grade 2"
        + (", corrected in every dimension" if "in_tolerance" in found.job.objectives else "")
    )
    click.echo(
        f"choice 1 at {shown.length(worst.length, 5)}: {shown.value(q.force(worst.low))} to "
        f"{shown.force(worst.high)}, asked for {shown.value(q.force(worst.wanted))} ± "
        f"{shown.force(worst.allowed, 3)}; mostly from {shares}"
    )
    if result.alike:
        designs = "1 design" if result.alike == 1 else f"{result.alike} designs"
        click.echo(
            f"left out: {designs} within {100 * found.job.apart:.3g} % of a choice in wire, "
            "coil diameter, rate and modulus ('apart' in the job says how far choices differ)"
        )
    for text in result.turned_away:
        click.echo(f"turned away at the re-check: {shown.text(text)}")
    click.echo("files:")
    for path in files:
        click.echo(f"  {path}")
    click.echo(table.caution(CAUTIONS))


def _unproven(winners: Sequence[Winner]) -> Iterator[str]:
    """Yield what nobody may say of the choices that they hold, each reason once."""
    found: dict[str, list[str]] = {}
    for number, w in enumerate(winners, 1):
        verdict = w.summary.verdict
        if verdict is None or verdict.outcome == "holds":
            continue
        head = "NOT JUDGED whether it holds: " if verdict.outcome == "not judged" else ""
        for reason in verdict.reasons if head else (verdict.words,):
            found.setdefault(head + reader().text(reason), []).append(str(number))
    for text, numbers in found.items():
        whose = "choice" if len(numbers) == 1 else "choices"
        yield f"{whose} {', '.join(numbers)}: {text}"


def _why_not(result: Result) -> list[str]:
    if result.turned_away:
        head = "every design of the search was turned away at the re-check:"
        return [head, *(f"  {reader().text(text)}" for text in result.turned_away)]
    found = result.found
    alone = [r for r in result.why_not if r.alone]
    together = [r for r in result.why_not if not r.alone]
    lines = ["nothing fits this job"]
    if alone:
        lines += [
            "any one of these would be enough:",
            *(f"  {reader().text(r.text)}" for r in alone),
        ]
    if together:
        head = "these together are less to give:" if alone else "all of these would have to give:"
        lines += [head, *map(_indented, together)]
    if found.job.method != "handbook" and not found.factors:
        lines.append("amounts by the handbook; along the wire a little more may have to give")
    return lines


def _indented(reason: Reason) -> str:
    return f"  {reader().text(reason.text)}"
