"""Which ends of a linkage's tubes are coped: those welded onto their joint's housing."""

from __future__ import annotations

from dataclasses import dataclass

from partgen.errors import GeometryError
from partgen.linkage.cope import Cope
from partgen.linkage.points import End, Link
from partgen.linkage.study import Study


@dataclass(frozen=True)
class CopedEnd:
    """A tube's end that is welded onto its joint's housing, which lies along the bolt.

    Attributes:
        link: the left link of a pair, or a single one.
        which: "frame" or "axle".
        cope: at the link's angle to the housing at ride; None where there is none.
        problem: why there is none.
    """

    link: Link
    which: str
    cope: Cope | None
    problem: str = ""


def coped_ends(study: Study) -> list[CopedEnd]:
    """Return the coped ends of left and single links."""
    found = []
    for k, link in enumerate(study.layout.links):
        state = study.named[0].links[k]
        for which, end, leaning in (
            ("frame", link.frame, state.frame_lean),
            ("axle", link.axle, state.axle_misalignment),
        ):
            one_piece = which == "axle" and link.fixed
            if link.side != "right" and end.joint and end.shank is None and not one_piece:
                found.append(_coped(link, which, end, leaning))
    return found


def _coped(link: Link, which: str, end: End, leaning: float) -> CopedEnd:
    housing = end.joint.body_diameter if end.joint else 0.0
    try:
        return CopedEnd(link, which, Cope(link.tube, housing, 90.0 - leaning, 0.0, link.wall))
    except GeometryError as error:
        return CopedEnd(link, which, None, "; ".join(error.problems))
