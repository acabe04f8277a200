"""A dry run of a motion program: it is read back word by word and followed, torch and all.

Shares nothing with the code that writes programs but the geometry of lines and arcs, and the post
profile's own words. Words it does not know are faults, as is whatever a control would stumble over:
an arc whose ends are not equally far from its centre, travel with the torch on, a cut without unit
or before its dwell, one made twice, a torch left burning. Meaning of the words: NIST RS274/NGC
Interpreter, version 3 (NISTIR 6556).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from math import atan2, dist, fsum, pi, tan

import shapely

from partgen.cut.obstacles import Obstacles
from partgen.cut.post import Post
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment
from partgen.measure import per_unit

TRACE = 0.02  # mm; the torch keeps this near its contour
ROUND = 0.002  # mm; an arc's ends may differ this much in radius (NISTIR 6556, 3.5.3, from memory)
WILD = 1.0  # mm; ends that differ by more in radius are of no arc, and followed as a line
STEP = 5.0  # mm between the places that are measured
WORD = re.compile(r"\s*([A-Z])\s*([-+]?(?:\d+\.?\d*|\.\d+))")
SILENT = {("G", 17.0), ("G", 40.0), ("G", 90.0), ("G", 94.0)}


@dataclass
class DryRun:
    """What a program does.

    Attributes:
        burns: what the torch cuts, one chain for each time it is lit [mm].
        faults: one line each.
        dwells: seconds waited, in order [s].
        ended: whether an end word came.
    """

    burns: list[list[Segment]] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    dwells: list[float] = field(default_factory=list)
    ended: bool = False


class _Machine:
    """A control with nothing behind it."""

    def __init__(self, post: Post) -> None:
        self._post = post
        self._own = {*post.begin, *post.end}
        self._dwell = post.dwell.split("{seconds}")[0]
        self.run = DryRun()
        self.at: Point = (0.0, 0.0)
        self.scale = 0.0
        self.motion: float | None = None
        self.lit = False
        self.absolute = False
        self.feed = 0.0

    def line(self, number: int, text: str) -> None:
        """Follow one line; the post's own lines may hold words that are not known here."""
        if text == self._post.torch_on:
            self._light(number)
            return
        if text == self._post.torch_off:
            self.lit = False
            return
        if text.startswith(self._dwell) and self._dwell != text:
            self._wait(number, text[len(self._dwell) :])
            return
        known = len(self.run.faults)
        self._words_of(number, text)
        if text in self._own:
            del self.run.faults[known:]

    def _wait(self, number: int, text: str) -> None:
        match = re.match(r"[\d.]+", text)
        if match is None:
            self.run.faults.append(f"line {number}: a dwell without time")
            return
        self.run.dwells.append(float(match[0]))
        if not self.lit:
            self.run.faults.append(f"line {number}: a dwell with the torch off")

    def _light(self, number: int) -> None:
        if self.lit:
            self.run.faults.append(f"line {number}: torch lit twice")
        self.lit = True
        self.run.burns.append([])

    def _words_of(self, number: int, text: str) -> None:
        words = self._words(number, text)
        values: dict[str, float] = {}
        for letter, value in words:
            if letter == "G" and value in (0.0, 1.0, 2.0, 3.0):
                self.motion = value
            elif letter in "GM":
                self._code(number, letter, value)
            else:
                values[letter] = value
        self._move(number, values)

    def _words(self, number: int, text: str) -> list[tuple[str, float]]:
        bare = re.sub(r"\([^()]*\)|;.*", " ", text)
        found = [(m[1], float(m[2])) for m in WORD.finditer(bare)]
        rest = WORD.sub("", bare).strip()
        if rest:
            self.run.faults.append(f"line {number}: '{rest[:30]}' is no word")
        return found

    def _code(self, number: int, letter: str, value: float) -> None:
        code = (letter, value)
        if code in (("G", 20.0), ("G", 21.0)):
            self.scale = per_unit("in" if value == 20 else "mm")
        elif code == ("G", 91.0):
            self.absolute = False
        elif code in (("M", 2.0), ("M", 30.0)):
            self.run.ended = True
        elif code not in SILENT:
            self.run.faults.append(f"line {number}: {letter}{value:g} is not known here")
        self.absolute = self.absolute or code == ("G", 90.0)

    def _move(self, number: int, values: dict[str, float]) -> None:
        self.feed = values.pop("F", self.feed)
        if not values:
            return
        faults = self.run.faults
        if not self.scale or not self.absolute or self.motion is None:
            faults.append(f"line {number}: a move before unit, G90 or a motion word")
            return
        strange = sorted(values.keys() - set("XYIJ"))
        if strange:
            faults.append(f"line {number}: '{strange[0]}' is not known here")
        target = (
            values["X"] * self.scale if "X" in values else self.at[0],
            values["Y"] * self.scale if "Y" in values else self.at[1],
        )
        if self.motion == 0 and self.lit:
            faults.append(f"line {number}: travel with the torch on")
        elif self.lit and len(self.run.dwells) < len(self.run.burns):
            faults.append(f"line {number}: a cut before its dwell")
        if self.motion != 0 and not self.feed:
            faults.append(f"line {number}: a cut without feed")
        if self.motion in (1.0, 0.0):
            self._burn(Segment(*self.at, *target))
        else:
            self._arc(number, target, values.get("I", 0.0), values.get("J", 0.0))
        self.at = target

    def _arc(self, number: int, target: Point, i: float, j: float) -> None:
        centre = (self.at[0] + i * self.scale, self.at[1] + j * self.scale)
        differ = abs(dist(centre, self.at) - dist(centre, target))
        if differ > ROUND:
            self.run.faults.append(f"line {number}: the arc's ends differ in radius")
        if differ > WILD:
            self._burn(Segment(*self.at, *target))
            return
        first = atan2(self.at[1] - centre[1], self.at[0] - centre[0])
        last = atan2(target[1] - centre[1], target[0] - centre[0])
        sweep = (last - first) % (2 * pi)
        if self.motion == 2:
            sweep -= 2 * pi
        self._burn(Segment(*self.at, *target, tan(sweep / 4)))

    def _burn(self, segment: Segment) -> None:
        if self.lit and self.motion != 0 and segment.chord > 0:
            self.run.burns[-1].append(segment)


def follow(content: bytes, post: Post) -> DryRun:
    """Return what a program does, written with the words of ``post``."""
    machine = _Machine(post)
    for number, text in enumerate(content.decode("ascii", "replace").splitlines(), 1):
        if machine.run.ended:
            break
        machine.line(number, text)
    if machine.lit:
        machine.run.faults.append("the program ends with the torch on")
    return machine.run


def faults(
    content: bytes,
    post: Post,
    contours: Sequence[Sequence[Segment]],
    leads: Sequence[Sequence[Segment]],
    sheet: Outline | None,
) -> list[str]:
    """Return what is wrong with a program, one line each; nothing if all is well.

    Args:
        content: the program.
        post: whose words it is written with.
        contours: what must be cut, all of it and nothing else [mm].
        leads: where the torch may burn besides [mm].
        sheet: what it must not leave, if known [mm].
    """
    run = follow(content, post)
    found = list(run.faults)
    if len(run.burns) != len(run.dwells):
        found.append(f"{len(run.burns)} arc starts but {len(run.dwells)} dwells")
    burnt = Obstacles([burn for burn in run.burns if burn])
    asked = Obstacles([c for c in (*contours, *leads) if c])
    found += [
        f"torch on at {_place(p)} mm, {TRACE} mm or more off every contour"
        for p in asked.all_free(looks(run.burns), TRACE)
    ]
    found += [
        f"contour at {_place(p)} mm is not cut" for p in burnt.all_free(looks(contours), TRACE)
    ]
    more = _length(run.burns) - _length([*contours, *leads])
    if more > TRACE + ROUND * sum(len(burn) for burn in run.burns):
        found.append(
            f"torch on for {more:.3f} mm more than there is to cut: something is cut twice"
        )
    if sheet is not None:
        found += _off_sheet(run, sheet)
    return found


def _length(chains: Sequence[Sequence[Segment]]) -> float:
    return fsum(s.length for chain in chains for s in chain)


def looks(chains: Sequence[Sequence[Segment]]) -> list[Point]:
    """Return places along chains, ``STEP`` apart or nearer, ends and middles among them."""
    places = []
    for s in (s for chain in chains for s in chain):
        n = 2 * (1 + int(s.length / STEP / 2))
        places += [s.at(k / n) for k in range(n + 1)]
    return places


def _off_sheet(run: DryRun, sheet: Outline) -> list[str]:
    x0, y0, x1, y1 = sheet.box
    shape = sheet.polygon("outside").buffer(TRACE)
    places = looks(run.burns)
    inside = shapely.contains_xy(shape, places) if places else []
    return [
        f"torch on at {_place(p)} mm, off the sheet ({x0:g}..{x1:g}, {y0:g}..{y1:g} mm)"
        for p, ok in zip(places, inside, strict=True)
        if not ok
    ]


def _place(point: Point) -> str:
    return f"({point[0]:z.3f}, {point[1]:z.3f})"
