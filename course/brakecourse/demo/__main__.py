"""`python -m brakecourse.demo`: the same as `brakecourse demo`."""

import sys

from brakecourse.cli import main

sys.exit(main(["demo", *sys.argv[1:]]))
