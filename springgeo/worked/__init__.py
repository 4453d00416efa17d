"""Numbers that remember how they were found, while somebody asks for it.

A formula of ``springgeo.mechanics`` is a plain function. Inside ``recorded()`` its results are
``Worked``: floats that carry a ``Step``, which holds the formula as the code has it, the values put
in, source and range of validity from the docstring, and the steps that the values came from.
Outside, nothing is kept and nothing is slower.

=============  ====================================================================
``number``     ``Worked``; how a value is told: given, from a table, read off, solved
``formula``    the decorator that lets a formula report
``reading``    a formula's expression, read from the function's own code
``expression`` expressions: simplified, evaluated
``written``    expressions as text, LaTeX, Typst and MathML
``arrays``     functions of numpy that let such numbers through
``docs``       what a docstring says: title, source, units, ranges
=============  ====================================================================
"""
