"""Cold start and ``make`` on every demo, as ratios: ``python tests/benchmarks/start.py``.

Each command runs in a new process, in turn with its peer: importing the two heaviest libraries.
"""

import tempfile
from pathlib import Path

from beside import ROOT, command, head, row

DEMOS = sorted((ROOT / "demo_parts").glob("*.toml"))
DEMO = ROOT / "demo_parts" / "hill-trial-buggy.toml"
PEER = command("-c", "import ezdxf, shapely")


def made(demo, folder):
    """Return what makes a demo in a folder that is new each time, so that no layout is kept."""
    return lambda: command("-m", "partgen", "make", demo, "--out", tempfile.mkdtemp(dir=folder))()


def main():
    head("importing ezdxf and shapely")
    row("partgen --help", command("-m", "partgen", "--help"), PEER, 7)
    row("partgen check hill-trial-buggy", command("-m", "partgen", "check", DEMO), PEER, 5)
    with tempfile.TemporaryDirectory() as folder:
        for demo in DEMOS:
            row(f"partgen make {demo.stem}", made(demo, Path(folder)), PEER, 3)


if __name__ == "__main__":
    main()
