"""Bolt thread: the bolt's threads stay out of the shear planes between joint and ears.

Thread lengths by ASME B18.2.1 or ISO 4014, stock lengths by the bolt's table. Measured: where the
thread starts; required: the far shear plane. Not covered: strength, torque, locking.
"""

from __future__ import annotations

from partgen.measure import shown
from partgen.mount import Mount
from partgen.rules.finding import Finding, Status
from partgen.shop import Shop

RULE = "bolt-thread"
_SOURCES = {"metric": "ISO 4014", "inch": "ASME B18.2.1"}


def check(mount: Mount, shop: Shop) -> list[Finding]:
    """Return one finding: the bolt chosen, or that no stock length does."""
    fit = mount.bolt_fit
    if fit is None:
        longest = shown(mount.bolts[-1].length, shop.unit)
        return [
            Finding(
                rule=RULE,
                plate=mount.name,
                where=f"{mount.bolt.size} bolt",
                status=Status.FAIL,
                source=_SOURCES[mount.bolt.system],
                note=f"no stock length up to {longest} {shop.unit} keeps its threads out of the "
                "joint with a full nut; use another bolt or thicker washers",
            )
        ]
    length = shown(fit.length, shop.unit)
    return [
        Finding(
            rule=RULE,
            plate=mount.name,
            where=f"{mount.bolt.size} x {length} {shop.unit}",
            status=Status.PASS if fit.full_ear else Status.WARN,
            measured=fit.thread_start,
            required=fit.shear_planes[1],
            source=_SOURCES[mount.bolt.system],
            note=fit.verdict,
        )
    ]
