"""The guard as solved, stage by stage: surface line, layout, checked layout.

Frame: station s level along the guard line, increasing as the job lists its surfaces; elevation z up.
Stations, elevations and plumb heights are exact rationals in the job's unit. Lengths that involve a
square root (along or square to a slope) are floats in the same unit; angles are degrees.
"""
