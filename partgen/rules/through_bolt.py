"""Through bolt: a bolt right through a rail has its hole in both plates, on the rail's flat wall.

Holes of the bolt's own size, coaxial within 0.01 mm. The crush sleeve's outside stays off the
rail's corner radii: geometry. Not covered: the sleeve's weld, holes in the wall as drilled.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from partgen.entries.rail import Rail
from partgen.fit.mount import Mount
from partgen.fit.sleeve import Through
from partgen.geometry.segment import Point
from partgen.job.build import Build
from partgen.plates.plate import Hole
from partgen.rules.finding import SLACK, Finding, Status, judged

RULE = "through-bolt"
COAXIAL = 0.01  # mm
SOURCE = "geometry"


def check(build: Build) -> list[Finding]:
    """Return the findings of every mount whose bolt goes through a rail."""
    return [f for m in build.mounts if m.through for f in _of_mount(build, m, m.through)]


def _of_mount(build: Build, mount: Mount, through: Through) -> Iterator[Finding]:
    holes = _holes(build, through)
    places = [hole for hole in holes.values() if hole]
    for key, hole in holes.items():
        yield _of_hole(key, hole, places, mount, through)
    rail = build.shop.rails[through.rail]
    if places:
        at = (places[0].x, places[0].y)
        required = through.sleeve.outside / 2 + rail.corner_radius
        measured = _inside(rail, at)
        yield judged(
            RULE,
            (mount.name, "crush sleeve on the flat of the rail's wall"),
            (measured, required),
            SOURCE,
            "move the hole to the middle of the rail",
        )


def _holes(build: Build, through: Through) -> dict[str, Hole | None]:
    """Return the bolt's hole in each plate on the rail, drawn as for the left."""
    found: dict[str, Hole | None] = {}
    for plate in build.plates:
        if plate.part == through.mount:
            drawn = plate.mirrored() if plate.hand == "right" else plate
            found[plate.key] = next((h for h in drawn.holes if h.name == through.hole), None)
    return found


def _of_hole(
    key: str, hole: Hole | None, places: list[Hole], mount: Mount, through: Through
) -> Finding:
    size = mount.bolt.size
    if hole is None or hole.bolt is None or hole.bolt.size != size:
        return Finding(
            rule=RULE,
            plate=key,
            where=f"hole {through.hole}",
            status=Status.FAIL,
            source=SOURCE,
            note=f"the bolt of '{mount.name}' needs a hole here: give part '{through.mount}' "
            f'holes = [{{ name = "{through.hole}", at = [x, y], bolt = "{size}" }}]',
        )
    off = dist((hole.x, hole.y), (places[0].x, places[0].y))
    status = Status.PASS if off <= COAXIAL + SLACK else Status.FAIL
    return Finding(
        rule=RULE,
        plate=key,
        where=f"hole {through.hole}, off the axis of the other plate's",
        status=status,
        measured=off,
        required=COAXIAL,
        source=SOURCE,
        note="" if status is Status.PASS else "give the hole once, in the part's own 'holes'",
        at_most=True,
    )


def _inside(rail: Rail, at: Point) -> float:
    """Return how far a point lies inside the rail's side; negative outside it [mm]."""
    x, y = at
    away = min(rail.lower.distance(at), rail.upper.distance(at))
    return away if rail.lower.height(x) < y < rail.upper.height(x) else -away
