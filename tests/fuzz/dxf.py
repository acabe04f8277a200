"""Coverage-guided fuzzing of the DXF reader: every input gives outlines or one line of refusal.

    pip install atheris
    python tests/fuzz/dxf.py -max_total_time=3600 [corpus folder]

The corpus starts from the demos' own files, in both versions. Arguments go to the fuzzer as they are.
"""

import sys
import tempfile
from pathlib import Path

import atheris

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

with atheris.instrument_imports(
    include=["partgen.dxf.read", "partgen.dxf.paths", "partgen.dxf.tags"]
):
    from partgen.dxf.read import read_pieces

from partgen.errors import PartgenError  # noqa: E402
from partgen.tasks.making import make  # noqa: E402


def one(data: bytes) -> None:
    """Read one input."""
    try:
        pieces = read_pieces(data, where="fuzz.dxf", unit=None)
    except PartgenError as error:
        if len(error.problems) != 1:
            raise
        return
    for outlines in pieces:
        assert all(outline.area > 0 for outline in outlines)


def seeds(folder: Path) -> None:
    """Write the demos' files into ``folder``."""
    for demo in sorted((ROOT / "demo_parts").glob("*.toml")):
        for version in ("R2000", "R12"):
            for name, content in make(demo, {}, (), version).files.items():
                if name.endswith(".dxf"):
                    (folder / f"{version}-{Path(name).name}").write_bytes(content)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as corpus:
        seeds(Path(corpus))
        atheris.Setup(
            [*sys.argv, corpus, "-max_len=60000", "-timeout=30", "-rss_limit_mb=1024"], one
        )
        atheris.Fuzz()
