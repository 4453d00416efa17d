"""The kernel's globals, borrowed and given back: console output and exchange settings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager

from OCP.Interface import Interface_Static
from OCP.Message import Message, Message_Gravity
from OCP.STEPControl import STEPControl_Controller

from springgeo.process import closed_stdout


@contextmanager
def quiet_kernel() -> Iterator[None]:
    """Keep the kernel's messages off standard output while it reads or writes a file.

    What it says of progress is not printed at all; what it says of errors past its own printers
    goes nowhere, since an exception will say it.
    """
    printers = list(Message.DefaultMessenger_s().Printers())
    levels = [printer.GetTraceLevel() for printer in printers]
    for printer in printers:
        printer.SetTraceLevel(Message_Gravity.Message_Fail)
    try:
        with closed_stdout():
            yield
    finally:
        for printer, level in zip(printers, levels, strict=True):
            printer.SetTraceLevel(level)


@contextmanager
def kernel_settings(wanted: Mapping[str, str]) -> Iterator[None]:
    """Set text-valued exchange settings and restore what was there before."""
    STEPControl_Controller.Init_s()  # the settings do not exist before
    before = {name: Interface_Static.CVal_s(name) for name in wanted}
    for name, value in wanted.items():
        if not Interface_Static.SetCVal_s(name, value):
            raise ValueError(f"the kernel refuses {name} = {value}")
    try:
        yield
    finally:
        for name, value in before.items():
            Interface_Static.SetCVal_s(name, value)
