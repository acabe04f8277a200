"""A net of points measured one to another with a tape, as a job file holds it.

``[net.NAME]`` lists readings ``["A", "B", "40 in"]``: straight distances between marked points.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, StringConstraints, model_validator

from partgen.fields import Entry, Size

TOLERANCE = 25.4 / 16  # mm a tape may be off over a chassis; common practice, no source
MOST_POINTS = 60

PointName = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]{0,19}$")]
Reading = tuple[PointName, PointName, Size]


class Net(Entry):
    """``[net.NAME]``.

    Attributes:
        readings: point, point, and the distance between them [mm].
        tolerance: how far a good reading may be off [mm].
        dimensions: 2 for points dropped to one plane, 3 for points in space.
        square: four points round a frame whose squareness is wanted, in order.
    """

    readings: tuple[Reading, ...] = Field(min_length=1, max_length=2000)
    tolerance: Size = TOLERANCE
    dimensions: Literal[2, 3] = 2
    square: tuple[PointName, PointName, PointName, PointName] | None = None

    @model_validator(mode="after")
    def _readings_are_distances(self) -> Self:
        seen: set[frozenset[str]] = set()
        for a, b, _ in self.readings:
            if a == b:
                raise ValueError(f"reading {a} to {b}: a distance is between two points")
            if frozenset((a, b)) in seen:
                raise ValueError(f"reading {a} to {b} is there twice; keep the better one")
            seen.add(frozenset((a, b)))
        if len(self.points) > MOST_POINTS:
            raise ValueError(f"{len(self.points)} points; at most {MOST_POINTS} in one net")
        missing = [p for p in self.square or () if p not in self.points]
        if missing:
            raise ValueError(f"square: no reading of point {missing[0]}")
        if self.square and len(set(self.square)) < 4:
            raise ValueError("square: name four different points")
        return self

    @property
    def points(self) -> list[str]:
        """Names of the points, in the order they are first read."""
        return list(dict.fromkeys(name for a, b, _ in self.readings for name in (a, b)))
