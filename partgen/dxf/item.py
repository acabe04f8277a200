"""What a DXF file draws, one entity each, in the order of the file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from partgen.dxf.read import INSIDE, MARK_LAYERS, OUTSIDE, REFERENCE, Drawing
from partgen.geometry.chain import Chain, backwards, halves
from partgen.geometry.containment import deepest_first
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Segment
from partgen.plates.plate import Mark, MarkKind

_MARKS: tuple[MarkKind, ...] = ("scribe", "drill", "bend")  # in the order of the file


@dataclass(frozen=True)
class Item:
    """One entity.

    Attributes:
        layer: its layer.
        shape: a closed outline, or an open chain of lines and arcs [mm].
        clockwise: whether a closed outline is drawn clockwise.
    """

    layer: str
    shape: Outline | Chain
    clockwise: bool = False

    @property
    def is_closed(self) -> bool:
        """Tell whether it is a closed outline."""
        return isinstance(self.shape, Outline)

    @property
    def segments(self) -> Chain:
        """Lines and arcs in the direction drawn, no arc beyond a half turn."""
        if not isinstance(self.shape, Outline):
            return halves(self.shape)
        chain = self.shape.segments
        return halves(backwards(chain) if self.clockwise else chain)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Exact extents: least x, least y, greatest x, greatest y [mm]."""
        boxes = [s.box for s in self.segments]
        return (
            min(b[0] for b in boxes),
            min(b[1] for b in boxes),
            max(b[2] for b in boxes),
            max(b[3] for b in boxes),
        )


def mark_items(marks: Iterable[Mark]) -> list[Item]:
    """Return marks as open chains: scribe lines, drill centres, bend lines."""
    by_kind = sorted(marks, key=lambda mark: _MARKS.index(mark.kind))
    chains = ((mark.kind, _lines(mark)) for mark in by_kind)
    return [Item(MARK_LAYERS[kind], chain) for kind, chain in chains if chain]


def drawing_items(drawing: Drawing) -> list[Item]:
    """Return a drawing in the order of the file: reference, marks, the deepest loop first."""
    loops = [(INSIDE, o) for o in drawing.inside] + [(OUTSIDE, o) for o in drawing.outside]
    order = deepest_first([outline for _, outline in loops])
    return [
        *(Item(REFERENCE, outline) for outline in drawing.reference),
        *mark_items(drawing.marks),
        *(Item(*loops[k]) for k in order),
    ]


def _lines(mark: Mark) -> Chain:
    return tuple(Segment(*a, *b) for a, b in pairwise(mark.path) if a != b)
