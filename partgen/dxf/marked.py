"""Plates of a DXF file with what is marked on them and what the file says of itself."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from partgen.dxf.paths import path_of
from partgen.dxf.read import MARK_LAYERS, Piece, read_pieces, scale_of
from partgen.dxf.tags import load
from partgen.plates.plate import Mark


@dataclass(frozen=True)
class Marked:
    """One piece of a DXF file.

    Attributes:
        outlines: openings first, the outside edge last [mm].
        marks: lines on our own layers that are not cut [mm].
    """

    outlines: Piece
    marks: tuple[Mark, ...]


def read_marked(
    data: bytes, *, where: str, unit: str | None = None
) -> tuple[list[Marked], tuple[str, ...]]:
    """Return each piece of a DXF file with its own marks, and the comments at its head.

    Marks are chains of lines on layers of our own names. One that lies on no piece is left out.

    Args:
        data: the whole file.
        where: what messages call the file.
        unit: "mm" or "in", for a file that states no unit.

    Raises:
        DxfError: see :func:`partgen.dxf.read.read`.
    """
    pieces = read_pieces(data, where=where, unit=unit)
    tags = load(data)
    scale, kinds = scale_of(tags, unit), {layer: kind for kind, layer in MARK_LAYERS.items()}
    made = ((kinds[e.layer], path_of(e, scale)) for e in tags.entities if e.layer in kinds)
    marks = [
        Mark(kind, (*(s.start for s in path.segments), path.segments[-1].end))
        for kind, path in made
        if path is not None and not any(s.bulge for s in path.segments)
    ]
    owners = _owners(pieces, marks)
    found = [
        Marked(outlines, tuple(m for m, owner in zip(marks, owners, strict=True) if owner == k))
        for k, outlines in enumerate(pieces)
    ]
    return found, tags.comments


def _owners(pieces: Sequence[Piece], marks: Sequence[Mark]) -> list[int | None]:
    """Return the number of the smallest piece round each mark."""
    views = [piece[-1].polygon("outside") for piece in pieces]
    tree = shapely.STRtree(views)
    lines = [shapely.LineString(mark.path) for mark in marks]
    around: list[list[int]] = [[] for _ in marks]
    for k, piece in tree.query(lines, predicate="covered_by").T.tolist() if lines else ():
        around[k].append(piece)
    return [min(found, key=lambda k: (pieces[k][-1].area, k), default=None) for found in around]
