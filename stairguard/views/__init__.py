"""What a person or a program reads of a guard: drawings as records, results, reports.

A drawing is a list of frozen primitives in paper millimetres; whoever paints it adds nothing.
"""
