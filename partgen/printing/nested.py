"""What ``nest`` laid out."""

from __future__ import annotations

from pathlib import Path

from partgen.cautions import SHORT
from partgen.printing.cut import heed, programs_text, size_text, time_of_sheets
from partgen.printing.sheets import sheets
from partgen.printing.text import print_json
from partgen.tasks.nesting import Nested


def nested(result: Nested, folder: Path, *, as_json: bool) -> None:
    """Print the sheets used, how they are cut and where they are."""
    if as_json:
        print_json({**result.data, "folder": str(folder), "files": sorted(result.files)})
        return
    for nest in result.nests:
        sheets(nest, result.unit)
    time_of_sheets(result.plans, result.unit)
    heed(result.notes, result.unit)
    programs_text(result.files, result.work, result.process, result.unit)
    names = [name for name in result.files if name.endswith(".dxf") and "/" not in name]
    size = size_text(result.work, result.unit)
    print(f"{folder}: {', '.join(names)} ({result.unit}, {size})")
    if any(name.startswith("offcuts/") for name in result.files):
        print(f"what is left, for the next job: {folder / 'offcuts'}")
    print(SHORT)
