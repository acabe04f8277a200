"""Bush: the ears clamp the sleeve, never the soft bush on it; and the sleeve's bore suits its bolt.

A urethane bush needs 0.003 to 0.005 in free on each side, 0.006 to 0.010 in together; the bore is
at most 0.5 mm over the bolt. Common practice, no source. Not covered: how a bonded bush twists.
"""

from __future__ import annotations

from partgen.entries.joint import Joint
from partgen.fit.mount import Mount
from partgen.measure import shown
from partgen.rules.finding import SLACK, Finding, Status, judged
from partgen.shop import Shop

RULE = "bush"
SOURCE = "common practice, no source"
FREE, MOST_FREE = 0.006 * 25.4, 0.010 * 25.4  # mm, both sides together
PLAY = 0.5  # mm


def check(mount: Mount, shop: Shop) -> list[Finding]:
    """Return findings on bush width and bore, as far as they were typed."""
    joint = mount.joint
    if joint is None:
        return []
    found = [] if joint.bush_width is None else [_width(mount, joint, joint.bush_width, shop.unit)]
    return found if joint.bore is None else [*found, _bore(mount, joint.bore, shop.unit)]


def _width(mount: Mount, joint: Joint, bush: float, unit: str) -> Finding:
    free = joint.width - bush
    low, high = (f"{_thin(limit - free, unit)}" for limit in (FREE, MOST_FREE))
    return judged(
        RULE,
        (mount.name, "sleeve over bush"),
        (free, FREE),
        SOURCE,
        f"the bush will be pinched; thin it by {low} to {high} {unit}",
    )


def _thin(mm: float, unit: str) -> str:
    return shown(mm, unit, 2 if unit == "mm" else 3)


def _bore(mount: Mount, bore: float, unit: str) -> Finding:
    bolt = mount.bolt
    play = bore - bolt.diameter
    tight = play < -SLACK
    loose = play > PLAY + SLACK
    note = ""
    if tight:
        note = f"{bolt.size} does not go through a bore of {shown(bore, unit)} {unit}"
    elif loose:
        note = f"{bolt.size} is loose in a bore of {shown(bore, unit)} {unit}; sleeve it"
    return Finding(
        rule=RULE,
        plate=mount.name,
        where=f"bore over {bolt.size}",
        status=Status.FAIL if tight else Status.WARN if loose else Status.PASS,
        measured=play,
        required=0.0,
        source=SOURCE,
        note=note,
    )
