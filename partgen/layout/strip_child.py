"""Run in a process of its own: one strip through the compiled packing library, JSON in and out.

The library ends the process on input it does not like, so nothing else may live here, and nothing
of partgen is imported.
"""

from __future__ import annotations

import json
import sys
from importlib import import_module


def main() -> None:
    """Read a strip from standard input and write where its items go."""
    spyrrow = import_module("spyrrow")
    asked = json.load(sys.stdin)
    items = [
        spyrrow.Item(str(k), [tuple(p) for p in item["points"]], 1, item["turns"])
        for k, item in enumerate(asked["items"])
    ]
    config = spyrrow.StripPackingConfig(
        total_computation_time=asked["seconds"],
        min_items_separation=asked["gap"],
        num_workers=asked["workers"],
        seed=1,
    )
    solution = spyrrow.StripPackingInstance("strip", asked["height"], items).solve(config)
    placed = [[int(p.id), p.rotation, *p.translation] for p in solution.placed_items]
    json.dump(placed, sys.stdout)


if __name__ == "__main__":
    main()
