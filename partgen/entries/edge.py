"""A measured edge of a rail as the job file gives it: stations, bends, or a traced drawing."""

from __future__ import annotations

from functools import cached_property
from itertools import pairwise
from math import dist, tan
from typing import Annotated, Any, Literal, Self

from pydantic import (
    BeforeValidator,
    Field,
    GetJsonSchemaHandler,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import CoreSchema

from partgen.entries.stations import Station, read_csv
from partgen.entries.trace import read_trace, to_size
from partgen.errors import GeometryError, PartgenError
from partgen.fields import At, Entry, Length, Margin, Reading
from partgen.file_content import LARGEST_DRAWN, beside
from partgen.geometry.biarc import smooth
from partgen.geometry.crossing import turn_at
from partgen.geometry.path import Path
from partgen.geometry.segment import Point, Segment
from partgen.measure import in_unit

TOLERANCE = 0.5  # mm from a station to a smooth curve; a tape's reading; common practice, no source
LEAST_STEP = 1.0  # mm from one station to the next


def _read_file(value: Any, info: ValidationInfo) -> Any:
    reading = info.context if isinstance(info.context, Reading) else Reading()
    return value if isinstance(value, tuple) else read_csv(_content(value, reading), reading)


def _read_drawing(value: Any, info: ValidationInfo) -> Any:
    reading = info.context if isinstance(info.context, Reading) else Reading()
    return value if isinstance(value, tuple) else read_trace(_content(value, reading))


def _content(value: Any, reading: Reading) -> bytes:
    if not isinstance(value, str):
        raise ValueError("must be a file name in quotes")
    return beside(reading.folder, value, LARGEST_DRAWN, "measured edge")


def _telling(work: Any) -> Any:
    """Return a validator whose errors are mistakes of the job file."""

    def told(value: Any, info: ValidationInfo) -> Any:
        try:
            return work(value, info)
        except PartgenError as error:
            raise ValueError(str(error)) from None

    return told


_FILE = {"type": "string", "description": "a file beside the job file"}
Rows = Annotated[tuple[Station, ...], BeforeValidator(_telling(_read_file)), WithJsonSchema(_FILE)]
Trace = Annotated[
    tuple[Segment, ...], BeforeValidator(_telling(_read_drawing)), WithJsonSchema(_FILE)
]
Bare = tuple[float, float]  # a point of a drawing, in its own unit


class Edge(Entry):
    """``lower_edge`` or ``upper_edge`` of a rail.

    Attributes:
        stations: x and y of each, and the bend radius there if it has one [mm].
        file: the same in a CSV file beside the job file.
        dxf: a drawing of the edge beside the job file, one open polyline.
        known: two points of the drawing: there, and on the rail [its unit, mm].
        through: "straight" lines from station to station, or one "smooth" curve of tangent arcs.
        tolerance: from a station to the smooth curve [mm].
    """

    stations: tuple[At | tuple[Length, Length, Margin], ...] = Field(default=(), max_length=1000)
    file: Rows | None = None
    dxf: Trace | None = None
    known: tuple[tuple[Bare, At], tuple[Bare, At]] | None = None
    through: Literal["straight", "smooth"] = "straight"
    tolerance: Annotated[Margin, Field(gt=0)] = TOLERANCE

    @model_validator(mode="after")
    def _can_be_drawn(self, info: ValidationInfo) -> Self:
        given = [n for n in ("stations", "file", "dxf") if getattr(self, n)]
        if len(given) != 1:
            raise ValueError("give one of 'stations', 'file' or 'dxf' (and it must not be empty)")
        if (self.dxf is None) != (self.known is None):
            raise ValueError("'dxf' needs 'known', two points that bring it to size, and only it")
        try:
            _ = self.path
        except GeometryError as error:
            unit = info.context.unit if isinstance(info.context, Reading) else "mm"
            raise ValueError(in_unit(str(error), unit)) from None
        return self

    @property
    def measured(self) -> tuple[Station, ...]:
        """What was measured: x and y of each station, and the bend radius if there is one [mm]."""
        if self.dxf is None:
            return self.file or self.stations
        return (self.path.start, *(s.end for s in self.path.segments))

    @cached_property
    def path(self) -> Path:
        """The edge as lines and arcs [mm].

        Raises:
            GeometryError: it cannot be drawn; the station is named.
        """
        if self.dxf is not None and self.known is not None:
            chain = to_size(self.dxf, self.known)
            if self.through == "straight" or any(s.bulge for s in chain):
                return Path.of(chain)
            return self._through([chain[0].start, *(s.end for s in chain)])
        return self._through(self.file or self.stations)

    def _through(self, stations: Any) -> Path:
        points = [(s[0], s[1]) for s in stations]
        radii = [s[2] if len(s) > 2 else 0.0 for s in stations]
        _refuse_disorder(points)
        if self.through == "smooth":
            if any(radii):
                raise GeometryError("a smooth curve takes no bend radii; leave the radii out")
            return Path.of(*smooth(points, self.tolerance))
        return bent(points, radii)


def _refuse_disorder(points: list[Point]) -> None:
    if len(points) < 2:
        raise GeometryError("one station is no edge; give two or more, or none if it is straight")
    for k, (a, b) in enumerate(pairwise(points), 1):
        if b[0] - a[0] < LEAST_STEP:
            raise GeometryError(
                f"station {k + 1} (x = {b[0]:g} mm) must lie at least 1 mm beyond station {k} "
                f"(x = {a[0]:g} mm); sort them by x"
            )


def bent(points: list[Point], radii: list[float]) -> Path:
    """Return straight lines that would meet at ``points``, with a tangent bend at each radius.

    Raises:
        GeometryError: a bend has no room on its lines; the station is named.
    """
    lines = [Segment(*a, *b) for a, b in pairwise(points)]
    turns = [0.0, *(turn_at(a, b) for a, b in pairwise(lines)), 0.0]
    trims = [r * tan(abs(t) / 2) for r, t in zip(radii, turns, strict=True)]
    chain: list[Segment] = []
    marks: list[int] = []
    for k, line in enumerate(lines):
        if trims[k] + trims[k + 1] > line.chord + 1e-9:
            raise GeometryError(
                f"stations {k + 1} and {k + 2} are {line.chord:g} mm apart, too near for bends of "
                f"radius {radii[k]:g} and {radii[k + 1]:g} mm; use a smaller radius"
            )
        start, end = line.at(trims[k] / line.chord), line.at(1 - trims[k + 1] / line.chord)
        if trims[k]:
            chain.append(Segment(*(chain[-1].end if chain else start), *start, tan(turns[k] / 4)))
            marks.append(k + 1)
        if dist(start, end) > 1e-6:
            chain.append(Segment(*(start if trims[k] else points[k]), *end))
            marks.append(k + 1)
    return Path.of(chain, marks)


class _ListToo:
    """JSON Schema of an edge: the table, or a bare list of stations."""

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        table = handler(schema)
        stations = {"type": "array", "items": {"type": "array"}}
        return {"anyOf": [table, stations]}


def _as_table(value: Any) -> Any:
    return {"stations": value} if isinstance(value, list | tuple) else value


EdgeEntry = Annotated[Edge, BeforeValidator(_as_table), _ListToo()]
