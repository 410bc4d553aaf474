"""``python -m stairguard`` is the command line."""

from stairguard.cli.main import main

if __name__ == "__main__":
    raise SystemExit(main())
