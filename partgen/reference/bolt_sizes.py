"""Bolt sizes: which are offered, and how a typed size is understood.

A size is offered where thread, head, nut and washer are all in a table; its clearance hole may have
to be typed (9/16 in. is in no table of holes).
"""

from __future__ import annotations

import re
from functools import cache

from partgen.errors import ProfileError, nearest
from partgen.reference.tables import load

INCH = 25.4
METRIC_TABLES = ("iso_261", "iso_273", "iso_4014", "iso_4032", "iso_7089")
INCH_TABLES = (
    "unified_threads",
    "asme_b18_2_1",
    "asme_b18_2_2",
    "asme_b18_21_1",
)
INCH_HOLES = "asme_b18_2_8"


def sizes() -> list[str]:
    """Return the canonical names of all bolts offered, metric first, then by diameter.

    Examples:
        >>> sizes()[:3], sizes()[-1]
        (['M5', 'M6', 'M8'], '1-12')
    """
    return [size for size, (label, _) in catalogue().items() if not lacking(label)]


@cache
def catalogue() -> dict[str, tuple[str, int | None]]:
    """Return canonical name: (label in the tables, threads per inch or None if metric)."""
    known: dict[str, tuple[str, int | None]] = {}
    for row in load("iso_261").rows:
        known[str(row["bolt"])] = (str(row["bolt"]), None)
    threads = load("unified_threads")
    for row in threads.rows:
        for series in ("unc_n", "unf_n"):
            number, label = int(threads.number(row, series)), str(row["bolt"])
            known[f"{label}-{number}"] = (label, number)
    return known


def lacking(label: str) -> str | None:
    """Return the first table without this size, or None if the bolt can be offered."""
    needed = METRIC_TABLES if label.startswith("M") else INCH_TABLES
    return next((table for table in needed if load(table).find(bolt=label) is None), None)


def canonical(size: str) -> str:
    """Return the canonical name of a typed size.

    Raises:
        ProfileError: the size is in no table of threads.

    Examples:
        >>> canonical("m16"), canonical("3/4 in"), canonical("3/4-16")
        ('M16', '3/4-10', '3/4-16')
    """
    text = re.sub(r'\s*(inch|in\.?|")$', "", size.strip(), flags=re.IGNORECASE)
    text = re.sub(r"\s+", "", re.sub(r"(?<=\d)\s+(?=\d)", "-", text)).upper()
    for name, (label, _) in catalogue().items():  # the coarse thread comes first
        if text in (name, label):
            return name
    hint = near(text)
    offered = "" if hint.startswith("did") else f"; offered: {', '.join(sizes())}"
    raise ProfileError(f"bolt '{size}' is unknown; {hint}{offered}")


def diameter(text: str) -> float | None:
    """Return the diameter a size names [mm], None if it names none.

    Examples:
        >>> diameter("M16"), diameter("3/4-16"), diameter("1-1/4"), diameter("1-8"), diameter("?")
        (16.0, 19.05, 31.75, 25.4, None)
    """
    if metric := re.match(r"M(\d{1,9}\.?\d*)", text, re.ASCII):
        return float(metric[1])
    if inch := re.match(r"(?:(\d{1,9})-)?(\d{1,9})/([1-9]\d{0,8})(?!\d)", text, re.ASCII):
        return round((int(inch[1] or 0) + int(inch[2]) / int(inch[3])) * INCH, 9)
    plain = re.match(r"(\d{0,9}\.?\d+)", text, re.ASCII)
    return float(plain[1]) * INCH if plain else None


def near(text: str) -> str:
    """Return a hint: the offered size nearest in diameter, within its own system.

    Examples:
        >>> near("M17"), near("1-1/4"), near("5/8-12")
        ("nearest: 'M16' and 'M18'", "nearest: '1-8'", "nearest: '5/8-11'")
        >>> near("16")
        "did you mean 'M16'?"
    """
    if f"M{text}" in sizes():
        return f"did you mean 'M{text}'?"
    wanted = diameter(text)
    if wanted is None:
        return nearest(text, sizes())

    def distance(name: str) -> float:
        return abs((diameter(name) or 0.0) - wanted)

    same = [s for s in sizes() if s.startswith("M") == text.startswith("M")]
    least = min(map(distance, same))
    by_size = {diameter(s): s for s in reversed(same) if distance(s) <= least + 1e-9}
    return "nearest: " + " and ".join(f"'{s}'" for s in reversed(by_size.values()))
