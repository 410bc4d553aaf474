"""The formulas, one module a topic: symbols with meaning and domain, equations, where they hold and whence they are."""
