"""A second opinion on one sheet: a compiled strip-packing library, in a child process.

The library knows outside edges only, so plates in a window ride with their host. It tells every
shorter strip as soon as it has one, so that an interrupt or the end of the time loses nothing. Its
answer is only a proposal: who takes it checks it first.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from importlib.util import find_spec
from math import isfinite
from pathlib import Path
from threading import Thread

import numpy as np

from partgen.layout.compaction import Loose
from partgen.layout.mask import TOUCH
from partgen.layout.piece import Piece, rings_of, turned_rings
from partgen.layout.shape import MASK_ERROR, turned_shape
from partgen.layout.stock import Stock

SPARE = 1e-4  # mm; asked of the library beyond the gap, for its rounding
ROUGH = 0.3  # mm; chord error, outward, of outlines it is given: fewer corners, more tries a second
ROUGH_FOR = range(31, 101)  # plates; fewer are packed well as masks are made, more gain nothing
CHILD = Path(__file__).with_name("strip_child.py")


def is_installed() -> bool:
    """Tell whether the library is there."""
    return find_spec("spyrrow") is not None


@dataclass(frozen=True, eq=False)
class Rider:
    """A piece in a group that moves as one.

    Attributes:
        loose: the piece where it is now.
        piece: what it is.
        turns: where else it may be turned to, on the grid [degrees].
    """

    loose: Loose
    piece: Piece
    turns: tuple[float, ...]


class StripRun:
    """A running child, and its shortest strip so far.

    Args:
        child: the process; every line it writes is one strip, each shorter than the one before.
        groups: each host first, then the plates in its windows.
        stock: the sheet.
    """

    def __init__(
        self, child: subprocess.Popen[str], groups: list[list[Rider]], stock: Stock
    ) -> None:
        self._child, self._groups, self._stock = child, groups, stock
        self._line = ""
        self._measured = self._line, float("inf")
        self._listener = Thread(target=self._listen, daemon=True)
        self._listener.start()

    def _listen(self) -> None:
        if self._child.stdout is None:
            return
        for line in self._child.stdout:
            if line.endswith("\n"):  # else it was cut off
                self._line = line

    def is_over(self, wait: float = 0.0) -> bool:
        """Tell whether the child has ended, after waiting for it up to ``wait`` [s]."""
        self._listener.join(max(0.0, wait))
        return not self._listener.is_alive()

    @property
    def end(self) -> float:
        """Far side of what is proposed so far; infinite if nothing is [mm]."""
        if self._line is not self._measured[0]:
            found = self.answer()
            end = float("inf") if found is None else max(p.end for p in found)
            self._measured = self._line, end
        return self._measured[1]

    def answer(self) -> list[Loose] | None:
        """Return the positions proposed so far; None if there are none that make sense."""
        try:
            placed = [
                (int(k), float(t), float(x), float(y)) for k, t, x, y in json.loads(self._line)
            ]
            if sorted(p[0] for p in placed) != list(range(len(self._groups))):
                return None
            if not all(isfinite(v) for p in placed for v in p):
                return None
            moved = [r for k, turn, x, y in placed for r in _moved(self._groups[k], turn, x, y)]
        except (ValueError, TypeError):
            return None
        return _settled(moved, self._stock)

    def stop(self) -> None:
        """End the child if it still runs."""
        if self._child.poll() is None:
            self._child.kill()
        self._child.wait()
        self._listener.join()
        for pipe in (self._child.stdin, self._child.stdout):
            if pipe is not None:
                with suppress(OSError):
                    pipe.close()


def start(
    riders: Sequence[Rider], stock: Stock, gap: float, seconds: int, seed: int = 1
) -> StripRun:
    """Start the library on one rectangular sheet for ``seconds`` [s]."""
    groups = _groups(riders)
    error = ROUGH if len(groups) in ROUGH_FOR else MASK_ERROR
    asked = {
        "height": stock.usable[1] + 2 * (gap + SPARE),
        "gap": gap + SPARE,
        "seconds": seconds,
        "workers": os.cpu_count() or 1,
        "seed": seed,
        "items": [{"points": _points(g[0], error), "turns": _turns(g)} for g in groups],
    }
    child = subprocess.Popen(
        [sys.executable, str(CHILD)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        start_new_session=True,
    )
    _tell(child, json.dumps(asked) + "\n")
    return StripRun(child, groups, stock)


def _tell(child: subprocess.Popen[str], text: str) -> None:
    """Write ``text`` to the child, which ends when this end of the pipe is closed.

    One that has already failed is found out by its answer.
    """
    if child.stdin is not None:
        with suppress(OSError):
            child.stdin.write(text)
            child.stdin.flush()


def _groups(riders: Sequence[Rider]) -> list[list[Rider]]:
    """Return riders grouped by the outermost plate whose window they lie in."""
    by_size = sorted(riders, key=lambda r: -r.loose.shape.length * r.loose.shape.width)
    groups: list[list[Rider]] = []
    for rider in by_size:
        for group in groups:
            if any(_in_window(rider.loose, host.loose) for host in group):
                group.append(rider)
                break
        else:
            groups.append([rider])
    return groups


def _in_window(guest: Loose, host: Loose) -> bool:
    x, y = guest.x - host.x, guest.y - host.y
    return any(
        x0 <= x and x + guest.shape.length <= x1 and y0 <= y and y + guest.shape.width <= y1
        for x0, y0, x1, y1 in host.shape.windows
    )


def _points(host: Rider, error: float) -> list[tuple[float, float]]:
    """Return the host's outside edge within ``error``, its box's corner at (0, 0) [mm]."""
    ring = rings_of(host.piece.edge.polygon("outside", error))
    shape = host.loose.shape
    return [(x, y) for x, y in turned_rings(ring, shape.turn, shape.x, shape.y)[0].tolist()]


def _turns(group: Sequence[Rider]) -> list[float]:
    """Return by how much a group may be turned from where it is [degrees]."""
    host = group[0]
    ways = [(t - host.loose.shape.turn) % 360.0 for t in host.turns]
    return [w for w in ways if all(_may_turn(r, w) for r in group)]


def _may_turn(rider: Rider, way: float) -> bool:
    turn = rider.loose.shape.turn + way
    return any(abs((turn - t + 180.0) % 360.0 - 180.0) < 1e-9 for t in rider.turns)


def _moved(group: Sequence[Rider], way: float, x: float, y: float) -> list[Loose]:
    """Return a group turned by ``way`` [degrees] about its host's corner, then moved [mm]."""
    host = group[0].loose
    found = []
    for rider in group:
        old = rider.loose
        turn = (old.shape.turn + round(way, 6)) % 360.0
        shape = turned_shape(rider.piece, old.shape.body, turn, old.shape.half_gap)
        at = np.array([[old.x - host.x + old.shape.x, old.y - host.y + old.shape.y]])
        ((dx, dy),) = turned_rings([at], round(way, 6), x, y)[0].tolist()
        found.append(Loose(old.item, shape, dx - shape.x, dy - shape.y))
    return found


def _settled(pieces: list[Loose], stock: Stock) -> list[Loose] | None:
    """Return the pieces moved to the start of the usable box, or None if they do not fit across."""
    left, low = min(p.x for p in pieces), min(p.y for p in pieces)
    high = max(p.y + p.shape.width for p in pieces)
    if high - low > stock.usable[1] + TOUCH or max(p.end for p in pieces) - left > stock.usable[0]:
        return None
    for p in pieces:
        p.x, p.y = p.x - left, p.y - low
    return pieces
