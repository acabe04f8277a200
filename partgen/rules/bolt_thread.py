"""Bolt thread: the bolt's threads stay out of the shear planes between joint and ears.

Thread lengths by ASME B18.2.1 or ISO 4014, stock lengths by the bolt's table. Measured: where the
thread starts (by the standard, or the shank typed for a bolt in hand); required: the far shear
plane. Not covered: strength, torque, locking.
"""

from __future__ import annotations

from partgen.fit.bolting import BoltFit
from partgen.fit.mount import Mount
from partgen.measure import shown
from partgen.rules.finding import Finding, Status
from partgen.shop import Shop

RULE = "bolt-thread"
_SOURCES = {"metric": "ISO 4014", "inch": "ASME B18.2.1"}


def check(mount: Mount, shop: Shop) -> list[Finding]:
    """Return the bolt chosen, or that no stock length does; a bolt in hand that does not, first."""
    fit, unit = mount.bolt_fit, shop.unit
    found = []
    if mount.in_hand is not None and fit is not mount.in_hand:
        found = [
            _finding(
                mount, mount.in_hand, Status.WARN, "bolt in hand: " + mount.in_hand.verdict, unit
            )
        ]
    if fit is None:
        longest = shown(mount.bolts[-1].length, unit)
        none = Finding(
            rule=RULE,
            plate=mount.name,
            where=f"{mount.bolt.size} bolt",
            status=Status.FAIL,
            source=_SOURCES[mount.bolt.system],
            note=f"no stock length up to {longest} {unit} keeps its threads out of the joint with "
            "a full nut; use another bolt or thicker washers",
        )
        return [*found, none]
    status = Status.PASS if fit.full_ear else Status.WARN
    return [*found, _finding(mount, fit, status, fit.verdict, unit)]


def _finding(mount: Mount, fit: BoltFit, status: Status, note: str, unit: str) -> Finding:
    source = _SOURCES[mount.bolt.system] if fit.shank is None else "measured shank"
    return Finding(
        rule=RULE,
        plate=mount.name,
        where=f"{mount.bolt.size} x {shown(fit.length, unit)} {unit}",
        status=status,
        measured=fit.thread_start,
        required=fit.shear_planes[1],
        source=source,
        note=note,
    )
