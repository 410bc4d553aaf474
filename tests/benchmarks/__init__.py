"""Ratios to a baseline measured in the same run; run with ``python -m tests.benchmarks``. Not collected by pytest."""
