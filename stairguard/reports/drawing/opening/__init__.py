"""One opening on a sheet."""
