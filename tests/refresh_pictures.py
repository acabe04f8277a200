"""The README's pictures, made anew from the demos: ``python tests/refresh_pictures.py``."""

import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]  # this tree, whatever else is installed

from helpers import made_demo  # noqa: E402

from partgen.tasks.drawing_files import make_pictures  # noqa: E402

OUTER = "lower-front-mount/outer/left"
PICTURES = {
    "hill-trial-buggy_plates.svg": ("hill-trial-buggy", "_plates.svg"),
    "hill-trial-buggy_sheet-6mm.svg": ("hill-trial-buggy", "_6mm-S355_sheet-1250x2500-1_mm.svg"),
    "hill-trial-buggy-upper-links_plates.svg": ("hill-trial-buggy-upper-links", "_plates.svg"),
    "hill-trial-buggy-upper-links_assembly.svg": (
        "hill-trial-buggy-upper-links",
        "_top-plate_assembly.svg",
    ),
    "hill-trial-buggy-rear-links_linkage-side.svg": (
        "hill-trial-buggy-rear-links",
        "_linkage-side.svg",
    ),
    "hill-trial-buggy_assembly.svg": ("hill-trial-buggy", "_lower-front-mount_assembly.svg"),
    "camping-trailer_plates.svg": ("camping-trailer", "_plates.svg"),
    "measured-rails_plates.svg": ("measured-rails", "_plates.svg"),
    "swamp-cart_section.svg": ("swamp-cart", "_arm-mount_section.svg"),
}


def fresh() -> dict[str, bytes]:
    """Return every picture as the demos give it now."""
    pictures = {
        name: made_demo(demo).files[f"pictures/{demo}{end}"]
        for name, (demo, end) in PICTURES.items()
    }
    files, _ = make_pictures(ROOT / "demo_parts" / "hill-trial-buggy.toml", {}, [OUTER], None)
    return pictures | {"hill-trial-buggy_outer-plate.svg": next(iter(files.values()))}


if __name__ == "__main__":
    for name, content in fresh().items():
        (ROOT / "demo_parts" / "pictures" / name).write_bytes(content)
