"""The calculation note: job, material, geometry, every check with its formulas, sources.

============  ===========================================================================
``model``     blocks of a note, as data
``build``     from a spring to its note
``sections``  one function a section
``steps``     lines of formulas from the steps that were recorded (``springgeo.worked``)
``figures``   pictures and diagrams as SVG
``labels``    what quantities are called
``typst``     the note as Typst, and so as PDF; ``html`` and ``markdown``: as such
``write``     the note as a file
============  ===========================================================================
"""

from springgeo.note.build import note
from springgeo.note.write import write

__all__ = ["note", "write"]
