"""``python -m benchconsole``: the command line."""

import sys

from benchconsole.cli import main

if __name__ == "__main__":
    sys.exit(main())
