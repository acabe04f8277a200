"""The order of fitting up at the vehicle, with the points where work stops until somebody looked.

Common practice, no source, except that structural work is tacked, then examined, before it is
finished: local codes may ask for more.
"""

from __future__ import annotations

from dataclasses import dataclass

from partgen.job.build import Build
from partgen.measure import in_unit, shown
from partgen.packet.html import Content, Html, section, table, tag


@dataclass(frozen=True)
class Step:
    """One step.

    Attributes:
        text: what to do; lengths in mm, shown in the job's unit.
        hold: whether work stops here until somebody has looked and signed.
    """

    text: str
    hold: bool = False


STEPS = (
    Step(
        "Vehicle level and on stands, frame and axle both; battery off; fuel, lines and hoses "
        "clear."
    ),
    Step("Measure rail and joint once more and compare with the sum under Fit at the bolt."),
    Step(
        "Print the templates (partgen template) at full size, measure their bars, glue them to "
        "card, hold them to the rail with the link in place."
    ),
    Step("Paper fits, bars measure true, hands are right.", hold=True),
    Step(
        "Check unit and one dimension on the machine, torch off. Cut the coupon if plate or "
        "consumables are new. Cut openings first, outsides last."
    ),
    Step(
        "Clean off dross, mark name and hand on every plate, chamfer edges to be welded. "
        "Drill or ream the bolt holes of a pair in one stack, so that they line up."
    ),
    Step("Holes, hands and thicknesses agree with the drawings.", hold=True),
    Step(
        "Clean the rail to bright metal. Mark the place from the datum, not from the other plate."
    ),
    Step(
        "Clamp. Bolt or rod through all holes, a dummy spacer between the ears (table below). "
        "Tack in four places or more."
    ),
    Step(
        "Take the dummy out, fit joint and link. Springs out: cycle through full bump, droop "
        "and twist. Look for contact at every position."
    ),
    Step("Tacked only: a second person examines place, square, gap, free movement.", hold=True),
    Step(
        "Dummy and rod back in. Finish the weld in short runs, alternate sides and ends, cool "
        "between."
    ),
    Step("Cold: dummy out, measure the as-built sheet, fit the joint by hand."),
    Step("Joint goes in by hand and swings free; as-built sheet filled in.", hold=True),
    Step(
        "Paint, clamped faces masked. New lock nuts. Torque at ride height where bushes are "
        "bonded rubber; mark with a paint pen; look again after the first drive."
    ),
    Step("Inspection or certification where the local code asks for it.", hold=True),
)


def fit_up_section(build: Build) -> Html:
    """Return the steps, with the dummy spacers of this job's mounts."""
    unit = build.job.unit
    items = [_item(step, unit) for step in STEPS]
    rows = [
        (
            m.name,
            shown(m.dummy.length, unit),
            shown(m.dummy.outside, unit),
            m.bolt.size,
            str(m.pieces),
        )
        for m in build.mounts
    ]
    head = ("dummy for", f"length {unit}", f"over {unit}", "bored for", "count")
    dummies: list[Content] = (
        [tag("h3", "Dummy spacers"), table(head, rows, (1, 2, 4))] if rows else []
    )
    return section("Fit-up order", "fit-up", tag("ol", *items), *dummies)


def _item(step: Step, unit: str) -> Html:
    text = in_unit(step.text, unit)
    if not step.hold:
        return tag("li", "☐ ", text)
    sign = tag(
        "p",
        "Looked at by ",
        tag("span", class_="blank wide"),
        " date ",
        tag("span", class_="blank"),
    )
    return tag("li", tag("b", "HOLD. "), text, sign, class_="hold")
