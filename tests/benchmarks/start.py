"""Cold start, as ratios to importing the two heaviest libraries: ``python tests/benchmarks/start.py``.

Each command runs in a new process, in turn with its peer; the medians' ratio is printed.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "demo_parts" / "hill-trial-buggy.toml"
PEER = [sys.executable, "-c", "import ezdxf, shapely"]
RUNS = 7


def seconds(command: list[str]) -> float:
    begin = time.perf_counter()
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    return time.perf_counter() - begin


def row(name: str, command: list[str]) -> None:
    mine, peer = [], []
    for _ in range(RUNS):
        mine.append(seconds(command))
        peer.append(seconds(PEER))
    a, b = statistics.median(mine), statistics.median(peer)
    print(f"{name:28} {a:7.3f} s   import ezdxf, shapely {b:7.3f} s   ratio {a / b:5.2f}")


if __name__ == "__main__":
    partgen = [sys.executable, "-m", "partgen"]
    with tempfile.TemporaryDirectory() as folder:
        row("partgen --help", [*partgen, "--help"])
        row("partgen check, demo", [*partgen, "check", str(DEMO)])
        row("partgen make, demo", [*partgen, "make", str(DEMO), "--out", folder])
