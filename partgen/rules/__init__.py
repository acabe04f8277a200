"""The rules. The three dictionaries are the list: one file each.

A rule is a function from a plate, or a mount, and the shop to findings; or from a whole build.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from partgen.entries.accept import Accept
from partgen.errors import nearest
from partgen.fit.mount import Mount
from partgen.job.build import Build
from partgen.plates.plate import Plate
from partgen.rules import (
    bend_radius,
    bend_room,
    bolt_room,
    bolt_thread,
    bush,
    drain,
    edge_distance,
    greatest_distance,
    gusset_end,
    hole_clearance,
    hole_size,
    hole_spacing,
    inside_corner,
    joint_fit,
    joint_room,
    linkage_hold,
    mark_room,
    misalignment,
    neck,
    note,
    plate_end,
    rail_sides,
    shared_space,
    small_feature,
    strength,
    swing,
    through_bolt,
    web,
    weld_leg,
    weld_shelf,
)
from partgen.rules.finding import Finding, Status
from partgen.shop import Shop

PLATE_RULES: dict[str, Callable[[Plate, Shop], list[Finding]]] = {
    edge_distance.RULE: edge_distance.check,
    web.RULE: web.check,
    neck.RULE: neck.check,
    hole_clearance.RULE: hole_clearance.check,
    hole_spacing.RULE: hole_spacing.check,
    greatest_distance.RULE: greatest_distance.check,
    hole_size.RULE: hole_size.check,
    inside_corner.RULE: inside_corner.check,
    small_feature.RULE: small_feature.check,
    mark_room.RULE: mark_room.check,
    bend_room.RULE: bend_room.check,
    gusset_end.RULE: gusset_end.check,
    bend_radius.RULE: bend_radius.check,
    note.RULE: note.check,
}
MOUNT_RULES: dict[str, Callable[[Mount, Shop], list[Finding]]] = {
    joint_fit.RULE: joint_fit.check,
    bolt_thread.RULE: bolt_thread.check,
    joint_room.RULE: joint_room.check,
    bush.RULE: bush.check,
}
BUILD_RULES: dict[str, Callable[[Build], list[Finding]]] = {
    weld_shelf.RULE: weld_shelf.check,
    weld_leg.RULE: weld_leg.check,
    plate_end.RULE: plate_end.check,
    drain.RULE: drain.check,
    bolt_room.RULE: bolt_room.check,
    strength.RULE: strength.check,
    through_bolt.RULE: through_bolt.check,
    shared_space.RULE: shared_space.check,
}

SHOP_RULES: dict[str, Callable[[Shop], list[Finding]]] = {
    rail_sides.RULE: rail_sides.check,
    linkage_hold.RULE: linkage_hold.check,
    swing.RULE: swing.check,
    misalignment.RULE: misalignment.check,
}


def check(build: Build) -> list[Finding]:
    """Return every rule's findings on everything a job makes; both hands are judged once."""
    plates: dict[str, Plate] = {}
    for plate in build.plates:
        plates.setdefault(plate.key, plate)
    found = check_plates(plates.values(), build.shop)
    found += [
        f
        for mount in build.mounts
        for rule in MOUNT_RULES.values()
        for f in rule(mount, build.shop)
    ]
    found += [f for rule in SHOP_RULES.values() for f in rule(build.shop)]
    found += [f for rule in BUILD_RULES.values() for f in rule(build)]
    return accepted(found, build.job.accepts)


def check_plates(plates: Iterable[Plate], shop: Shop) -> list[Finding]:
    """Return every geometry rule's findings on any number of plates, as of a parameter sweep.

    Args:
        plates: to judge, each by itself.
        shop: of the job, :attr:`Build.shop`: its rule set and cutting profile.
    """
    return [f for plate in plates for rule in PLATE_RULES.values() for f in rule(plate, shop)]


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
                    note=_not_met(entry, found),
                )
            )
    return result


def _not_met(entry: Accept, found: Sequence[Finding]) -> str:
    """Return why an entry meets no finding, and what to do."""
    rules = {*PLATE_RULES, *MOUNT_RULES, *BUILD_RULES, *SHOP_RULES}
    plates = {f.plate for f in found}
    if entry.rule not in rules:
        return f"no such rule; {nearest(entry.rule, rules)}"
    if entry.plate not in plates:
        return f"no such plate; {nearest(entry.plate, plates)}"
    return "nothing there to accept; remove the entry"
