"""What a guard is made of: frozen, slotted dataclasses with no behaviour beyond their own invariants.

Lengths are exact rationals (`fractions.Fraction`) in the job's own unit, ``Job.unit``; the geometry is
homogeneous in length, so nothing below `io` ever converts. Angles are floats in degrees.
"""
