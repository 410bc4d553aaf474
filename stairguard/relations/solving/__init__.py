"""A declared relation solved for any of its symbols: closed forms first, then a bounded search."""
