"""The weld map on the page: where every weld goes, how large, in which sequence."""

from __future__ import annotations

from collections.abc import Sequence

from partgen.job.build import Build
from partgen.measure import in_unit
from partgen.packet.html import Html, bullets, inside, picture, section, table, tag
from partgen.packet.weld_picture import weld_picture
from partgen.packet.weld_sheets import HOLD, all_welds, weld_row
from partgen.welds.weld import Weld
from partgen.welds.weld_map import weld_map


def weld_map_section(build: Build) -> Html:
    """Return the map; nothing where no weld is known and nothing is to be said of it."""
    unit = build.job.unit
    welds, notes = weld_map(build)
    if not (welds or notes):
        return inside()
    mapped: tuple[Html, ...] = ()
    if welds:
        drawn = weld_picture(build, welds, "Weld map").decode("utf-8")
        mapped = (
            tag("p", f"{HOLD}.", class_="hold"),
            picture(drawn, "Numbers are steps; runs stop short of the ends.", kind="fine"),
            _list(welds, unit),
            tag("p", f"In all {all_welds(welds, unit)} {unit} of weld. No strength is claimed."),
        )
    more = [in_unit(note, unit) for note in notes]
    return section("Weld map", "weld-map", *mapped, *([bullets(more)] if more else []))


def _list(welds: Sequence[Weld], unit: str) -> Html:
    """Return the welds in their sequence; columns that would stay empty are left out."""
    head = ("step", "plate", "plates", "edge", "to", f"edge {unit}", f"leg {unit}", "fillets",
            f"weld {unit}", f"to flange edge {unit}", "note")  # fmt: skip
    rows = [weld_row(w, unit) for w in welds]
    kept = [k for k in range(len(head)) if any(row[k] for row in rows)]
    numbers = [at for at, k in enumerate(kept) if 5 <= k <= 9]
    return table([head[k] for k in kept], [[row[k] for k in kept] for row in rows], numbers)
