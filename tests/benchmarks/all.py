"""Every benchmark, one table after the other: ``python tests/benchmarks/all.py [layout instances]``.

Figures are ratios to a peer in the same run; the machine's own speed drops out.
"""

import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent

if __name__ == "__main__":
    for name in ("start.py", "rules.py", "dxf.py", "route.py"):
        print(f"== {name}", flush=True)
        subprocess.run([sys.executable, HERE / name], cwd=HERE.parents[1], check=True)
    print("== layout.py", flush=True)
    subprocess.run(
        [sys.executable, HERE / "layout.py", *sys.argv[1:]], cwd=HERE.parents[1], check=True
    )
