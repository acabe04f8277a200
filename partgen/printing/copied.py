"""The demo jobs copied."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from partgen.printing.text import print_json


def copied(files: Sequence[Path], folder: Path, *, as_json: bool) -> None:
    """Print which demo jobs were copied, and the next command."""
    if as_json:
        print_json({"files": [str(file) for file in files]})
        return
    for file in files:
        print(file)
    print(f"next: partgen make {files[0]}")
