"""``python -m circuitplan`` is the same program."""

import sys

from circuitplan.cli import main

if __name__ == "__main__":
    sys.exit(main())
