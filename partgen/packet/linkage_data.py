"""A linkage as data; lengths in mm, angles in degrees, vehicle axes of ISO 8855."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from partgen.linkage.axle import Vec
from partgen.linkage.centres import Centres
from partgen.linkage.ends import EndStudy
from partgen.linkage.flat_trim import Cut
from partgen.linkage.mount_swing import MountSwing
from partgen.linkage.study import Study
from partgen.linkage.travel import LinkState, State
from partgen.linkage.trimming import Trim


def linkage_data(study: Study | None) -> dict[str, Any] | None:
    """Return all that is known of a linkage, or None where the job has none."""
    if study is None:
        return None
    return {
        "axes": "x forward, y left, z up (ISO 8855); mm, degrees",
        "axle": study.entry.axle,
        "held": [{**asdict(hold), "free": hold.free, "spare": hold.spare} for hold in study.holds],
        "greatest_misfit": study.misfit,
        "greatest_misfit_over_length": study.relative,
        "triangles": dict(study.triangles),
        "links": [
            {
                "name": link.label,
                "frame": _point(link.frame.spot.point),
                "axle": _point(link.axle.spot.point),
                "length": link.length,
                "tube": link.tube,
                "tube_length": link.tube_length,
                "thread_in_tube": [link.frame.engaged, link.axle.engaged],
            }
            for link in study.layout.links
        ],
        "cases": [_state(state) for state in study.named],
        "worked_out": len(study.states) + len(study.heave) + len(study.roll),
        "ends": [_end(end) for end in study.ends],
        "swings": [_swing(swing) for swing in study.swings],
        "trimmed": {part: _trim(trim) for part, trim in study.trims.items()},
        "centres_at_ride": _centres(study.centres),
        "arm_centres_at_ride": study.arm and asdict(study.arm),
    }


def _trim(trim: Trim | Cut) -> dict[str, Any]:
    if isinstance(trim, Trim):
        return asdict(trim)
    loops = [[[v.x, v.y, v.bulge] for v in tool.vertices] for tool in trim.tools]
    return {"outlines_x_y_bulge": loops}


def _point(point: Vec) -> list[float]:
    return [float(v) for v in point]


def _state(state: State) -> dict[str, Any]:
    return {
        "case": state.case.name,
        "wheel_left": state.case.left,
        "wheel_right": state.case.right,
        "shift": _point(state.shift),
        "steer": state.steer,
        "pinion_up": state.pinion,
        "roll": state.roll,
        "misfit": state.misfit,
        "links": [_link(link) for link in state.links],
    }


def _link(state: LinkState) -> dict[str, Any]:
    return {
        "name": state.link.label,
        "frame": _point(state.start),
        "axle": _point(state.end),
        "side_angle": state.side_angle,
        "plan_angle": state.plan_angle,
        "rear_angle": state.rear_angle,
        "frame_misalignment": state.frame_misalignment,
        "axle_misalignment": state.axle_misalignment,
    }


def _end(end: EndStudy) -> dict[str, Any]:
    return {
        "link": end.link.label,
        "end": end.which,
        "misalignment": end.worst,
        "lean": end.lean,
        "case": end.case,
        "limits": asdict(end.limits),
        "turn_that_evens_it": asdict(end.turn),
        "tilt_that_evens_it": asdict(end.tilt),
        "turn_of_both_ends_that_evens_them": asdict(end.both),
    }


def _swing(swing: MountSwing) -> dict[str, Any]:
    return {
        "link": swing.link.label,
        "end": swing.which,
        "mount": swing.mount,
        "range": asdict(swing.range),
        "nearest": [
            {**asdict(near), "case": swing.range.case(near.angle)} for near in swing.nearest
        ],
        "nearest_to_its_plates_edge": swing.edge and asdict(swing.edge),
        "not_placed": list(swing.unplaced),
    }


def _centres(centres: Centres | None) -> dict[str, Any] | None:
    if centres is None:
        return None
    return {**asdict(centres), "roll_axis_angle": centres.roll_axis_angle}
