"""A linkage on the screen: what holds it, its cases, its links, its joints."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict

from partgen.cautions import SHORT
from partgen.linkage.advice import Drop
from partgen.linkage.study import Study
from partgen.measure import UNIT_WORDS
from partgen.packet.linkage_data import linkage_data
from partgen.packet.linkage_rows import (
    ANGLES,
    BOLTS,
    binding_text,
    case_rows,
    centre_texts,
    cope_texts,
    end_rows,
    held_text,
    link_rows,
    plain,
    plain_length,
)
from partgen.printing.text import print_json, table


def linkage(
    name: str,
    study: Study,
    drops: Sequence[Drop],
    bump_angle: float | None,
    unit: str,
    *,
    as_json: bool,
) -> None:
    """Print a linkage worked through.

    Args:
        name: of the job.
        study: the linkage.
        drops: frame ends for a wanted angle at full bump, if one was asked for.
        bump_angle: that angle [degrees].
        unit: of lengths.
        as_json: print data instead.
    """
    if as_json:
        print_json(
            {"job": name, **(linkage_data(study) or {}), "drops": [asdict(d) for d in drops]}
        )
        return
    print(
        f"{name}: lengths in {UNIT_WORDS[unit]}, angles in degrees; "
        "x forward, y left, z up (ISO 8855)"
    )
    print(f"  {held_text(study)}")
    said = (binding_text(study, unit), *centre_texts(study, unit), *cope_texts(study, unit))
    for text in said:
        if text:
            print(f"  {text}")
    print()
    table(case_rows(study, unit), numbers=range(1, 7))
    print()
    table(link_rows(study, unit), numbers=range(1, 9))
    print(ANGLES)
    print()
    table(end_rows(study, unit), numbers=range(2, 3))
    print(BOLTS)
    if bump_angle is not None:
        print()
        _drops(drops, bump_angle, unit)
    print(SHORT)


def _drops(drops: Sequence[Drop], angle: float, unit: str) -> None:
    print(f"For {angle:g} deg at full bump (axle end above frame end positive):")
    for drop in drops:
        now = plain(drop.angle, 1)
        if drop.lower is None:
            print(f"  link {drop.link}, now {now} deg: no place of its frame end does it")
            continue
        word = "lower" if drop.lower >= 0 else "raise"
        rail = ""
        if drop.below_rail is not None:
            where = "below" if drop.below_rail >= 0 else "above"
            rail = (
                f", {plain_length(abs(drop.below_rail), unit)} {unit} {where} the rail's lower edge"
            )
        print(
            f"  link {drop.link}, now {now} deg: {word} its frame end by "
            f"{plain_length(abs(drop.lower), unit)} {unit}{rail}"
        )
