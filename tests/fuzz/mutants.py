"""Mutants of the demo jobs: every one must give valid output or lines a person can act on.

    python tests/fuzz/mutants.py 20000 [first seed]     # a report of what was seen; exit 1 on a fault

Two kinds: the text of a demo with characters and lines changed, and its values replaced by hostile
ones. Memory and time are bounded for the whole process.
"""

import copy
import datetime
import random
import resource
import sys
import time
import tomllib
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from partgen.dxf.write import read  # noqa: E402
from partgen.errors import PartgenError  # noqa: E402
from partgen.job.build import build  # noqa: E402
from partgen.job.job import load_job, read_job  # noqa: E402
from partgen.tasks import making  # noqa: E402

DEMOS = sorted((ROOT / "demo_parts").glob("*.toml"))
SLOWEST = 30.0  # seconds of the processor for one mutant
MEMORY = 1 << 30  # bytes at the peak


def deep(depth: int) -> Any:
    """A list in a list in a list..."""
    value: Any = 1
    for _ in range(depth):
        value = [value]
    return value


VALUES: list[Any] = [
    0, -1, 1, 0.001, 1e-300, 1e300, 1e308, -1e308, 10**30, float("nan"), float("inf"), True, False,
    "", " ", "mm", "1e9 mm", "-5 mm", "1/0 in", "9999999999/3 in", "2-5/8", "5 furlong", "= a", "= 1/0",
    "= " + "(" * 90 + "1" + ")" * 90, "= 9*9*9*9*9*9*9*9*9*9", "= min()", "= joint_width*1e9",
    "= __import__('os')", "= joint_width if 1 else 2", "=", "x" * 5000, "\u202e\u0000evil", "ünïcode ☃",
    "../../etc/passwd", "/etc/passwd", "con", "nul.dxf", "a\nb", "0\r\n  9\r\nSECTION", "<script>x</script>",
    "=cmd|' /C calc'!A0", [], {}, [[]], [1], [1, 2, 3], deep(80), {"at": [0, 0]}, datetime.date(2026, 1, 1),
    [0.0, 0.0], [[0, 0], [1, 0]], ["nan", "nan"], "link-mount", "gusset", "spacer", "6 mm S355", "M16", "3/4-10",
    10_000, 1_000_000_000, [[i * 2, i % 5] for i in range(999)],
]  # fmt: skip


def places(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every path into the data."""
    found = [path] if path else []
    items = (
        data.items()
        if isinstance(data, dict)
        else enumerate(data)
        if isinstance(data, list)
        else ()
    )
    for key, value in items:
        found += places(value, (*path, key))
    return found


def replace_values(data: dict[str, Any], chance: random.Random) -> dict[str, Any]:
    """Return the data with a few values replaced, dropped, doubled, renamed or scaled."""
    data = copy.deepcopy(data)
    for _ in range(chance.choice((1, 1, 1, 2, 3, 8))):
        spots = places(data)
        if not spots:
            break
        *way, key = chance.choice(spots)
        holder: Any = data
        for step in way:
            holder = holder[step]
        kind = chance.randrange(10)
        if kind < 6:
            holder[key] = copy.deepcopy(chance.choice(VALUES))
        elif kind < 7:
            del holder[key]
        elif kind < 8 and isinstance(holder, list):
            holder.insert(key, copy.deepcopy(holder[key]))
        elif kind < 9 and isinstance(holder[key], int | float):
            holder[key] = holder[key] * chance.choice((-1, 0.01, 0.5, 1.5, 10, 1000))
        elif isinstance(holder, dict):
            holder[str(key) + "x"] = holder.pop(key)
    return data


def change_text(text: str, chance: random.Random) -> str:
    """Return the text with a few characters or lines changed."""
    for _ in range(chance.choice((1, 2, 4, 16))):
        lines = text.split("\n")
        k = chance.randrange(len(lines))
        at = chance.randrange(len(text)) if text else 0
        kind = chance.randrange(6)
        if kind == 0:
            text = text[:at] + text[at + chance.randrange(1, 12) :]
        elif kind == 1:
            text = text[:at] + chance.choice("=[]{}\"'.,-#0123456789eé\x00\n ") + text[at:]
        elif kind == 2:
            lines.insert(chance.randrange(len(lines)), lines[k])
            text = "\n".join(lines)
        elif kind == 3:
            del lines[k]
            text = "\n".join(lines)
        elif kind == 4:
            text = text[: at + 1] if chance.random() < 0.2 else text
        else:
            digits = [i for i, c in enumerate(text) if c.isdigit()]
            if digits:
                i = chance.choice(digits)
                text = text[:i] + chance.choice("0123456789") + text[i + 1 :]
    return text


def outcome(work: Callable[[], Any]) -> str:
    """Return "made" or "refused"; anything else is a fault."""
    try:
        made = work()
    except PartgenError as error:
        if not error.problems:
            raise AssertionError("refused without a word") from error
        for line in error.problems:
            assert line, "an empty line"
            assert "\n" not in line, f"more than one line: {line!r}"
            assert len(line) < 1200, f"a line of {len(line)} characters"
        return "refused"
    for name, content in made.files.items():
        assert not name.startswith(("/", "..")), name
        assert ".." not in Path(name).parts, name
        assert len(name) < 240, name
        if name.endswith(".dxf"):
            assert read(content, where=name).outside
    return "stopped" if made.stopped else "made"


def work_of(seed: int, folder: Path) -> Callable[[], Any]:
    """Return the making of one mutant."""
    chance = random.Random(seed)
    demo = chance.choice(DEMOS)
    text = demo.read_text(encoding="utf-8")
    if seed % 2:
        data = replace_values(tomllib.loads(text), chance)
        return lambda: making.make_job(build(read_job(data, demo, {})), (), "R2000")
    path = folder / "mutant.toml"
    path.write_bytes(change_text(text, chance).encode("utf-8"))
    return lambda: making.make_job(build(load_job(path)), (), "R2000")


def memory() -> int:
    """Return the most that was ever used [bytes]."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def run(count: int, first: int, folder: Path) -> tuple[Counter[str], list[str], float]:
    """Return what happened, the faults, and the slowest mutant's seconds."""
    seen: Counter[str] = Counter()
    faults: list[str] = []
    slowest, before = 0.0, memory()
    for seed in range(first, first + count):
        begin = time.process_time()
        try:
            seen[outcome(work_of(seed, folder))] += 1
        except Exception as error:
            faults.append(f"seed {seed}: {type(error).__name__}: {str(error)[:300]}")
        took = time.process_time() - begin
        slowest = max(slowest, took)
        if took > SLOWEST:
            faults.append(f"seed {seed}: {took:.1f} s")
        if (peak := memory()) > MEMORY > before:
            faults.append(f"seed {seed}: {peak / (1 << 20):.0f} MB of memory")
        before = peak
    return seen, faults, slowest


if __name__ == "__main__":
    import tempfile

    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    with tempfile.TemporaryDirectory() as top:
        result, wrong, longest = run(
            wanted, int(sys.argv[2]) if len(sys.argv) > 2 else 0, Path(top)
        )
    print(dict(result), f"slowest {longest:.2f} s")
    print(*wrong, sep="\n")
    sys.exit(bool(wrong))
