"""How any number of the summary was found, from the code that computed it.

=============  ==========================================================================
``quantities`` what every number of the summary is, and in which unit (``quantities.yaml``)
``leaves``     all numbers of a summary by name
``asked``      which of them a name means
``homes``      in which sections of a summary that may be, before it is computed
``chain``      the steps behind one, as data
``model``      the answer
``lines``      the answer as lines for a terminal
=============  ==========================================================================
"""

from springgeo.explanation.asked import answered, named
from springgeo.explanation.chain import explained
from springgeo.explanation.homes import homes, known
from springgeo.explanation.leaves import Leaf, leaves
from springgeo.explanation.model import Explanation

__all__ = ["Explanation", "Leaf", "answered", "explained", "homes", "known", "leaves", "named"]
