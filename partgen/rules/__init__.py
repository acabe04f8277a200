"""The rules. The two dictionaries are the list: one file each.

A rule is a function from a plate, or a mount, and the shop to findings.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from partgen.build import Build
from partgen.job import Accept
from partgen.mount import Mount
from partgen.plate import Plate
from partgen.rules import (
    bolt_thread,
    bush,
    edge_distance,
    hole_clearance,
    joint_fit,
    joint_room,
    linkage_hold,
    misalignment,
    neck,
    rail_sides,
    swing,
    web,
)
from partgen.rules.finding import Finding, Status
from partgen.shop import Shop

PLATE_RULES: dict[str, Callable[[Plate, Shop], list[Finding]]] = {
    edge_distance.RULE: edge_distance.check,
    web.RULE: web.check,
    neck.RULE: neck.check,
    hole_clearance.RULE: hole_clearance.check,
}
MOUNT_RULES: dict[str, Callable[[Mount, Shop], list[Finding]]] = {
    joint_fit.RULE: joint_fit.check,
    bolt_thread.RULE: bolt_thread.check,
    joint_room.RULE: joint_room.check,
    swing.RULE: swing.check,
    misalignment.RULE: misalignment.check,
    bush.RULE: bush.check,
}

SHOP_RULES: dict[str, Callable[[Shop], list[Finding]]] = {
    rail_sides.RULE: rail_sides.check,
    linkage_hold.RULE: linkage_hold.check,
}


def check(build: Build) -> list[Finding]:
    """Return every rule's findings on everything a job makes; both hands are judged once."""
    plates: dict[str, Plate] = {}
    for plate in build.plates:
        plates.setdefault(plate.key, plate)
    found = [
        f
        for plate in plates.values()
        for rule in PLATE_RULES.values()
        for f in rule(plate, build.shop)
    ]
    found += [
        f
        for mount in build.mounts
        for rule in MOUNT_RULES.values()
        for f in rule(mount, build.shop)
    ]
    found += [f for rule in SHOP_RULES.values() for f in rule(build.shop)]
    return accepted(found, build.job.accepts)


def accepted(found: Sequence[Finding], accepts: Sequence[Accept]) -> list[Finding]:
    """Return the findings with the job's reasons on them; an entry that meets none is a finding."""
    result = list(found)
    for entry in accepts:
        hits = [
            k
            for k, f in enumerate(result)
            if (f.rule, f.plate) == (entry.rule, entry.plate) and f.status is not Status.PASS
        ]
        for k in hits:
            result[k] = replace(result[k], accepted=entry.reason)
        if not hits:
            result.append(
                Finding(
                    rule="accept",
                    plate=entry.plate,
                    where=f"rule {entry.rule}",
                    status=Status.WARN,
                    source="the job file",
                    note="nothing there to accept; remove the entry or mend its rule and plate",
                )
            )
    return result
