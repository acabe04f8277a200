"""What ``nest`` laid out."""

from __future__ import annotations

from pathlib import Path

from partgen.cautions import SHORT
from partgen.packet.data import nest_data
from partgen.printing.sheets import sheets
from partgen.printing.text import print_json
from partgen.tasks.nesting import Nested


def nested(result: Nested, folder: Path, *, as_json: bool) -> None:
    """Print the sheets used and where they are."""
    if as_json:
        print_json({**nest_data(result.nest), "folder": str(folder), "files": sorted(result.files)})
        return
    sheets(result.nest, result.unit)
    names = ", ".join(name for name in result.files if name.endswith(".dxf"))
    print(f"{folder}: {names} ({result.unit}, nominal size, kerf not compensated)")
    print(SHORT)
