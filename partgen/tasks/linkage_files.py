"""What a job with links is handed besides its plates: views, curves, cope templates."""

from __future__ import annotations

from partgen.job.build import Build
from partgen.linkage.coped_end import coped_ends
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
    for end in coped_ends(study):
        if end.cope is not None:
            content, _ = cope_pdf(end.cope, "a4" if unit == "mm" else "letter", unit)
            files[f"templates/{job}_cope-{end.link.name}-{end.which}.pdf"] = content
    return files
