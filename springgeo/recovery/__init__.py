"""From a mesh, a scan or a solid of any origin back to the spring: a specification that builds."""

from springgeo.recovery.recover import recover
from springgeo.recovery.result import Recovered
from springgeo.recovery.value import Value

__all__ = ["Recovered", "Value", "recover"]
