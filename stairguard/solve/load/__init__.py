"""Strands under a push, and what they hand on."""
