"""Revisions: which plates changed since the job was last made in a folder.

A plate's *content* is a short hash of what would be cut: exact geometry, rounded, thickness and
material. Its *revision* is a letter that moves on only when the content changed against the last
``job.json`` of the output folder; a plate that did not change keeps it. Scribed text and counts are
not content: scribing a revision does not make a new one.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from partgen.file_content import file_content
from partgen.geometry.outline import Outline
from partgen.plates.plate import Mark, Plate

DIGITS = 4  # decimals of a coordinate in mm
BULGE_DIGITS = 6
OFF_BORDER = 0.31415  # of the last digit; 1/32 in = 0.79375 mm would else fall either way
HASH_LENGTH = 6
FIRST = "A"
LARGEST_FILE = 200_000_000  # bytes


@dataclass(frozen=True)
class Revision:
    """A plate's letter and content.

    Attributes:
        letter: A, B, ... Z, AA, ...
        content: hash of what is cut.
    """

    letter: str
    content: str

    @property
    def text(self) -> str:
        """Both, as it is marked on the plate and its file: ``A-3f9c21``."""
        return f"{self.letter}-{self.content}"


def content(plate: Plate) -> str:
    """Return the short hash of a plate's exact geometry, thickness and material.

    Where it is drawn does not matter, nor where its outline starts, nor the order of openings.
    """
    x0, y0, _, _ = plate.outline.box
    at = plate.moved(-x0, -y0)
    data = {
        "outline": _rounded(at.outline),
        "openings": sorted(_rounded(outline) for outline in at.outlines[:-1]),
        "marks": sorted(_mark(m) for m in at.marks if m.kind != "scribe"),
        "thickness": f"{plate.thickness:.{DIGITS}f}",
        "material": plate.material.name,
    }
    text = json.dumps(data, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:HASH_LENGTH]


def revised(
    plates: Sequence[Plate], before: Mapping[str, Revision]
) -> tuple[list[Plate], dict[str, Revision]]:
    """Return the plates with their revisions, and all revisions known now.

    Args:
        plates: as built.
        before: by label, from the last time; plates not made this time keep theirs.
    """
    now = dict(before)
    for plate in plates:
        old, new = before.get(plate.label), content(plate)
        if old is None:
            now[plate.label] = Revision(FIRST, new)
        elif old.content != new:
            now[plate.label] = Revision(following(old.letter), new)
    return [replace(plate, revision=now[plate.label].text) for plate in plates], now


def following(letter: str) -> str:
    """Return the next revision letter.

    Examples:
        >>> following("A"), following("Z"), following("AZ"), following("ZZ")
        ('B', 'AA', 'BA', 'AAA')
    """
    head, last = letter[:-1], letter[-1]
    if last != "Z":
        return head + chr(ord(last) + 1)
    return (following(head) if head else "A") + "A"


def known_revisions(manifest: Path) -> dict[str, Revision]:
    """Return the revisions in the ``job.json`` of an earlier run; none if there is none."""
    try:
        found = json.loads(file_content(manifest, LARGEST_FILE))["revisions"]
        return {
            str(label): Revision(entry["letter"], entry["content"])
            for label, entry in found.items()
            if _is_revision(entry)
        }
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return {}


def _is_revision(entry: object) -> bool:
    if not isinstance(entry, dict):
        return False
    letter, short = entry.get("letter"), entry.get("content")
    return (
        isinstance(letter, str)
        and isinstance(short, str)
        and 0 < len(letter) <= 4
        and all("A" <= c <= "Z" for c in letter)
        and len(short) == HASH_LENGTH
        and all(c in "0123456789abcdef" for c in short)
    )


def _rounded(outline: Outline) -> list[str]:
    """Return the vertices as text, starting at the least of them."""
    points = [
        f"{_plain(v.x, DIGITS)} {_plain(v.y, DIGITS)} {_plain(v.bulge, BULGE_DIGITS)}"
        for v in outline.vertices
    ]
    if outline.circle_of:
        return ["circle", *(_plain(value, DIGITS) for value in outline.circle_of)]
    start = points.index(min(points))
    return points[start:] + points[:start]


def _mark(mark: Mark) -> str:
    points = [f"{_plain(x, DIGITS)} {_plain(y, DIGITS)}" for x, y in mark.path]
    return f"{mark.kind} {min(points, points[::-1])}"


def _plain(value: float, digits: int) -> str:
    """Return a number rounded; shifted first, so that no fraction of an inch sits on the border."""
    return f"{value + OFF_BORDER * 10.0**-digits:.{digits}f}"
