"""Charts of a push and of temperatures."""
