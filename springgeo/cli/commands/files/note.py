"""``springgeo note``: the calculation as an engineer would hand it in."""

from __future__ import annotations

import click

from springgeo.cli.progress import Progress
from springgeo.cli.reader import asked, language_option
from springgeo.cli.source import Source, spec_argument
from springgeo.cli.target import out_file
from springgeo.text.shown import Language


@click.command("note")
@spec_argument
@out_file(
    *(".pdf", ".docx", ".html", ".md"),
    default="note.pdf",
    says="Ends in .pdf, .docx, .html or .md.",
)
@language_option
def command(source: Source, out: str, language: Language | None) -> int:
    """Write the calculation note on SPEC, to be signed and filed.

    Job, material, every check with its formulas, pictures, findings and sources.

    A PDF needs the extra note, DOCX the extra word; HTML and Markdown need nothing more.
    """
    with Progress(1) as say:
        say("computing and typesetting")
        spring = source.spring()
        file = spring.note(out, units=asked(), language=language)
    click.echo(f"wrote {out}: {file.stat().st_size / 1024:.0f} kB")
    return 0
