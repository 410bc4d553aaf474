"""The symbolic core: each formula declared once, everything else made from the declaration.

`scalars`, `arrays` and `catalogue` are printed from the declarations by `printer` and load no sympy;
`engine` lists, solves and differentiates relations by name, and loads sympy only to solve.
"""
