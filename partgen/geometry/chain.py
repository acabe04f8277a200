"""Chains of lines and arcs as the torch runs them: begun anywhere, turned round, cut short."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum, tan

from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.segment import Segment

Chain = tuple[Segment, ...]
SPECK = 1e-6  # mm; a piece shorter than this is nothing


def portion(segment: Segment, first: float, last: float) -> Segment:
    """Return the piece of a line or arc from ``first`` to ``last`` (0 to 1 of its length)."""
    (x0, y0), (x1, y1) = segment.at(first), segment.at(last)
    if first <= 0:
        x0, y0 = segment.start
    if last >= 1:
        x1, y1 = segment.end
    bulge = tan(segment.sweep * (last - first) / 4) if segment.bulge else 0.0
    return Segment(x0, y0, x1, y1, bulge)


def begun(outline: Outline, at: int, part: float) -> Chain:
    """Return the outline as a chain that begins ``part`` along its segment number ``at``."""
    segments = outline.segments
    after = [*segments[at + 1 :], *segments[:at]]
    here = segments[at]
    ends = [portion(here, part, 1.0), *after, portion(here, 0.0, part)]
    return tuple(s for s in ends if s.length > SPECK)


def closed(chain: Sequence[Segment]) -> Outline:
    """Return the outline of a chain that ends where it begins."""
    return Outline(tuple(Vertex(s.x0, s.y0, s.bulge) for s in chain))


def backwards(chain: Sequence[Segment]) -> Chain:
    """Return the chain from its end to its start."""
    return tuple(s.reversed() for s in reversed(chain))


def length(chain: Sequence[Segment]) -> float:
    """Return the length of a chain [mm]."""
    return fsum(s.length for s in chain)


def shortened(chain: Sequence[Segment], gap: float) -> Chain:
    """Return the chain without its last ``gap`` mm."""
    kept = list(chain)
    while kept and kept[-1].length <= gap + SPECK:
        gap -= kept.pop().length
    if kept and gap > SPECK:
        kept[-1] = portion(kept[-1], 0.0, 1 - gap / kept[-1].length)
    return tuple(kept)


def halves(chain: Sequence[Segment]) -> Chain:
    """Return the chain with every arc of more than a half turn in two: readers drop its rest."""
    pieces: list[Segment] = []
    for s in chain:
        if abs(s.bulge) <= 1:
            pieces.append(s)
        else:
            pieces += [portion(s, 0.0, 0.5), portion(s, 0.5, 1.0)]
    return tuple(pieces)
