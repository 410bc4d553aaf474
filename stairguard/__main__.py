"""``python -m stairguard`` is the command line."""

from stairguard.rim.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
