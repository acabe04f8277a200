"""Bolts: thread, head, nut, washer, clearance hole and stock lengths from published tables.

A size is offered where every table needed has its row; only clearance holes may be typed instead.
Lengths in mm.
Fine metric threads are not covered.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import inf, sqrt

from partgen.errors import ProfileError, nearest
from partgen.reference.bolt_sizes import (
    INCH,
    INCH_HOLES,
    INCH_TABLES,
    METRIC_TABLES,
    canonical,
    catalogue,
    lacking,
    near,
    sizes,
)
from partgen.reference.bolt_sizes import diameter as diameter_of
from partgen.reference.tables import Row, Table, load

__all__ = ["Bolt", "bolt", "sizes"]

FITS = {
    "close": "close",
    "fine": "close",
    "normal": "normal",
    "medium": "normal",
    "loose": "loose",
    "coarse": "loose",
}
WASHERS = ("N", "W")
# Ring spanner: outside diameter of its head by wrench opening W; at or above every row
# of CID A-A-1346A (a_a_1346a.toml), used beyond its rows as well.
TOOL_FACTOR, TOOL_PLUS = 1.5, 0.04 * INCH
TOOL_SOURCE = f"CID A-A-1346A: {TOOL_FACTOR:g} x the spanner's opening + {TOOL_PLUS / INCH:g} in"


@dataclass(frozen=True, kw_only=True)
class Bolt:
    """One bolt with its nut and washer.

    Attributes:
        size: canonical name, "M16" or "3/4-10".
        system: "metric" or "inch".
        diameter: nominal thread diameter [mm].
        pitch: thread pitch [mm].
        head_flats: greatest width of the head across flats [mm].
        head_corners: greatest width of the head across corners [mm].
        head_height: greatest height of the head [mm].
        nut_flats: greatest width of the nut across flats [mm].
        nut_height: greatest height of the nut [mm].
        nut_corners: greatest width of the nut across corners [mm].
        washer_hole: inside diameter of the washer [mm].
        washer_diameter: outside diameter of the washer [mm].
        washer_thickness: nominal thickness of the washer [mm].
        tool_diameter: circle a ring spanner needs round the axis [mm].
        transition: runout between body and full thread [mm].
        lengths: stock lengths under the head [mm].
        holes: close, normal and loose clearance hole; none where no table has them [mm].
        threads: pairs of greatest bolt length and its thread length [mm].
        sources: short citations of the tables; recalled rows say so.
    """

    size: str
    system: str
    diameter: float
    pitch: float
    head_flats: float
    head_corners: float
    head_height: float
    nut_flats: float
    nut_height: float
    nut_corners: float
    washer_hole: float
    washer_diameter: float
    washer_thickness: float
    tool_diameter: float
    transition: float
    lengths: tuple[float, ...]
    holes: tuple[float, float, float] | None
    threads: tuple[tuple[float, float], ...]
    sources: tuple[str, ...]

    def hole(self, fit: str | float = "normal") -> float:
        """Return the clearance hole's diameter [mm].

        Args:
            fit: close, normal or loose; or fine, medium or coarse; or the diameter itself [mm].

        Raises:
            ProfileError: the fit is unknown, no table has this bolt's holes, or the diameter
                passes no bolt or no washer covers it.

        Examples:
            >>> bolt("M16").hole("normal"), bolt("M16").hole("coarse"), bolt("M16").hole(16.2)
            (17.5, 18.5, 16.2)
        """
        if not isinstance(fit, str):
            return self._typed(fit)
        word = fit.strip().lower()
        if word not in FITS:
            raise ProfileError(f"bolt {self.size}: fit '{fit}' is unknown; {nearest(word, FITS)}")
        if self.holes is None:
            raise ProfileError(
                f"bolt {self.size}: {load(INCH_HOLES).source.cite} has no row for its hole; "
                f"write the hole's diameter in place of '{word}'"
            )
        return self.holes[("close", "normal", "loose").index(FITS[word])]

    def _typed(self, diameter: float) -> float:
        """Return a hole's diameter as typed [mm]."""
        if not self.diameter < diameter < self.washer_diameter:
            raise ProfileError(
                f"bolt {self.size}: its hole is {diameter:g} mm, needs more than "
                f"{self.diameter:g} mm and less than its washer, {self.washer_diameter:g} mm"
            )
        return diameter

    def thread_length(self, length: float) -> float:
        """Return the thread's nominal length of a bolt of this length [mm].

        A bolt shorter than that is threaded to the head.

        Raises:
            ProfileError: the length is not above 0.

        Examples:
            >>> bolt("M16").thread_length(100), bolt("M16").thread_length(30)
            (38.0, 30.0)
        """
        if not length > 0:
            raise ProfileError(f"bolt {self.size}: length is {length:g} mm, needs > 0 mm")
        thread = next(thread for top, thread in self.threads if length <= top)
        return float(min(thread, length))

    def grip_length(self, length: float) -> float:
        """Return head to first full thread, LG = L - LT [mm]; 0 if threaded to the head.

        Examples:
            >>> round(bolt("5/8-11").grip_length(3.5 * 25.4) / 25.4, 3)
            2.0
        """
        return length - self.thread_length(length)

    def body_length(self, length: float) -> float:
        """Return the full, unthreaded body, LB = LG - transition [mm]; at least 0.

        Five coarse pitches of transition; for a fine inch thread this is on the short side.

        Examples:
            >>> round(bolt("5/8-11").body_length(3.5 * 25.4) / 25.4, 3)
            1.545
        """
        return max(0.0, self.grip_length(length) - self.transition)


def bolt(size: str, *, washer: str = "N") -> Bolt:
    """Return a bolt by its size.

    Args:
        size: "M16", "3/4-10", "3/4-16"; "3/4" and "3/4 in" mean the coarse thread.
        washer: inch washers: N narrow or W wide series.

    Raises:
        ProfileError: the size or the washer is unknown, or a table lacks the size.

    Examples:
        >>> bolt("3/4 in").size, bolt("M16").head_flats
        ('3/4-10', 24.0)
    """
    name = canonical(size)
    label, threads_per_inch = catalogue()[name]
    table = lacking(label)
    if table:
        raise ProfileError(
            f"bolt '{size}': {load(table).source.cite} has no row {label}; {near(label)}"
        )
    series = washer.strip().upper()
    if series not in WASHERS or (series == "W" and threads_per_inch is None):
        known = "N or W" if threads_per_inch else "N (no table of wide metric washers)"
        raise ProfileError(f"bolt {name}: washer series is '{washer}', needs {known}")
    return _inch(name, series) if threads_per_inch else _metric(name)


@cache
def _metric(name: str) -> Bolt:
    """Return a metric bolt; its table rows exist."""
    rows = {table: _row(table, name) for table in METRIC_TABLES}
    thread, hole, head, nut, washer = (_Reader(load(table), row) for table, row in rows.items())
    diameter, flats = float(name[1:]), head.mm("s")
    corners = flats * 2 / sqrt(3)  # sharp hexagon: ISO 4014 prints only the least value
    long_thread = head.row["b_125_to_200"]
    b_long = 2 * diameter + 12 if long_thread is None else head.mm("b_125_to_200")  # ISO 888
    lengths = load("iso_888")
    return Bolt(
        size=name,
        system="metric",
        diameter=diameter,
        pitch=thread.mm("pitch"),
        head_flats=flats,
        head_corners=corners,
        head_height=head.mm("k_max"),
        nut_flats=flats,  # same flats as the bolt's head: ISO 272, from memory
        nut_height=nut.mm("m_max"),
        nut_corners=corners,
        washer_hole=washer.mm("d1"),
        washer_diameter=washer.mm("d2"),
        washer_thickness=washer.mm("h"),
        tool_diameter=TOOL_FACTOR * flats + TOOL_PLUS,
        transition=5 * thread.mm("pitch"),
        lengths=tuple(lengths.mm(row, "length") for row in lengths.rows),
        holes=(hole.mm("fine"), hole.mm("medium"), hole.mm("coarse")),
        threads=((125.0, head.mm("b_to_125")), (200.0, b_long), (inf, 2 * diameter + 25)),
        sources=(*_cites(rows), lengths.cite(lengths.rows[0])),
    )


@cache
def _inch(name: str, series: str) -> Bolt:
    """Return an inch bolt; its table rows exist."""
    label, threads_per_inch = catalogue()[name]
    assert threads_per_inch is not None
    rows = {table: _row(table, label) for table in INCH_TABLES[:-1]}
    rows["asme_b18_21_1"] = _row("asme_b18_21_1", label, series=series)
    _, head, nut, washer = (_Reader(load(table), row) for table, row in rows.items())
    holes = _holes(label)
    return Bolt(
        size=name,
        system="inch",
        diameter=diameter_of(label) or 0.0,
        pitch=INCH / threads_per_inch,
        head_flats=head.mm("f_max"),
        head_corners=head.mm("g_max"),
        head_height=head.mm("h_max"),
        nut_flats=nut.mm("f_max"),
        nut_height=nut.mm("h_max"),
        nut_corners=nut.mm("g_max"),
        washer_hole=washer.mm("id"),
        washer_diameter=washer.mm("od"),
        washer_thickness=washer.mm("t"),
        tool_diameter=TOOL_FACTOR * max(head.mm("f_max"), nut.mm("f_max")) + TOOL_PLUS,
        transition=head.mm("y"),
        lengths=_inch_lengths(),
        holes=None if holes is None else (holes.mm("close"), holes.mm("normal"), holes.mm("loose")),
        threads=((6 * INCH, head.mm("lt_to_6")), (inf, head.mm("lt_over_6"))),
        sources=(
            *_cites(rows | ({INCH_HOLES: holes.row} if holes else {})),
            "stock lengths: common practice, no source",
        ),
    )


@dataclass(frozen=True)
class _Reader:
    """One row of one table, read in mm."""

    table: Table
    row: Row

    def mm(self, field: str) -> float:
        return self.table.mm(self.row, field)


def _holes(label: str) -> _Reader | None:
    row = load(INCH_HOLES).find(bolt=label)
    return _Reader(load(INCH_HOLES), row) if row else None


def _row(table: str, label: str, **keys: str) -> Row:
    row = load(table).find(bolt=label, **keys)
    assert row is not None, f"{table}: {label}"
    return row


def _cites(rows: Mapping[str, Row]) -> list[str]:
    return [load(table).cite(row) for table, row in rows.items()]


def _inch_lengths() -> tuple[float, ...]:
    """1/4 in. steps to 6 in., 1/2 in. steps to 12 in.: common practice, no source."""
    quarters = [number / 4 for number in range(2, 25)]
    halves = [number / 2 for number in range(13, 25)]
    return tuple(length * INCH for length in quarters + halves)
