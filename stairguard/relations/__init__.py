"""The symbolic core: each formula declared once, everything else made from the declaration.

`topics` declares; `printed` is what `printer` writes from that, and loads no sympy. `engine` lists, solves and
differentiates relations by name, and loads sympy only to solve; `compiled` makes any closed form a function on numbers
or arrays when it is asked for.
"""
