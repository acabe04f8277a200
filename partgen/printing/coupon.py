"""The coupon and what it gave."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

from partgen.cautions import SHORT
from partgen.measure import kerf_text, shown
from partgen.printing.text import print_json
from partgen.tasks.couponing import FORM, Coupon, Measured


def made(result: Coupon, folder: Path, *, as_json: bool) -> None:
    """Print where the test piece is and what to do with it."""
    if as_json:
        print_json({"folder": str(folder), "files": sorted(result.files)})
        return
    print(f"coupon of {result.stock.text(result.unit)}: {folder}")
    print("  cut the DXF (nominal size) with no kerf set at the machine, on the plate you use")
    print(f"  measure, fill in {folder / FORM}, then: partgen coupon --measured {folder / FORM}")
    print(SHORT)


def measured(result: Measured, path: Path, *, as_json: bool) -> None:
    """Print what the form gave and where the profile is."""
    if as_json:
        print_json({"profile": str(path), **asdict(result.result)})
        return
    for line in _summary(result):
        print(f"  {line}")
    print(f'cutting profile: {path}; in a job beside it: cutting = "{path.name}"')
    print(SHORT)


def _summary(found: Measured) -> list[str]:
    """Return what a form gave, in words."""
    result, unit = found.result, found.unit
    lines = [f"kerf {kerf_text(result.kerf, unit)}"]
    if result.hole_error is not None:
        lines.append(f"round holes come out {shown(result.hole_error, unit)} {unit} smaller")
    if result.slot_clearance is not None:
        lines.append(f"a slot needs {shown(result.slot_clearance, unit)} {unit} over the plate")
    lines += [
        f"measure {name} again: it does not agree with the others" for name in result.suspects
    ]
    return lines
