"""Run in a process of its own: one strip through the compiled packing library, JSON in and out.

The library ends the process on input it does not like, so nothing else may live here, and nothing
of partgen is imported. Every shorter strip is written as soon as it is found, one line each, and
the process ends with whoever holds the other end of its standard input.
"""

from __future__ import annotations

import json
import os
import sys
import time
from importlib import import_module
from threading import Thread
from typing import Any

LEAST = 2.0  # s; less is not worth beginning anew
PAUSE = 0.05  # s between two looks at what was found


def main() -> None:
    """Read a strip from standard input and write where its items go, again and again."""
    spyrrow = import_module("spyrrow")
    asked = json.loads(sys.stdin.readline())
    Thread(target=_end_with_asker, daemon=True).start()
    end = time.monotonic() + asked["seconds"]
    best, seed = float("inf"), asked["seed"]
    while seed == asked["seed"] or end - time.monotonic() >= LEAST:
        best = _one_run(spyrrow, asked, max(1, int(end - time.monotonic())), seed, best)
        seed += 1  # it may give up before its time: then once more, otherwise


def _one_run(spyrrow: Any, asked: Any, seconds: int, seed: int, best: float) -> float:
    """Write every strip shorter than ``best`` that a run finds; return the shortest width."""
    items = [
        spyrrow.Item(str(k), [tuple(p) for p in item["points"]], 1, item["turns"])
        for k, item in enumerate(asked["items"])
    ]
    config = spyrrow.StripPackingConfig(
        total_computation_time=seconds,
        min_items_separation=asked["gap"],
        num_workers=asked["workers"],
        seed=seed,
    )
    queue, instance = (
        spyrrow.ProgressQueue(),
        spyrrow.StripPackingInstance("strip", asked["height"], items),
    )
    found: list[Any] = []
    run = Thread(target=lambda: found.append(instance.solve(config, queue)), daemon=True)
    run.start()
    while run.is_alive():
        run.join(PAUSE)
        good = (spyrrow.ReportType.ExplFeas, spyrrow.ReportType.CmprFeas)
        best = _tell([s for kind, s in queue.drain() if kind in good], best)
    if not found:
        sys.exit(1)  # the library panicked
    return _tell(found, best)


def _tell(found: list[Any], best: float) -> float:
    """Write the shortest of ``found`` if it is shorter than ``best``; return its width."""
    shortest = min(found, key=lambda s: s.width, default=None)
    if shortest is None or shortest.width >= best:
        return best
    placed = [[int(p.id), p.rotation, *p.translation] for p in shortest.placed_items]
    print(json.dumps(placed), flush=True)
    return float(shortest.width)


def _end_with_asker() -> None:
    """End the process when the other end of standard input is closed, however that came about."""
    sys.stdin.read()
    os._exit(0)


if __name__ == "__main__":
    main()
