"""Which outlines lie in which others."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from partgen.geometry.outline import Outline

VIEW_ERROR = 0.05  # mm; loops are kerfs apart, so a rough view tells what lies in what


def holders(outlines: Sequence[Outline]) -> list[list[int]]:
    """Return for each outline the numbers of those it lies in, the smallest first."""
    views = [o.polygon("inside", VIEW_ERROR) for o in outlines]
    firsts = shapely.points(np.array([o.segments[0].at(0.5) for o in outlines]))
    small, large = shapely.STRtree(views).query(firsts, predicate="within")
    around: list[list[int]] = [[] for _ in outlines]
    for k, j in zip(small.tolist(), large.tolist(), strict=True):
        if k != j and outlines[j].area > outlines[k].area:
            around[k].append(j)
    for found in around:
        found.sort(key=lambda j: (outlines[j].area, j))
    return around


def deepest_first(outlines: Sequence[Outline]) -> list[int]:
    """Return the numbers of the outlines, those inside most others first, else as they stand."""
    around = holders(outlines) if outlines else []
    return sorted(range(len(outlines)), key=lambda k: -len(around[k]))
