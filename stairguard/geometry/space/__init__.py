"""Spheres among bodies in space: the largest that finds a way from one side of a guard to the other."""
