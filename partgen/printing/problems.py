"""What is wrong with an input."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from partgen.printing.text import print_json


def problems(lines: Sequence[str], *, as_json: bool) -> None:
    """Print what is wrong with an input, one line each."""
    if as_json:
        print_json({"problems": list(lines)})
    for line in lines:
        print(" ".join(line.split()), file=sys.stderr)
