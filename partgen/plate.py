"""One flat piece to cut: its outline, its openings, what it is cut from and how many.

Glossary: an *opening* is a hole, slot or window cut inside an outline; a *hole* is round and takes
a bolt or pin; a *window* is any other opening, or a round one that takes nothing. *hand* is left,
right or same; right is left mirrored.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from math import atan2, degrees, dist
from typing import Literal

import numpy as np
import shapely

from partgen.bolt import Bolt
from partgen.errors import GeometryError
from partgen.material import Material
from partgen.nearness import point_distances
from partgen.outline import CHORD_ERROR, SAME, Outline, Side, cos_sin
from partgen.segment import Point

Hand = Literal["left", "right", "same"]
MarkKind = Literal["scribe", "drill", "bend"]


@dataclass(frozen=True)
class Mark:
    """A line on the plate that is not a cut.

    Attributes:
        kind: "scribe" to read or fit up by, "drill" a centre to drill at, "bend" a bend line.
        path: points joined by straight lines [mm].
        radius: inside radius of a bend [mm].
        angle: through which it is bent, up positive [degrees].
    """

    kind: MarkKind
    path: tuple[Point, ...]
    radius: float = 0.0
    angle: float = 0.0

    def mirrored(self) -> Mark:
        """Return the mark mirrored left to right."""
        return replace(self, path=tuple((-x, y) for x, y in self.path))

    def moved(self, dx: float, dy: float) -> Mark:
        """Return the mark shifted by (dx, dy) [mm]."""
        return replace(self, path=tuple((x + dx, y + dy) for x, y in self.path))

    def turned(self, angle: float) -> Mark:
        """Return the mark turned anticlockwise about (0, 0) by ``angle`` [degrees]."""
        c, s = cos_sin(angle)
        return Mark(self.kind, tuple((c * x - s * y, s * x + c * y) for x, y in self.path))


@dataclass(frozen=True)
class Hole:
    """A round opening for a bolt or pin.

    Attributes:
        name: what it is for, unique in its plate.
        x: centre [mm].
        y: centre [mm].
        diameter: as cut [mm].
        bolt: what it takes.
        instead_of: name of the hole whose bolt it takes when the mount is adjusted.
    """

    name: str
    x: float
    y: float
    diameter: float
    bolt: Bolt
    instead_of: str = ""

    @cached_property
    def outline(self) -> Outline:
        """The hole as an outline."""
        return Outline.circle(self.x, self.y, self.diameter)


@dataclass(frozen=True)
class Window:
    """An opening that takes no bolt: window, slot, lightening hole, drain.

    Attributes:
        name: what it is for, unique in its plate.
        outline: its edge [mm].
    """

    name: str
    outline: Outline


@dataclass(frozen=True, kw_only=True)
class Plate:
    """One flat piece to cut.

    Attributes:
        part: the part of the job it belongs to.
        name: which plate of the part.
        outline: outside edge, anticlockwise, first hand [mm].
        holes: round openings for bolts.
        windows: all other openings.
        marks: lines that are not cut.
        thickness: nominal [mm].
        material: what it is cut from.
        count: how many to cut.
        hand: left, right or same.
        revision: letter and content hash, "A-3f9c21"; empty until it is made in a folder.
    """

    part: str
    name: str
    outline: Outline
    holes: tuple[Hole, ...] = ()
    windows: tuple[Window, ...] = ()
    marks: tuple[Mark, ...] = ()
    thickness: float
    material: Material
    count: int = 1
    hand: Hand = "same"
    revision: str = ""

    def __post_init__(self) -> None:
        """Refuse openings that leave the plate or meet each other.

        Raises:
            GeometryError: naming the opening and the plate.
        """
        whole = self.outline.polygon("outside")
        views = [(name, o.polygon("inside")) for name, o in self.named_openings]
        for name, view in views:
            if not whole.contains(view):
                raise GeometryError(
                    f"{self.label}: {name} is not inside the plate; move or shrink it"
                )
        for k, (name, view) in enumerate(views):
            for other, second in views[k + 1 :]:
                if view.intersects(second):
                    raise GeometryError(f"{self.label}: {name} and {other} meet; move one of them")

    @property
    def key(self) -> str:
        """Part and plate, the name that a job file uses: ``front-mount/outer``."""
        return f"{self.part}/{self.name}"

    @property
    def label(self) -> str:
        """Key and hand: ``front-mount/outer/left``."""
        return self.key if self.hand == "same" else f"{self.key}/{self.hand}"

    @cached_property
    def named_openings(self) -> tuple[tuple[str, Outline], ...]:
        """Name and outline of every opening, holes first."""
        return (
            *((f"hole {h.name}", h.outline) for h in self.holes),
            *((f"window {w.name}", w.outline) for w in self.windows),
        )

    @cached_property
    def outlines(self) -> tuple[Outline, ...]:
        """Every closed cut: openings first, the outside edge last."""
        return (*(o for _, o in self.named_openings), self.outline)

    @cached_property
    def hole_edges(self) -> tuple[tuple[tuple[float, str], ...], ...]:
        """For each hole: distance to, and name of, the outside edge and each window [mm]."""
        names = ["outside edge", *(f"window {w.name}" for w in self.windows)]
        edges = [self.outline, *(w.outline for w in self.windows)]
        centres = np.array([(h.x, h.y) for h in self.holes]).reshape(-1, 2)
        rows = point_distances(centres, edges).tolist()
        return tuple(tuple(zip(row, names, strict=True)) for row in rows)

    @cached_property
    def area(self) -> float:
        """Exact area of metal [mm2]."""
        return self.outline.area - sum(o.area for _, o in self.named_openings)

    @cached_property
    def mass(self) -> float:
        """Exact area x thickness x density [kg]."""
        return self.area * self.thickness * 1e-9 * self.material.density

    @cached_property
    def cut_length(self) -> float:
        """Length of all cuts, nominal [mm]."""
        return sum(o.length for o in self.outlines)

    def polygon(self, side: Side, chord_error: float = CHORD_ERROR) -> shapely.Polygon:
        """Return the metal as a shapely polygon that lies inside, or outside, the exact metal."""
        other: Side = "outside" if side == "inside" else "inside"
        shell = self.outline.polygon(side, chord_error)
        cuts = [o.polygon(other, chord_error) for _, o in self.named_openings]
        return shapely.Polygon(shell.exterior.coords, [cut.exterior.coords for cut in cuts])

    def mirrored(self) -> Plate:
        """Return the plate mirrored left to right, its hand turned too."""
        hands: dict[Hand, Hand] = {"left": "right", "right": "left", "same": "same"}
        return replace(
            self,
            outline=self.outline.mirrored(),
            holes=tuple(replace(h, x=-h.x) for h in self.holes),
            windows=tuple(replace(w, outline=w.outline.mirrored()) for w in self.windows),
            marks=tuple(mark.mirrored() for mark in self.marks),
            hand=hands[self.hand],
        )

    def moved(self, dx: float, dy: float) -> Plate:
        """Return the plate shifted by (dx, dy) [mm]."""
        return replace(
            self,
            outline=self.outline.moved(dx, dy),
            holes=tuple(replace(h, x=h.x + dx, y=h.y + dy) for h in self.holes),
            windows=tuple(replace(w, outline=w.outline.moved(dx, dy)) for w in self.windows),
            marks=tuple(mark.moved(dx, dy) for mark in self.marks),
        )

    @cached_property
    def is_symmetric(self) -> bool:
        """Tell whether its mirror image, turned and moved, is the same plate."""
        return congruent(self.outlines, self.mirrored().outlines)


def hands_of(plate: Plate, hands: Literal["left", "right", "both", "same"]) -> list[Plate]:
    """Return the plates to cut: the left one as drawn, the right one mirrored.

    A plate that is the same both ways is one plate with its count doubled, hand "same".
    """
    if hands == "same" or plate.is_symmetric:
        pieces = plate.count * (2 if hands == "both" else 1)
        return [replace(plate, hand="same", count=pieces)]
    left = replace(plate, hand="left")
    return {"left": [left], "right": [left.mirrored()], "both": [left, left.mirrored()]}[hands]


def congruent(mine: tuple[Outline, ...], theirs: tuple[Outline, ...]) -> bool:
    """Tell whether one set of outlines, turned and moved, is the other; the last is the shell."""
    return any(
        _same_set([_carried(o, turn, start, target) for o in mine], theirs)
        for turn, start, target in _placements(mine, theirs)
    )


def _placements(
    mine: tuple[Outline, ...], theirs: tuple[Outline, ...]
) -> Iterator[tuple[float, Point, Point]]:
    """Yield each turn [degrees] about a point, and where that point goes, worth a try."""
    odd = next((o for o in reversed(mine) if o.circle_of is None), None)
    if odd is None:
        yield from _disc_placements(mine, theirs)
        return
    first = odd.segments[0]
    for target in (s for o in theirs if o.circle_of is None for s in o.segments):
        if abs(target.chord - first.chord) <= SAME and abs(target.bulge - first.bulge) <= SAME:
            turn = _heading(target.start, target.end) - _heading(first.start, first.end)
            yield degrees(turn), first.start, target.start


def _disc_placements(
    mine: tuple[Outline, ...], theirs: tuple[Outline, ...]
) -> Iterator[tuple[float, Point, Point]]:
    """Yield the turns of a disc of round holes: one hole off its centre onto each of the other."""
    here, there = mine[-1].centroid, theirs[-1].centroid
    arms = [_heading(here, o.centroid) for o in mine if dist(here, o.centroid) > SAME]
    goals = [_heading(there, o.centroid) for o in theirs if dist(there, o.centroid) > SAME]
    for goal in goals if arms else [0.0]:
        yield degrees(goal - (arms or [0.0])[0]), here, there


def _heading(a: Point, b: Point) -> float:
    return atan2(b[1] - a[1], b[0] - a[0])


def _carried(outline: Outline, turn: float, start: Point, target: Point) -> Outline:
    return outline.turned(turn, start).moved(target[0] - start[0], target[1] - start[1])


def _same_set(mine: list[Outline], theirs: tuple[Outline, ...]) -> bool:
    left = list(theirs)
    for outline in mine:
        for k, other in enumerate(left):
            if _same_shape(outline, other):
                del left[k]
                break
        else:
            return False
    return not left


def _same_shape(a: Outline, b: Outline) -> bool:
    if a.circle_of and b.circle_of:
        return all(abs(p - q) <= SAME for p, q in zip(a.circle_of, b.circle_of, strict=True))
    return a.is_same(b, 10 * SAME)
