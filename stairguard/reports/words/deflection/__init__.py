"""Words on strands under a push: one bay, a whole guard, and what would hold it."""
