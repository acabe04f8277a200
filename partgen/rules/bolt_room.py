"""Bolt room: the bolt can be pushed in, and a spanner turns at both ends.

From the free lengths and circles beside a mount that a job gives as ``[[room]]``; the bolt needs
its length and a little more on one side, a ring spanner the circle of CID A-A-1346A (1.5 W + .04 in
covers every row) on both. Not covered without ``[[room]]``: partgen knows only its own plates.
"""

from __future__ import annotations

from partgen.entries.surroundings import Room
from partgen.fit.mount import Mount
from partgen.job.build import Build
from partgen.measure import shown
from partgen.reference.bolt import TOOL_SOURCE
from partgen.rules.finding import SLACK, Finding, Status, at_least, judged
from partgen.shop import Shop

RULE = "bolt-room"


def check(build: Build) -> list[Finding]:
    """Return findings for each mount: insertion, and the spanner's circle at both ears."""
    rooms = {room.mount: room for room in build.job.rooms}
    found = []
    for mount in build.mounts:
        room = rooms.get(mount.name)
        if room is None:
            found.append(
                Finding(
                    rule=RULE,
                    plate=mount.name,
                    where="beside the ears",
                    status=Status.NOT_COVERED,
                    source="common practice, no source",
                    note="measure the free space beside the ears and add a [[room]] to the job",
                )
            )
            continue
        found += [_insertion(mount, room, build.shop), *_spanner(mount, room)]
    return found


def _insertion(mount: Mount, room: Room, shop: Shop) -> Finding:
    fit, limits = mount.bolt_fit, shop.rule_set.limits
    if fit is None:
        return Finding(
            rule=RULE,
            plate=mount.name,
            where="bolt insertion",
            status=Status.NOT_COVERED,
            source=limits.source("insertion_room"),
            note="no bolt length is known; see bolt-thread",
        )
    required = fit.length + limits.values.insertion_room
    sides = {"outer": room.outer, "inner": room.inner}
    free = [name for name, length in sides.items() if length >= required - SLACK]
    status = at_least(max(sides.values()), required)
    note = f"a bolt of {shown(fit.length, shop.unit)} {shop.unit} goes in from neither side"
    return Finding(
        rule=RULE,
        plate=mount.name,
        where=f"bolt in from the {' or '.join(free)} side" if free else "bolt insertion",
        status=status,
        measured=max(sides.values()),
        required=required,
        source=limits.source("insertion_room"),
        note="" if free else note,
    )


def _spanner(mount: Mount, room: Room) -> list[Finding]:
    found = []
    for side, circle in (("outer", room.outer_circle), ("inner", room.inner_circle)):
        if circle is None:
            continue
        found.append(
            judged(
                RULE,
                (mount.name, f"spanner at the {side} ear"),
                (circle, mount.bolt.tool_diameter),
                TOOL_SOURCE,
                "clear the obstacle",
            )
        )
    return found
