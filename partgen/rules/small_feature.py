"""Small feature: openings too narrow for the process, corners too thin to survive it.

An opening narrower than the plate is thick (and than the shop's least feature, and two kerfs) cuts
badly: a warning, under two kerfs a failure. An outside corner sharper than the shop's limit burns
off: a warning. Common practice; a plasma job shop's table prints 2 mm. Thin metal between edges is
the rules web and neck. Not covered: dross, heat.
"""

from __future__ import annotations

from partgen.measure import point_text
from partgen.plates.plate import Plate
from partgen.rules.finding import SLACK, Finding, Status, judged
from partgen.rules.inside_corner import turn
from partgen.rules.neck import neck
from partgen.shop import Shop

RULE = "small-feature"


def check(plate: Plate, shop: Shop) -> list[Finding]:
    """Return one finding for each opening that is not round, and for each spike."""
    return [*_narrow(plate, shop), *_spikes(plate, shop)]


def _narrow(plate: Plate, shop: Shop) -> list[Finding]:
    limits, kerfs = shop.rule_set.limits, 2 * shop.cutting.kerf
    wanted = max(
        limits.values.feature_width, limits.values.slot_per_thickness * plate.thickness, kerfs
    )
    found = []
    for window in plate.windows:
        narrowest = neck(window.outline)
        if narrowest is None:
            continue
        width = narrowest[0]
        found.append(
            judged(
                RULE,
                (plate.key, f"window {window.name}, width"),
                (width, wanted),
                limits.source("feature_width", "slot_per_thickness"),
                "widen it, or drill and saw it",
                Status.WARN if width >= kerfs - SLACK else Status.FAIL,
            )
        )
    return found


def _spikes(plate: Plate, shop: Shop) -> list[Finding]:
    limits = shop.rule_set.limits
    segments = plate.outline.segments
    found = []
    for k, s in enumerate(segments):
        angle = 180 - turn(segments[k - 1], s)
        if angle < limits.values.spike_angle - SLACK:
            found.append(
                Finding(
                    rule=RULE,
                    plate=plate.key,
                    where=f"spike at {point_text(s.start)}",
                    status=Status.WARN,
                    measured=angle,
                    required=limits.values.spike_angle,
                    unit="deg",
                    source=limits.source("spike_angle"),
                    note="blunt it: a thin point burns away",
                )
            )
    return found
