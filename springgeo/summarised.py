"""A specified spring and its summary: what it is made of, and how each number was found."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

import yaml

from springgeo.checks.centreline import centreline_checks
from springgeo.curve import Path as Centreline
from springgeo.specification import Spec
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.summary.build import summarise
from springgeo.summary.sections import Sections
from springgeo.text.json_value import Json
from springgeo.text.quantity import Units
from springgeo.text.shown import Language, Shown
from springgeo.worked.number import recorded

if TYPE_CHECKING:
    from springgeo.explanation import Explanation, Leaf


class SummarisedSpring:
    """A spring with its summary, and how each number of it was found; nothing loads it yet.

    Parameters
    ----------
    spec : Spec
    text : str, optional
        The text of the file it was read from.

    Raises
    ------
    SpecError
        The spring cannot be made; the exception's ``findings`` say why and what to change.
    """

    def __init__(self, spec: Spec, text: str | None = None) -> None:
        self.model = SpringModel.of(spec, text)

    @property
    def spec(self) -> Spec:
        """The specification."""
        return self.model.spec

    @property
    def specification_text(self) -> str:
        """The specification as its author wrote it, else as YAML with bare numbers in mm and N."""
        text = self.model.text
        if text is not None and not isinstance(self.spec.wire.material, dict):
            return text
        data = self.spec.model_dump(mode="json", exclude_none=True)
        return yaml.safe_dump(data, sort_keys=False, allow_unicode=True)

    @property
    def shown(self) -> Shown:
        """Units and language of the specification, for whatever is shown of it."""
        return Shown(self.spec.units, self.spec.language)

    def shown_in(
        self,
        units: Units | None = None,
        language: Language | None = None,
        *,
        both_units: bool = False,
        typeset: bool = False,
    ) -> Shown:
        """Return units and language as asked for, else those of the specification."""
        first = units or self.spec.units
        other: Units | None = ("inch" if first == "mm" else "mm") if both_units else None
        return Shown(first, language or self.spec.language, other, typeset=typeset)

    @property
    def centreline(self) -> Centreline:
        """The wire's centreline: the source of everything else."""
        return self.model.geometry.path

    @cached_property
    def _summary(self) -> Summary:
        return summarise(self.model, centreline_checks(self.model))

    @property
    def sections(self) -> Sections:
        """The summary's sections, each computed when it is read: for who reads few of them."""
        return Sections(self.model, centreline_checks(self.model))

    def summary(self) -> Summary:
        """Return everything computed without a solid: geometry, stresses, findings, checks."""
        return self._summary

    @cached_property
    def worked_summary(self) -> Summary:
        """The summary with numbers that remember how they were found (``springgeo.worked``)."""
        # an answer of its own: what was computed before does not remember how
        with recorded():
            return summarise(self.model, centreline_checks(self.model))

    @cached_property
    def _numbers(self) -> dict[str, Leaf]:
        from springgeo.explanation import leaves

        return leaves(self.worked_summary)

    def explain(self, quantity: str) -> Explanation:
        """Return how a number of the summary was found: formulas, values put in, sources.

        Parameters
        ----------
        quantity : str
            A path in the summary, ``points.0.margin.body_shear``, or its end, ``body_shear``; of
            several loads the highest is meant.

        Raises
        ------
        SpecError
            No such number; the nearest names are offered.
        """
        from springgeo.explanation import explained, known, named

        numbers = self._numbers_near(quantity)
        return explained(numbers[named(quantity, numbers, elsewhere=known(quantity))])

    def _numbers_near(self, quantity: str) -> dict[str, Leaf]:
        """Return the numbers of the sections that can hold the one meant; all where none does."""
        from springgeo.explanation import answered, homes, leaves

        if "_numbers" in self.__dict__:
            return self._numbers
        near = self.sections
        found: dict[str, Json] = {}
        for parts, keys in homes(quantity):
            with recorded():
                found |= {key: near[key] for key in keys}
            numbers = leaves(found)
            if answered(quantity, numbers, parts):
                return numbers
        return self._numbers

    def explained_numbers(self) -> dict[str, Leaf]:
        """Return every number of the summary that can be explained, by its name."""
        return self._numbers

    @property
    def free_length(self) -> float:
        """Length inside hooks without load, mm."""
        return self.model.geometry.length

    def __repr__(self) -> str:
        g, shown = self.model.geometry, self.shown
        return (
            f"<Spring '{self.spec.name}': d {shown.length(g.wire_diameter, 6)}, D "
            f"{shown.length(2 * g.coil_radius, 6)}, {shown.number(g.turns)} coils, L0 "
            f"{shown.length(g.length, 5)}>"
        )
