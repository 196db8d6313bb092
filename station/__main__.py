"""Starts the command line: `python -m station`."""

import sys

from station.cli.main import main

__all__ = ["main"]

if __name__ == "__main__":
    sys.exit(main())
