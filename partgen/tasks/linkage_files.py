"""What a job with links is handed besides its plates: views, curves, cope templates."""

from __future__ import annotations

from partgen.errors import GeometryError
from partgen.job.build import Build
from partgen.linkage.cope import Cope
from partgen.linkage.points import End, Link
from partgen.linkage.study import Study
from partgen.packet.linkage_curves import curves_picture
from partgen.packet.linkage_views import VIEWS, view_picture
from partgen.sheets.cut_files import slug
from partgen.template.cope_sheet import cope_pdf


def linkage_files(build: Build) -> dict[str, bytes]:
    """Return a linkage's files by their path in the output folder; none where there is none."""
    study = build.shop.linkage
    if study is None:
        return {}
    job, title, unit = slug(build.job.path.stem), build.job.name, build.job.unit
    files = {
        f"pictures/{job}_linkage-{view.name}.svg": view_picture(
            study, view, build.shop.rails, title, unit
        )
        for view in VIEWS
    }
    files[f"pictures/{job}_linkage-curves.svg"] = curves_picture(study, title, unit)
    for link, which, cope in copes(study):
        content, _ = cope_pdf(cope, "a4" if unit == "mm" else "letter", unit)
        files[f"templates/{job}_cope-{link.name}-{which}.pdf"] = content
    return files


def copes(study: Study) -> list[tuple[Link, str, Cope]]:
    """Return the copes of tubes that are welded onto their joint's housing; left and single links.

    The housing lies along its bolt; the angle is the link's against it at ride.
    """
    found = []
    for k, link in enumerate(study.layout.links):
        if link.side == "right":
            continue
        state = study.named[0].links[k]
        for which, end, leaning in (
            ("frame", link.frame, state.frame_lean),
            ("axle", link.axle, state.axle_misalignment),
        ):
            cope = _cope(link, end, leaning)
            if cope is not None and not (which == "axle" and link.fixed):
                found.append((link, which, cope))
    return found


def _cope(link: Link, end: End, leaning: float) -> Cope | None:
    """Return the cope of one end, or None where the tube is not welded on or is too wide."""
    if end.joint is None or end.shank is not None:
        return None
    try:
        return Cope(link.tube, end.joint.body_diameter, 90.0 - leaning, 0.0, link.wall)
    except GeometryError:
        return None
