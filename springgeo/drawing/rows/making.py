"""Service, finish, heat treatment, testing, and what is left to the maker."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.drawing.rows.row import Row, Sheet
from springgeo.making.ruling import free_parameter
from springgeo.message import Message
from springgeo.results.facts import Reached
from springgeo.results.pull import Pull
from springgeo.text.quantity import Quantity, force, length, number, temperature
from springgeo.text.shown import said, word
from springgeo.trade.stress_relief import stress_relief


def making_rows(of: Sheet) -> Iterator[Row]:
    """Return the last groups of the table."""
    yield from _service(of)
    yield from _finish(of)


def _service(of: Sheet) -> Iterator[Row]:
    service, s = of.model.spec.service, of.summary
    yield Row("", word("SERVICE"), "")
    yield Row("", word("duty"), _duty(of))
    yield Row("", word("temperature"), said("{at}", at=temperature(service.temperature)))
    if service.forcing_frequency is not None:
        frequency = Quantity("frequency", service.forcing_frequency)
        yield Row("", word("forcing frequency"), said("{f}", f=frequency))
    yield from _stop(s.pull)


def _stop(pull: Pull) -> Iterator[Row]:
    """Return how far it may be drawn in service, and where it may yield."""
    there, first = pull.mounted, pull.first_yield
    stop = Reached(load=pull.travel_stop_load, length=pull.travel_stop) if there is None else there
    value = _reached(stop)
    if there is not None:
        value = said("{reached}, as mounted", reached=value)
    yield Row("", word("never drawn beyond"), value)
    if first is None:
        return
    if there is not None:
        words = word("may yield, pulled straight, from")
    else:
        before = first.length < stop.length
        words = word("may yield before, from") if before else word("may yield from")
    yield Row("", words, _reached(first))


def _reached(at: Reached) -> Message:
    return said("{length}, {load}", length=length(at.length), load=force(at.load))


def _duty(of: Sheet) -> str:
    service = of.model.spec.service
    duty = word(service.duty)
    if service.spectrum:
        return said("{duty}, {n} ranges of load", duty=duty, n=len(service.spectrum))
    if service.cycles is None:
        return duty
    return said("{duty}, {cycles} cycles", duty=duty, cycles=number(service.cycles))


def _finish(of: Sheet) -> Iterator[Row]:
    making, s = of.model.spec.making, of.summary
    yield Row("", word("MAKING"), "")
    yield Row("", word("surface, finish"), making.finish or word("as coiled; no coating"))
    peened = word("yes") if of.model.spec.service.peened else word("no")
    yield Row("", word("shot peening"), peened)
    yield Row("", word("stress relief"), _relief(of))
    yield Row("", word("test load, presetting"), _test(of))
    wire = said(
        "{length}, {mass}",
        length=length(s.geometry.wire_length, 5),
        mass=Quantity("mass", s.geometry.mass, 3),
    )
    yield Row("", word("wire length, mass"), wire)
    yield Row("", word("free for the maker"), free_parameter(of.model.spec, s)[0])


def _relief(of: Sheet) -> str:
    asked = of.model.spec.making.stress_relief
    if asked is not None:
        return said(
            "{at}, {minutes} min", at=temperature(asked.temperature), minutes=number(asked.minutes)
        )
    usual = stress_relief(of.summary.material.id)
    if usual is None:
        return word("after coiling; agree with maker")
    if usual.low == usual.high:
        return said(
            "{at}, {minutes} min, usual",
            at=temperature(usual.low, 3),
            minutes=number(usual.minutes),
        )
    return said(
        "{low} to {high}, {minutes} min, usual",
        low=temperature(usual.low, 3),
        high=temperature(usual.high, 3),
        minutes=number(usual.minutes),
    )


def _test(of: Sheet) -> str:
    making = of.model.spec.making
    if making.test_load is not None:
        return said("once to {load} before measuring", load=force(making.test_load))
    if making.test_length is not None:
        return said("once to {length} before measuring", length=length(making.test_length))
    return word("none")
