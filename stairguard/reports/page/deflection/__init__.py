"""Pages on strands under a push: one bay, or a guard."""
