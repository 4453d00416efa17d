"""The kernel's globals, borrowed and given back: console output and exchange settings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager

from OCP.Interface import Interface_Static
from OCP.Message import Message, Message_Gravity
from OCP.STEPControl import STEPControl_Controller


@contextmanager
def quiet_kernel() -> Iterator[None]:
    """Keep the kernel's progress messages off the console."""
    printers = list(Message.DefaultMessenger_s().Printers())
    levels = [printer.GetTraceLevel() for printer in printers]
    for printer in printers:
        printer.SetTraceLevel(Message_Gravity.Message_Fail)
    try:
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
