"""Templates and pictures that were drawn."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from partgen.cautions import SHORT
from partgen.packet.page import STOPPED
from partgen.printing.text import print_json
from partgen.template.templates import Templates


def drawn_templates(made: Templates, file: Path, *, stopped: bool, as_json: bool) -> None:
    """Print how many pages each plate takes and how to print them."""
    pages = {entry.plate.label: len(entry.tiling.tiles) for entry in made.laid}
    if as_json:
        print_json({"file": str(file), "stopped": stopped, "pages": pages})
        return
    for label, count in pages.items():
        print(f"  {label}: {count} page{'' if count == 1 else 's'}")
    name = made.laid[0].paper.name
    print(f"{sum(pages.values())} pages {name.upper() if len(name) == 2 else name}: {file}")
    print("Print at 100 %, no fit to page. Measure the 100 mm bars of a page; if they are off,")
    print("make them again with --measured and what you read.")
    _end(stopped)


def drawn_pictures(names: Sequence[str], folder: Path, *, stopped: bool, as_json: bool) -> None:
    """Print which files were written."""
    if as_json:
        print_json({"folder": str(folder), "stopped": stopped, "files": list(names)})
        return
    for name in names:
        print(f"  {folder / name}")
    _end(stopped)


def _end(stopped: bool) -> None:
    if stopped:
        print(f"{STOPPED}. See partgen check.")
    print(SHORT)
