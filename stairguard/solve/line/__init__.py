"""The guard line: surfaces in place, where posts may stand along it, how it closes."""
