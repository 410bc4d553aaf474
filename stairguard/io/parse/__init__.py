"""Texts and values of callers read exactly: lengths, forces, angles, with their faults."""
