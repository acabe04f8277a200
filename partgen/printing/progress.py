"""How far the search for a layout is: one line on a terminal, written over."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TextIO

from partgen.sheets.searching import Told

PAUSE = 0.1  # s between two lines
WIDTH = 72  # characters that are written over


@contextmanager
def progress(stream: TextIO | None = None) -> Iterator[Told | None]:
    """Give a callback that shows words on the search; None where nobody looks at a terminal."""
    out = stream or sys.stderr
    if not out.isatty():
        yield None
        return
    last = [-PAUSE]

    def told(words: str) -> None:
        now = time.monotonic()
        if now - last[0] >= PAUSE:
            last[0] = now
            out.write(f"\r{words:<{WIDTH}.{WIDTH}}")
            out.flush()

    try:
        yield told
    finally:
        if last[0] > 0:
            out.write("\r" + " " * WIDTH + "\r")
            out.flush()
