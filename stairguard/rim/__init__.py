"""Everything that touches the outside: units, job files, files out, drawing, the command line."""
