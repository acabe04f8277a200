"""A layout accepted earlier, kept in ``job.json``: used again while nothing it lays out changed."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import astuple
from math import isclose
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from partgen.geometry.outline import Outline
from partgen.layout import Layout, Piece, Placement, Sheet, Used, verify

LARGEST_FILE = 50_000_000  # bytes
SAME = 1e-3  # mm; a used length in the file may be this far from what is measured
_PLACEMENTS = TypeAdapter(tuple[Placement, ...])
_USED = TypeAdapter(tuple[Used, ...])


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
    data = {
        "pieces": [
            [p.name, p.count, p.turns, p.priority, p.together, _exact(p.outlines)] for p in pieces
        ],
        "sheets": [[s.name, s.count, _exact((s.outline, *s.openings))] for s in sheets],
        "costs": sorted(costs.items()),
        "fixed": [astuple(p) for p in fixed],
        "gap": gap,
        "margin": margin,
    }
    return hashlib.sha256(json.dumps(data).encode()).hexdigest()


def known_layouts(manifest: Path) -> dict[str, Layout]:
    """Return the layouts in the ``job.json`` of an earlier run, by digest; none if there is none.

    What cannot be read is passed over; whether a layout holds is for :func:`holds` to say.
    """
    try:
        if manifest.stat().st_size > LARGEST_FILE:
            return {}
        entries = json.loads(manifest.read_text(encoding="utf-8"))["sheets"]
        found = [(e["digest"], e["placements"], e["used"]) for e in entries]
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return {}
    layouts = {}
    for digest, placements, used in found:
        layout = _layout(placements, used)
        if isinstance(digest, str) and layout is not None:
            layouts[digest] = layout
    return layouts


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


def _layout(placements: Any, used: Any) -> Layout | None:
    try:
        return Layout(_PLACEMENTS.validate_python(placements), _USED.validate_python(used))
    except ValidationError:
        return None


def _exact(outlines: Sequence[Outline]) -> list[list[list[str]]]:
    return [[[repr(v.x), repr(v.y), repr(v.bulge)] for v in o.vertices] for o in outlines]
