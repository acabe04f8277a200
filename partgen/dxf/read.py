"""Read a DXF file of any origin back into outlines: outside edges and their openings.

Taken: CIRCLE, closed LWPOLYLINE and POLYLINE with bulge, chains of LINE, ARC and open polylines
whose ends meet within 0.001 mm, or across the gaps of micro-joints where the file is our own and
says how wide they are. Passed over: lettering, points, dimensions, paper space, and our own layers
that are not cut. Everything else is refused by name, as is a file without unit.
Not looked at: whether a layer is hidden or frozen.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import shapely

from partgen.dxf.healing import TOLERANCE, heal
from partgen.dxf.micro_joints import closed_across, size_said
from partgen.dxf.paths import JOIN, Loop, Path, loops_of, path_of
from partgen.dxf.tags import COMPENSATED, HELD, NOMINAL, UNIT_COMMENT, DxfError, Tags, load
from partgen.errors import PartgenError
from partgen.geometry.outline import Outline
from partgen.measure import per_unit
from partgen.plates.plate import MOST_OPENINGS, Mark, MarkKind

OUTSIDE = "OUTSIDE_CUT"
INSIDE = "INSIDE_CUT"
ONE_LAYER = "CUT"  # outside edges and openings, where a shop wants them together
REFERENCE = "REFERENCE"
LEAD = "LEAD"
MARK_LAYERS: dict[MarkKind, str] = {
    "scribe": "SCRIBE_MARK",
    "drill": "DRILL_CENTRE",
    "bend": "BEND_LINE",
}
NOT_CUT = frozenset({*MARK_LAYERS.values(), REFERENCE, LEAD})
_MM = {
    1: per_unit("in"),
    2: 12 * per_unit("in"),
    4: 1.0,
    5: 10.0,
    6: 1000.0,
    14: 100.0,
}  # $INSUNITS
MOST_LOOPS, MOST_ROUND = 10_000, 200  # outlines of a drawing, and larger ones round one of them
Piece = tuple[Outline, ...]  # openings first, the outside edge last


@dataclass(frozen=True)
class Drawing:
    """What a DXF file holds.

    Attributes:
        outside: outside edges of the pieces [mm].
        inside: openings of all pieces [mm].
        reference: outlines drawn but not cut [mm].
        comments: lines at the head of the file [-].
        marks: lines that are not cut; passed over in reading [mm].
    """

    outside: tuple[Outline, ...]
    inside: tuple[Outline, ...]
    reference: tuple[Outline, ...] = ()
    comments: tuple[str, ...] = ()
    marks: tuple[Mark, ...] = ()


def read(data: bytes, *, where: str, unit: str | None = None) -> Drawing:
    """Return what is cut in a DXF file.

    Args:
        data: the whole file.
        where: what messages call the file.
        unit: "mm" or "in", for a file that states no unit.

    Raises:
        DxfError: one line with ``where``, the entity and what to do.
    """
    pieces, comments = _read(data, where, unit)
    return Drawing(
        outside=tuple(piece[-1] for piece in pieces),
        inside=tuple(opening for piece in pieces for opening in piece[:-1]),
        comments=comments,
    )


def read_pieces(data: bytes, *, where: str, unit: str | None = None) -> list[Piece]:
    """Return each outside edge of a DXF file with its own openings, as :func:`read` takes them.

    A piece that lies in another's opening is a piece of its own.

    Raises:
        DxfError: see :func:`read`.
    """
    return _read(data, where, unit)[0]


def read_healed(
    data: bytes, *, where: str, unit: str | None = None, tolerance: float = TOLERANCE
) -> tuple[list[Piece], tuple[str, ...]]:
    """Return the pieces of a DXF file drawn elsewhere, mended, and what was mended.

    Args:
        data: the whole file.
        where: what messages call the file.
        unit: "mm" or "in", for a file that states no unit.
        tolerance: widest gap that is closed [mm].

    Raises:
        DxfError: what cannot be mended, and see :func:`read`.
    """
    report: list[str] = []

    def mend(paths: list[Path]) -> list[Loop]:
        healed = heal(paths, tolerance)
        report.extend(healed.report)
        return healed.loops

    pieces, _ = _read(data, where, unit, mend)
    return pieces, tuple(report)


def _read(
    data: bytes,
    where: str,
    unit: str | None,
    join: Callable[[list[Path]], list[Loop]] = loops_of,
) -> tuple[list[Piece], tuple[str, ...]]:
    try:
        tags = load(data)
        scale = scale_of(tags, unit)
        if any(c.startswith(COMPENSATED) for c in tags.comments):
            raise DxfError("kerf is compensated in this file already; take the nominal one")
        cut = [entity for entity in tags.entities if entity.layer not in NOT_CUT]
        paths = [path for e in cut if (path := path_of(e, scale)) is not None]
        _refuse_many(sum(path.closed for path in paths), "closed outlines", MOST_LOOPS)
        gap = size_said(tags.comments, HELD)
        loops = join([held.path for held in closed_across(paths, gap)] if gap else paths)
        if not loops:
            raise DxfError(
                "nothing to cut: no line, arc, circle or polyline on a layer that is cut"
            )
        _refuse_many(len(loops), "closed outlines", MOST_LOOPS)
        pieces = _pieces(loops)
        _refuse_many(max(map(len, pieces)) - 1, "openings in one outside edge", MOST_OPENINGS)
        return pieces, _own_comments(tags.comments)
    except PartgenError as error:
        name = "".join(c if c.isprintable() else "?" for c in where)
        raise DxfError([f"{name}: {problem}" for problem in error.problems]) from None


def _refuse_many(count: int, what: str, most: int) -> None:
    if count > most:
        raise DxfError(f"{count} {what}; at most {most}: save the drawing in several files")


def _own_comments(comments: Iterable[str]) -> tuple[str, ...]:
    own = (c for c in comments if c != NOMINAL)
    return tuple(c for c in own if not c.startswith((UNIT_COMMENT, HELD)))


def scale_of(tags: Tags, unit: str | None) -> float:
    """Return the millimetres in the file's unit, stated there or in ``unit``.

    Raises:
        DxfError: it states none, two, one that is not known here, or another than ``unit``.
    """
    text = tags.header.get("$INSUNITS", "0")
    code = int(text) if text.isascii() and text.isdigit() else -1
    if code and code not in _MM:
        raise DxfError(f"unit code '{text}' ($INSUNITS) is not known here; save it in mm or inches")
    said, comment = _MM.get(code), _said(tags.comments)
    if said and comment and said != comment:
        raise DxfError(
            f"states a unit of {said:g} mm in its header and of {comment:g} mm in its first "
            "comment; mend the wrong one"
        )
    said = said or comment
    if unit is None:
        if said is None:
            raise DxfError(
                'states no unit; say whether its numbers are mm or in: unit = "mm" in a job, '
                "--file-unit mm for nest"
            )
        return said
    if said is not None and said != per_unit(unit):
        raise DxfError(
            f"states a unit of {said:g} mm, but '{unit}' was asked for; "
            "ask for none, or mend the unit in the file"
        )
    return per_unit(unit)


def _said(comments: tuple[str, ...]) -> float | None:
    """Return the unit that our own first comment states; R12 has no other place for it [mm]."""
    first = comments[0] if comments else ""
    return {UNIT_COMMENT + name: per_unit(name) for name in ("mm", "in")}.get(first)


def _pieces(loops: list[Loop]) -> list[Piece]:
    """Sort loops by what lies in what: outside edge, opening, the next piece in it, and so on."""
    order = sorted(range(len(loops)), key=lambda k: -loops[k].outline.area)
    inner = [loop.outline.polygon("inside") for loop in loops]
    outer = [loop.outline.polygon("outside") for loop in loops]
    tree = shapely.STRtree(inner)
    rank = {k: place for place, k in enumerate(order)}
    depth: dict[int, int] = {}
    parent: dict[int, int] = {}
    for k in order:
        larger = [int(j) for j in tree.query(inner[k]) if rank[int(j)] < rank[k]]
        _refuse_many(len(larger), f"larger outlines round {loops[k].label}", MOST_ROUND)
        around = [j for j in larger if _lies_in(loops, inner, outer, k, j)]
        depth[k] = len(around)
        if around:
            parent[k] = max(around, key=rank.__getitem__)
    openings: dict[int, list[Outline]] = {k: [] for k in order if depth[k] % 2 == 0}
    for k in sorted(parent):
        if depth[k] % 2:
            openings[parent[k]].append(loops[k].outline)
    return [(*openings[k], loops[k].outline) for k in sorted(openings)]


def _lies_in(
    loops: list[Loop],
    inner: list[shapely.Polygon],
    outer: list[shapely.Polygon],
    small: int,
    large: int,
) -> bool:
    """Tell whether loop ``small`` lies in ``large``; False if they are apart.

    Raises:
        DxfError: they cross, or are one and the same.
    """
    a, b = loops[small], loops[large]
    if outer[large].contains(inner[small]):
        if b.outline.area - a.outline.area <= JOIN * b.outline.length:
            raise DxfError(f"{a.label} lies on {b.label}: it would be cut twice; drop one")
        return True
    if inner[small].buffer(-JOIN).intersects(inner[large].buffer(-JOIN)):
        raise DxfError(f"{a.label} crosses {b.label}; keep outlines apart")
    return False


@dataclass(frozen=True)
class Drawn:
    """What one entity of a file draws, or several that micro-joints part.

    Attributes:
        layer: it lies on.
        path: its lines and arcs [mm].
        joints: micro-joints that hold it; its path is closed across them.
    """

    layer: str
    path: Path
    joints: int = 0


@dataclass(frozen=True)
class DrawnFile:
    """A file as it is drawn.

    Attributes:
        comments: lines at its head.
        entities: in their order; one that micro-joints part stands where its first run does.
    """

    comments: tuple[str, ...]
    entities: list[Drawn]


def read_drawn(data: bytes, *, where: str) -> DrawnFile:
    """Return every entity of a file of our own as it is drawn, closed only across micro-joints.

    Raises:
        DxfError: one line with ``where``: the file is broken, states no unit, or has an open cut
            that its micro-joints do not account for.
    """
    try:
        tags = load(data)
        scale, gap = scale_of(tags, None), size_said(tags.comments, HELD)
        made = ((e.layer, path_of(e, scale)) for e in tags.entities)
        drawn = [Drawn(layer, path) for layer, path in made if path is not None]
        return DrawnFile(tags.comments, _held(drawn, gap) if gap else drawn)
    except PartgenError as error:
        raise DxfError([f"{where}: {problem}" for problem in error.problems]) from None


def _held(drawn: list[Drawn], gap: float) -> list[Drawn]:
    """Return the entities with those cuts closed that micro-joints hold open, in their order."""
    found = [(k, d) for k, d in enumerate(drawn) if d.layer in NOT_CUT]
    for layer in dict.fromkeys(d.layer for d in drawn if d.layer not in NOT_CUT):
        there = [k for k, d in enumerate(drawn) if d.layer == layer]
        held = closed_across([drawn[k].path for k in there], gap)
        found += [(there[h.first], Drawn(layer, h.path, h.joints)) for h in held]
    return [d for _, d in sorted(found, key=lambda numbered: numbered[0])]
