"""The command line: parses, calls one function of `api`, prints."""
