"""Where the torch runs, against the finished plates: it cuts all of their edges and none of them.

Knows nothing of how a path was made: the torch's middle keeps half a kerf off every finished edge,
in scrap, and comes that near to all of it; leads stay in scrap. Gaps and margins are measured too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from partgen.cut.dry_run import looks
from partgen.cut.obstacles import Obstacles
from partgen.geometry.outline import Outline, distance
from partgen.geometry.segment import Point, Segment
from partgen.layout import Sheet

CLOSE = 1e-3  # mm; a path may be this much off half a kerf
GAP_SLACK = 1e-4  # mm
VIEW = 0.05  # mm, chord error of the views that pick out what is near or inside
ROUND = 2.0  # kerfs; in a corner the torch stays this near the edge, which comes out round
Plates = Sequence[tuple[str, tuple[Outline, ...]]]  # openings first, the outside edge last


@dataclass(frozen=True)
class Room:
    """What a layout keeps free.

    Attributes:
        gap: between plates [mm].
        margin: to the sheet's edge and its openings [mm].
    """

    gap: float
    margin: float

    def between_paths(self, kerf: float) -> Room:
        """Return what is left free between the torch's paths, half a kerf off each edge."""
        return Room(self.gap - kerf, self.margin - kerf / 2)


def torch_faults(
    name: str,
    cuts: Sequence[Sequence[Segment]],
    leads: Sequence[Sequence[Segment]],
    plates: Plates,
    kerf: float,
) -> list[str]:
    """Return where the torch spoils a plate or leaves an edge uncut, one line for each kind.

    Args:
        name: of the file, for messages.
        cuts: paths that are cut, micro-joints closed [mm].
        leads: what is burnt besides [mm].
        plates: finished, where they lie [mm].
        kerf: width of the cut that the paths allow for [mm].
    """
    finished = [o.segments for _, outlines in plates for o in outlines]
    edges, paths = Obstacles(finished), Obstacles(cuts)
    on_path, half = looks(cuts), kerf / 2
    places = [*on_path, *looks(leads)]
    spoilt = _in_metal(places, plates)
    if half > CLOSE:
        clear = set(edges.all_free(places, half - CLOSE))
        spoilt += [p for p in places if p not in clear]
    return [
        f"{name}: {what} at ({at[0]:.3f}, {at[1]:.3f}) mm"
        for what, places in (
            ("the torch burns into a plate", spoilt),
            ("a cut is not along an edge", edges.all_free(on_path, half + CLOSE)),
            ("an edge is not cut", paths.all_free(looks(finished), ROUND * kerf + CLOSE)),
        )
        for at in places[:1]
    ]


def _in_metal(places: Sequence[Point], plates: Plates) -> list[Point]:
    """Return those of many points that lie in the metal of a plate."""
    metal = [
        shapely.Polygon(
            outlines[-1].polygon("inside", VIEW).exterior,
            [o.polygon("outside", VIEW).exterior for o in outlines[:-1]],
        ).buffer(-CLOSE)
        for _, outlines in plates
    ]
    points = shapely.points(np.array(places).reshape(-1, 2))
    inside, _ = shapely.STRtree(metal).query(points, predicate="within")
    return [places[k] for k in sorted(set(inside.tolist()))]


def gap_faults(name: str, edges: Sequence[Outline], sheet: Sheet, room: Room) -> list[str]:
    """Return plates that lie nearer each other, or the sheet's edge, than they may, or off it.

    A margin below 0 is how far a path may run off the sheet: plates on its very edge, kerf set off.
    """
    if not edges:
        return []
    views = [o.polygon("outside", VIEW) for o in edges]
    table = shapely.Polygon(
        sheet.outline.polygon("outside", VIEW).exterior,
        [o.polygon("inside", VIEW).exterior for o in sheet.openings],
    ).buffer(CLOSE + max(0.0, -room.margin))
    firsts = shapely.points([o.segments[0].start for o in edges])
    on_sheet = shapely.intersects(table, firsts).tolist()
    faults = [
        f"{name}: plate {k + 1} is too near the sheet's edge, or off it"
        for k, edge in enumerate(edges)
        if not on_sheet[k]
        or min(distance(edge.segments, o.segments) for o in (sheet.outline, *sheet.openings))
        < room.margin - GAP_SLACK
    ]
    pairs = shapely.STRtree(views).query(views, predicate="dwithin", distance=room.gap)
    faults += [
        f"{name}: plates {a + 1} and {b + 1} are too near each other"
        for a, b in pairs.T.tolist()
        if a < b and distance(edges[a].segments, edges[b].segments) < room.gap - GAP_SLACK
    ]
    return faults
