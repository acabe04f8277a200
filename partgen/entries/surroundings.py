"""What the job file says of the place a plate goes to: closed boxes, room for bolt and spanner."""

from __future__ import annotations

from pydantic import Field

from partgen.fields import Entry, Margin, Name


class Box(Entry):
    """``[[box]]``: parts that close a cavity once they are welded.

    Attributes:
        name: shown in findings.
        parts: names of the parts.
    """

    name: Name
    parts: tuple[Name, ...] = Field(min_length=1, max_length=100)


class Room(Entry):
    """``[[room]]``: free space beside a mount, as measured on the vehicle.

    Attributes:
        mount: name of the link mount.
        outer: straight free length outside the outer ear, on the bolt's axis [mm].
        inner: straight free length inside the inner ear, likewise [mm].
        outer_circle: diameter that is free about the bolt at the outer ear [mm].
        inner_circle: diameter that is free about it at the inner ear [mm].
    """

    mount: Name
    outer: Margin
    inner: Margin
    outer_circle: Margin | None = None
    inner_circle: Margin | None = None
