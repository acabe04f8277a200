"""A DXF file as entities of plain tags: group code and text, nothing interpreted yet.

Every file is a stranger: a wrong one gives one line that names the file and the place.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise
from math import isfinite

from partgen.errors import PartgenError

MOST_ENTITIES = 200_000
UNIT_COMMENT = "unit: "
NOMINAL = "nominal size, kerf not compensated"
COMPENSATED = "kerf compensated in this file: "
HELD = "held by micro-joints: each outside edge is open there, for "
Tag = tuple[int, bytes]


class DxfError(PartgenError):
    """A DXF file cannot be read or written."""


@dataclass
class Entity:
    """One entity of the drawing.

    Attributes:
        kind: its DXF type.
        tags: group codes and texts, in order.
        children: the vertices of a POLYLINE.
    """

    kind: str
    tags: list[Tag] = field(default_factory=list)
    children: list[Entity] = field(default_factory=list)

    def text(self, code: int, default: str = "") -> str:
        """Return the first text of a group code, printable and short."""
        for tag, value in self.tags:
            if tag == code:
                return shown(value)
        return default

    def number(self, code: int, default: float | None = None) -> float:
        """Return the first number of a group code.

        Raises:
            DxfError: none there, or no finite number.
        """
        for tag, value in self.tags:
            if tag == code:
                return self.read_number(code, value)
        if default is None:
            raise DxfError(f"{self.label}: group {code} is missing; save the file again")
        return default

    def read_number(self, code: int, value: bytes) -> float:
        """Return ``value`` as a number.

        Raises:
            DxfError: no finite number.
        """
        try:
            number = float(value)
        except ValueError:
            number = float("nan")
        if not isfinite(number):
            raise DxfError(f"{self.label}: group {code} is '{shown(value)}', no finite number")
        return number

    def flags(self, code: int = 70) -> int:
        """Return the first whole number of a group code, 0 if there is none."""
        return int(self.number(code, 0))

    @property
    def layer(self) -> str:
        """Name of the layer."""
        return self.text(8, "0")

    @property
    def label(self) -> str:
        """What messages call it: type, handle, layer."""
        handle = self.text(5)
        return f"{self.kind}{f' {handle}' if handle else ''} on layer '{self.layer}'"


@dataclass
class Tags:
    """A file in parts.

    Attributes:
        comments: 999 lines ahead of the first section.
        header: variables and their first value.
        entities: the drawing's entities, paper space left out.
    """

    comments: tuple[str, ...]
    header: dict[str, str]
    entities: list[Entity]


def shown(value: bytes) -> str:
    """Return text for a message: one printable line of at most 40 characters."""
    text = "".join(c if c.isprintable() else "?" for c in value.decode("utf-8", "replace").strip())
    return text if len(text) <= 40 else text[:37] + "..."


def load(data: bytes) -> Tags:
    """Take a DXF file apart.

    Raises:
        DxfError: no ASCII DXF, or it ends too soon.
    """
    tags = _tags(data)
    comments = []
    for code, value in tags:
        if code != 999:
            break
        comments.append(value.strip().decode("ascii", "replace"))
    sections = _sections([tag for tag in tags if tag[0] != 999])
    if "ENTITIES" not in sections:
        raise DxfError("has no ENTITIES section; save it again as ASCII DXF")
    entities = [e for e in _entities(sections["ENTITIES"]) if e.flags(67) == 0]
    return Tags(tuple(comments), _header(sections.get("HEADER", [])), entities)


def _tags(data: bytes) -> list[Tag]:
    if b"\0" in data[:4096]:
        raise DxfError("is a binary file; save it as ASCII DXF")
    lines = data.removeprefix(b"\xef\xbb\xbf").splitlines()
    tags: list[Tag] = []
    for k in range(0, len(lines) - 1, 2):
        code = lines[k].strip()
        if not code.removeprefix(b"-").isdigit() or len(code) > 6:
            raise DxfError(f"line {k + 1}: '{shown(code)}' is no group code; this is no sound DXF")
        tags.append((int(code), lines[k + 1].strip(b" \t") if k else lines[k + 1].strip()))
        if tags[-1] == (0, b"EOF"):
            return tags
    if not any(tag == (0, b"SECTION") for tag in tags):
        raise DxfError("is no DXF file; save it as ASCII DXF")
    raise DxfError(f"ends too soon, at line {len(lines)} without its EOF mark; copy it again")


def _sections(tags: list[Tag]) -> dict[str, list[Tag]]:
    sections: dict[str, list[Tag]] = {}
    k = 0
    while k < len(tags) - 1:
        if tags[k] == (0, b"SECTION") and tags[k + 1][0] == 2:
            start = k = k + 2
            while k < len(tags) and tags[k] not in {(0, b"ENDSEC"), (0, b"EOF")}:
                k += 1
            sections[tags[start - 1][1].decode("ascii", "replace")] = tags[start:k]
        k += 1
    return sections


def _header(tags: list[Tag]) -> dict[str, str]:
    """Return each variable with its first value."""
    return {shown(name): shown(first) for (code, name), (_, first) in pairwise(tags) if code == 9}


def _entities(tags: Iterable[Tag]) -> list[Entity]:
    found: list[Entity] = []
    owner: Entity | None = None  # the POLYLINE whose vertices follow
    for code, value in tags:
        if code != 0:
            if found:
                (owner.children[-1] if owner and owner.children else found[-1]).tags.append(
                    (code, value)
                )
            continue
        kind = shown(value).upper()
        if owner and kind == "VERTEX":
            owner.children.append(Entity(kind))
            continue
        if kind != "SEQEND":
            found.append(Entity(kind))
            owner = found[-1] if kind == "POLYLINE" else None
        elif owner:
            owner.children.append(Entity(kind))  # takes its own tags, dropped below
        if len(found) > MOST_ENTITIES:
            raise DxfError(f"has more than {MOST_ENTITIES} entities; split the drawing")
    for entity in found:
        entity.children = [child for child in entity.children if child.kind == "VERTEX"]
    return found
