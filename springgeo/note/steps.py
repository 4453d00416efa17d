"""Lines of formulas from the steps that were recorded, each said once in a note."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.explanation import Explanation, Leaf, explained
from springgeo.explanation.lines import put_in, result
from springgeo.explanation.steps import ExplainedStep
from springgeo.note.labels import label_of
from springgeo.note.model import FormulaLine, Formulas
from springgeo.text.shown import DECIMAL, Shown
from springgeo.trade.bibliography import Work, works
from springgeo.worked.reading import parsed

_DIGITS = 5


class Sources:
    """The works a note names, numbered as they come."""

    def __init__(self) -> None:
        self.works: list[Work] = []

    def marks(self, source: str) -> str:
        """Return the numbers of what a source names, in brackets; nothing for no publication."""
        found = []
        for work in works(source):
            if work.key in ("own", "textbooks"):
                continue
            if work not in self.works:
                self.works.append(work)
            found.append(self.works.index(work) + 1)
        return f"[{', '.join(map(str, found))}]" if found else ""


class Steps:
    """The formulas of a note.

    Parameters
    ----------
    numbers : mapping of str to Leaf
        Of a recorded summary.
    shown : Shown
    sources : Sources
    """

    def __init__(self, numbers: dict[str, Leaf], shown: Shown, sources: Sources) -> None:
        self.numbers, self.shown, self.sources = numbers, shown, sources
        self.told: set[tuple[object, ...]] = set()

    def formulas(self, *paths: str) -> Formulas:
        """Return the formulas behind numbers of the summary, those of others before them."""
        found = []
        for path in paths:
            if path in self.numbers:
                found += list(self._lines(explained(self.numbers[path])))
        return Formulas(tuple(found))

    def _lines(self, chain: Explanation) -> Iterator[FormulaLine]:
        by_number = {s.number: s for s in chain.steps}
        for step in _in_order(chain.steps[0], by_number, set()):
            key = (step.symbol, step.formula, step.value)
            if step.expression is None or step.kind != "formula" or key in self.told:
                continue
            self.told.add(key)
            yield self._line(step)

    def _line(self, step: ExplainedStep) -> FormulaLine:
        assert step.expression is not None
        label = label_of(step.title)
        return FormulaLine(
            symbol=step.symbol,
            words=step.title if label is None else self.shown.text(label),
            node=parsed(step.expression),
            names=put_in(step, self.shown, _DIGITS),
            result=result(step, self.shown, _DIGITS),
            sources=self.sources.marks(step.source),
            inside=step.inside,
            point=DECIMAL[self.shown.language],
        )


def _in_order(
    step: ExplainedStep, by_number: dict[int, ExplainedStep], seen: set[int]
) -> Iterator[ExplainedStep]:
    """Yield a step after all those that it was found from."""
    if step.number in seen:
        return
    seen.add(step.number)
    for o in step.operands:
        if o.step is not None:
            yield from _in_order(by_number[o.step], by_number, seen)
    yield step
