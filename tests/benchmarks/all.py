"""Every benchmark, one table after the other: ``python tests/benchmarks/all.py [layout's words]``.

Cold start, ``make`` on every demo, rules on 1,000 plates, DXF writing, the torch's way, layout.
Figures are ratios to a peer in the same run; the machine's own speed drops out. What follows the
command goes to ``layout.py``: a folder of open instances, ``--seconds``, ``--only``.
"""

import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent
WORDS = {"layout.py": sys.argv[1:]}

if __name__ == "__main__":
    for name in ("start.py", "rules.py", "dxf.py", "route.py", "layout.py"):
        print(f"== {name}", flush=True)
        line = [sys.executable, HERE / name, *WORDS.get(name, [])]
        subprocess.run(line, cwd=HERE.parents[1], check=True)
