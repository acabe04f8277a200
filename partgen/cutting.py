"""How the shop cuts: kerf, spacing on the sheet, smallest features; from ``profiles/cutting``."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from partgen import profile_files
from partgen.errors import ProfileError
from partgen.fields import Entry, Margin, Reading, Size, Text
from partgen.prices import Prices


class Cutting(Entry):
    """A cutting process as one shop runs it; every number is the shop's own to edit.

    Attributes:
        name: shown in the packet.
        source: where the numbers come from.
        kerf: width of the cut [mm].
        part_gap: least distance between two plates on a sheet [mm].
        sheet_margin: least distance from the sheet's edge [mm].
        web_per_thickness: least web as a multiple of the plate's thickness [-].
        least_web: least web whatever the thickness [mm].
        prices: the shop's own, if it keeps them with its process.
    """

    name: Text
    source: Text
    kerf: Size
    part_gap: Size
    sheet_margin: Margin
    web_per_thickness: float
    least_web: Size
    prices: Prices = Prices()

    def web(self, thickness: float) -> float:
        """Return the least web of a plate of ``thickness`` [mm]."""
        return max(self.least_web, self.web_per_thickness * thickness)


def cutting(name: str, changes: dict[str, Any] | None = None) -> Cutting:
    """Return a cutting profile, with the job's own ``changes`` in mm.

    Raises:
        ProfileError: the profile is unknown, or its file incomplete.
    """
    data = profile_files.read("cutting", name)
    try:
        return Cutting.model_validate({**data, **(changes or {})}, context=Reading("mm"))
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"])
        raise ProfileError(f"profiles/cutting/{name}.toml: {where}: {first['msg']}") from None
