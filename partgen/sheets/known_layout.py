"""Layouts accepted earlier, kept in ``job.json``: used again while nothing they lay out changed.

What a layout follows from is shapes, counts and stock; names are not in it, so that a part or a
sheet may be renamed. A layout that a run had no use for, because a rule stopped the job, because
only some parts were made or a measure was tried, is kept for the next one that has.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from math import isclose
from pathlib import Path
from typing import Any

from pydantic import NonNegativeInt, TypeAdapter, ValidationError

from partgen.file_content import file_content
from partgen.geometry.outline import Outline
from partgen.layout import Layout, Piece, Placement, Sheet, Used, verify

LARGEST_FILE = 50_000_000  # bytes
MOST = 6  # layouts kept that the last run did not use
KEPT = "kept_layouts"  # their key in job.json
SAME = 1e-3  # mm; a used length in the file may be this far from what is measured
_PLACEMENTS = TypeAdapter(tuple[Placement, ...])
_USED = TypeAdapter(tuple[Used, ...])
_NAMES = TypeAdapter(tuple[str, ...])
_COUNT = TypeAdapter(NonNegativeInt)
_KEYS = ("digest", "pieces", "stock", "used", "placements")


def digest_of(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    costs: Mapping[str, float],
    fixed: Sequence[Placement] = (),
    *,
    gap: float,
    margin: float,
) -> str:
    """Return the SHA-256 of everything a layout follows from, exact outlines included."""
    names, stock = [p.name for p in pieces], [s.name for s in sheets]
    data = {
        "pieces": [[p.count, p.turns, p.priority, p.together, _exact(p.outlines)] for p in pieces],
        "sheets": [[s.count, costs.get(s.name), _exact((s.outline, *s.openings))] for s in sheets],
        "fixed": [
            [names.index(p.piece), stock.index(p.sheet), p.number, p.x, p.y, p.turn] for p in fixed
        ],
        "gap": gap,
        "margin": margin,
    }
    return hashlib.sha256(json.dumps(data).encode()).hexdigest()


@dataclass(frozen=True)
class Known:
    """A layout of an earlier run, with the names of that time.

    Attributes:
        layout: the layout.
        pieces: names of what it lays out, in order.
        sheets: names of what it was laid on, in order.
        searched: how often time has been given to search for it.
    """

    layout: Layout
    pieces: tuple[str, ...]
    sheets: tuple[str, ...]
    searched: int = 0

    def under(self, pieces: Sequence[Piece], sheets: Sequence[Sheet]) -> Layout | None:
        """Return the layout under the names of today; None if there are not as many."""
        if len(pieces) != len(self.pieces) or len(sheets) != len(self.sheets):
            return None
        plates = dict(zip(self.pieces, (p.name for p in pieces), strict=True))
        stock = dict(zip(self.sheets, (s.name for s in sheets), strict=True))
        try:
            placements = (
                replace(p, piece=plates[p.piece], sheet=stock[p.sheet])
                for p in self.layout.placements
            )
            used = (replace(u, sheet=stock[u.sheet]) for u in self.layout.used)
            return Layout(tuple(placements), tuple(used))
        except KeyError:
            return None


def known_layouts(manifest: Path) -> dict[str, Known]:
    """Return the layouts in the ``job.json`` of an earlier run, by digest; none if there is none.

    Those of its sheets come first. What cannot be read is passed over; whether a layout holds is
    for :func:`holds` to say.
    """
    try:
        data = json.loads(file_content(manifest, LARGEST_FILE))
        entries = [*data["sheets"], *data.get(KEPT, [])]
        found = [[*(e[key] for key in _KEYS), e.get("searched", 0)] for e in entries]
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return {}
    layouts: dict[str, Known] = {}
    for digest, *rest in found:
        known = _known(*rest)
        if isinstance(digest, str) and known is not None:
            layouts.setdefault(digest, known)
    return layouts


def known_data(digest: str, known: Known) -> dict[str, Any]:
    """Return a layout as ``job.json`` keeps it."""
    return {
        "digest": digest,
        "pieces": known.pieces,
        "stock": known.sheets,
        "used": [asdict(used) for used in known.layout.used],
        "placements": [asdict(placement) for placement in known.layout.placements],
        "searched": known.searched,
    }


def kept(known: Mapping[str, Known], used: Collection[str]) -> list[dict[str, Any]]:
    """Return the layouts, as data, that this run has no use for: all but the digests ``used``."""
    rest = [known_data(digest, k) for digest, k in known.items() if digest not in used]
    return rest[:MOST]


def holds(
    layout: Layout,
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    fixed: Sequence[Placement] = (),
    *,
    gap: float,
    margin: float,
) -> bool:
    """Tell whether a layout read from a file keeps every promise, and says so of itself."""
    if verify(layout, pieces, sheets, gap=gap, margin=margin, fixed=fixed):
        return False
    lengths = _lengths(layout, pieces, sheets)
    said = {(u.sheet, u.number): u.length for u in layout.used}
    return (
        len(said) == len(layout.used)
        and all(
            key in said and isclose(said[key], length, abs_tol=SAME, rel_tol=0.0)
            for key, length in lengths.items()
        )
        and len(said) == len(lengths)
    )


def _lengths(
    layout: Layout, pieces: Sequence[Piece], sheets: Sequence[Sheet]
) -> dict[tuple[str, int], float]:
    """Return the used length of each sheet, measured on exact outlines, margin left out [mm]."""
    kinds, stock = {p.name: p for p in pieces}, {s.name: s for s in sheets}
    found: dict[tuple[str, int], float] = {}
    for p in layout.placements:
        sheet, axis = stock[p.sheet], 1 if stock[p.sheet].upright else 0
        edge = kinds[p.piece].edge.turned(p.turn).moved(p.x, p.y)
        end = edge.box[axis + 2] - sheet.outline.box[axis]
        found[p.sheet, p.number] = max(end, found.get((p.sheet, p.number), 0.0))
    return found


def _known(pieces: Any, sheets: Any, used: Any, placements: Any, searched: Any) -> Known | None:
    try:
        layout = Layout(_PLACEMENTS.validate_python(placements), _USED.validate_python(used))
        names = _NAMES.validate_python(pieces), _NAMES.validate_python(sheets)
        return Known(layout, *names, _COUNT.validate_python(searched))
    except ValidationError:
        return None


def _exact(outlines: Sequence[Outline]) -> list[list[list[str]]]:
    return [[[repr(v.x), repr(v.y), repr(v.bulge)] for v in o.vertices] for o in outlines]
