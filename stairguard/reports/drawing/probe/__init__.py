"""A probe pushed between strands, in section."""
