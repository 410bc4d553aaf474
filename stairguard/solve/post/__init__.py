"""Posts: where they stand, how long they are, their holes."""
