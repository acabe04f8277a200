"""One flat piece to cut: its outline, its openings, what it is cut from and how many.

Glossary: an *opening* is a hole, slot or window cut inside an outline; a *hole* is round and takes
a bolt or pin; a *window* is any other opening, or a round one that takes nothing. *hand* is left,
right or same; right is left mirrored.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from math import fsum
from typing import Literal

import numpy as np
import shapely

from partgen.errors import GeometryError
from partgen.geometry.nearness import point_distances
from partgen.geometry.outline import CHORD_ERROR, SAME, Outline, Side, cos_sin, distance
from partgen.geometry.segment import Point
from partgen.geometry.symmetry import congruent
from partgen.measure import point_text
from partgen.reference.bolt import Bolt
from partgen.reference.material import Material

Hand = Literal["left", "right", "same"]
MOST_OPENINGS = 3000  # in one plate; the rules look at pairs of them
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
        return replace(self, path=tuple((c * x - s * y, s * x + c * y) for x, y in self.path))


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
        is_filled: whether a tab stands in it once it is put together.
    """

    name: str
    outline: Outline
    is_filled: bool = False


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
        notes: what to heed when it is cut or fitted; each becomes a warning.
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
    notes: tuple[str, ...] = ()
    revision: str = ""

    def __post_init__(self) -> None:
        """Refuse openings that leave the plate or meet each other.

        Raises:
            GeometryError: naming the opening and the plate; or there are too many.
        """
        if len(self.named_openings) > MOST_OPENINGS:
            raise GeometryError(
                f"{self.label}: {len(self.named_openings)} openings; at most {MOST_OPENINGS} in "
                "one plate: leave some out, or make it of two"
            )
        whole = self.outline.polygon("outside")
        shapely.prepare(whole)
        views = [(name, o, o.polygon("inside")) for name, o in self.named_openings]
        for name, opening, view in views:
            if not whole.contains(view) or _touch(
                opening, self.outline, whole.exterior.distance(view)
            ):
                x0, y0, x1, y1 = self.outline.box
                raise GeometryError(
                    f"{self.label}: {name} is not inside the plate; move or shrink it: its middle "
                    f"is at {point_text(opening.centroid)}, the plate's box goes from "
                    f"{point_text((x0, y0))[:-3]} to {point_text((x1, y1))}"
                )
        for k, j in _close([view for _, _, view in views]):
            (name, opening, view), (other, near, second) = views[k], views[j]
            if view.intersects(second) or _touch(opening, near, view.distance(second)):
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

    @property
    def bends(self) -> tuple[Mark, ...]:
        """Its bend lines; none of a flat plate."""
        return tuple(mark for mark in self.marks if mark.kind == "bend")

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
        return self.outline.area - fsum(o.area for _, o in self.named_openings)

    @cached_property
    def mass(self) -> float:
        """Exact area x thickness x density [kg]."""
        return self.area * self.thickness * 1e-9 * self.material.density

    @cached_property
    def cut_length(self) -> float:
        """Length of all cuts, nominal [mm]."""
        return fsum(o.length for o in self.outlines)

    def polygon(self, side: Side, chord_error: float = CHORD_ERROR) -> shapely.Polygon:
        """Return the metal as a shapely polygon that lies inside, or outside, the exact metal.

        Args:
            side: "inside" never shows metal that is not there, "outside" never hides any.
            chord_error: greatest distance between polygon and metal [mm].
        """
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

    def with_windows(self, windows: tuple[Window, ...]) -> Plate:
        """Return the plate with more openings.

        Raises:
            GeometryError: one leaves the plate, or meets another.
        """
        return replace(self, windows=(*self.windows, *windows)) if windows else self

    def with_note(self, note: str | None) -> Plate:
        """Return the plate with something more to heed, if there is anything."""
        return replace(self, notes=(*self.notes, note)) if note else self

    @cached_property
    def is_symmetric(self) -> bool:
        """Tell whether its mirror image, turned and moved, is the same plate."""
        other = self.mirrored()
        mine, theirs = ([(m.kind, m.path) for m in p.marks] for p in (self, other))
        return congruent(self.outlines, other.outlines, mine, theirs)


def _close(views: list[shapely.Polygon]) -> list[tuple[int, int]]:
    """Return each pair of views, by their numbers, that may belong to outlines that meet."""
    if len(views) < 2:
        return []
    tree = shapely.STRtree(views)
    pairs = tree.query(views, predicate="dwithin", distance=4 * CHORD_ERROR).T.tolist()
    return sorted((k, j) for k, j in pairs if k < j)


def _touch(a: Outline, b: Outline, seen: float) -> bool:
    """Tell whether two outlines meet, where their views are ``seen`` apart [mm]."""
    return seen <= 4 * CHORD_ERROR and distance(a.segments, b.segments) <= SAME


def hands_of(plate: Plate, hands: Literal["left", "right", "both", "same"]) -> list[Plate]:
    """Return the plates to cut: the left one as drawn, the right one mirrored.

    A plate that is the same both ways is one plate with its count doubled, hand "same".
    """
    if hands == "same" or plate.is_symmetric:
        pieces = plate.count * (2 if hands == "both" else 1)
        return [replace(plate, hand="same", count=pieces)]
    left = replace(plate, hand="left")
    return {"left": [left], "right": [left.mirrored()], "both": [left, left.mirrored()]}[hands]
