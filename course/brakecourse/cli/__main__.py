"""`python -m brakecourse.cli`: the same as the command `brakecourse`."""

import sys

from brakecourse.cli import main

sys.exit(main())
