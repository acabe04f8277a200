"""The same input gives the same layout, in another process too."""

import os
import subprocess
import sys
from dataclasses import astuple

from partgen.geometry.belt import Pin, belt, rectangle
from partgen.layout import Piece, Sheet, lay_out

SCRIPT = """
import sys
sys.path.insert(0, {here!r})
from test_same_again import example
print(example())
"""


def example():
    pieces = [
        Piece("a", (belt([Pin(0, 0, 8), Pin(150, 0, 8), Pin(40, 90, 25)]),), 5),
        Piece("b", (rectangle(120, 60, 9),), 4),
        Piece("c", (belt([Pin(0, 0), Pin(70, 0), Pin(0, 80, 12)]),), 6),
    ]
    sheet = Sheet("s", rectangle(900, 300, 0, (450, 150)), 2)
    return repr(astuple(lay_out(pieces, [sheet], gap=5, margin=7, steps=15)))


def test_twice_here():
    assert example() == example()


def test_in_another_process():
    here = os.path.dirname(__file__)
    for seed in ("1", "2"):
        env = {**os.environ, "PYTHONHASHSEED": seed}
        run = subprocess.run(
            [sys.executable, "-c", SCRIPT.format(here=here)],
            env=env,
            capture_output=True,
            text=True,
            check=True,
        )
        assert run.stdout.strip() == example()
