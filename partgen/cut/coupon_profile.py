"""The cutting profile that a coupon gives, as a file to keep and edit."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from partgen.cut.coupon import Result
from partgen.entries.stock import Stock
from partgen.file_content import file_content
from partgen.reference import profile_files
from partgen.toml_text import toml_data


def profile_text(base: str, result: Result, stock: Stock, unit: str) -> str:
    """Return the text of a profile: the base's, with the measured values in place of its own.

    Args:
        base: name of a profile, or of a file of your own.
        result: what the coupon gave.
        stock: what it was cut from.
        unit: of the form.
    """
    data: Mapping[str, Any] = (
        toml_data(file_content(Path(base), kind="profile"), base)
        if base.endswith(".toml")
        else profile_files.read("cutting", base)
    )
    plate = stock.text(unit)
    new = {
        "name": f"{str(data['name']).split(', measured on ')[0]}, measured on {plate}"[:120],
        "source": f"own coupon, {plate}; other numbers as in {base}"[:120],
        "kerf": f"{result.kerf:.3f} mm",
    }
    if result.hole_error is not None:
        new["hole_error"] = f"{result.hole_error:.3f} mm"
    if result.slot_clearance is not None:
        new["slot_clearance"] = f"{result.slot_clearance:.3f} mm"
    lines = ["# Made by partgen coupon from measured values. Yours to edit."]
    lines += [f"{key} = {_toml({**data, **new}[key])}" for key in data if key != "feed"]
    for row in data.get("feed", ()):
        lines += ["", "[[feed]]", *(f"{key} = {_toml(value)}" for key, value in row.items())]
    return "\n".join(lines) + "\n"


def _toml(value: Any) -> str:
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    return repr(value)
