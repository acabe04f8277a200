"""The links on the page: what holds the axle, its cases, its links and joints, the pictures."""

from __future__ import annotations

from partgen.job.build import Build
from partgen.measure import UNIT_WORDS
from partgen.packet.html import Html, bullets, inside, picture, section, table, tag
from partgen.packet.linkage_curves import curves_picture
from partgen.packet.linkage_rows import (
    ANGLES,
    BOLTS,
    Rows,
    binding_text,
    case_rows,
    centre_texts,
    cope_texts,
    end_rows,
    held_text,
    link_rows,
)
from partgen.packet.linkage_views import VIEWS, view_picture


def linkage_section(build: Build) -> Html:
    """Return the linkage of a job; nothing where it has none."""
    study = build.shop.linkage
    if study is None:
        return inside()
    unit, title = build.job.unit, "Links"  # a job's name may be too wide for a picture
    said = [held_text(study), binding_text(study, unit), *centre_texts(study, unit)]
    said += cope_texts(study, unit)
    views = [view_picture(study, view, build.shop.rails, title, unit) for view in VIEWS]
    drawn = [*views, curves_picture(study, title, unit)]
    return section(
        "Links over their travel",
        "linkage",
        tag(
            "p",
            f"Lengths in {UNIT_WORDS[unit]}, angles in degrees; "
            "x forward, y left, z up (ISO 8855).",
        ),
        bullets(text for text in said if text),
        *(picture(svg.decode("utf-8"), kind="fine") for svg in drawn),
        _table(case_rows(study, unit), range(1, 7)),
        _table(link_rows(study, unit), range(1, 9)),
        tag("p", ANGLES[0].upper() + ANGLES[1:] + ".", class_="source"),
        _table(end_rows(study, unit), range(2, 3)),
        tag("p", BOLTS[0].upper() + BOLTS[1:] + ".", class_="source"),
    )


def _table(rows: Rows, numbers: range) -> Html:
    return table(rows[0], rows[1:], numbers)
