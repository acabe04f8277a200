"""The README's pictures, made anew from the demos: ``python tests/refresh_pictures.py``."""

from pathlib import Path

from partgen.making import make

ROOT = Path(__file__).parents[1]
PICTURES = {
    "hill-trial-buggy_plates.svg": ("hill-trial-buggy", "_plates.svg"),
    "hill-trial-buggy_sheet-6mm.svg": ("hill-trial-buggy", "_6mm-S355_sheet-1250x2500-1_mm.svg"),
    "hill-trial-buggy-rear-links_linkage-side.svg": (
        "hill-trial-buggy-rear-links",
        "_linkage-side.svg",
    ),
    "hill-trial-buggy_assembly.svg": ("hill-trial-buggy", "_lower-front-mount_assembly.svg"),
    "camping-trailer_plates.svg": ("camping-trailer", "_plates.svg"),
    "measured-rails_plates.svg": ("measured-rails", "_plates.svg"),
}


def fresh() -> dict[str, bytes]:
    """Return every picture as the demos give it now."""
    made = {
        demo: make(ROOT / "demo_parts" / f"{demo}.toml", {}, (), "R2000").files
        for demo in {demo for demo, _ in PICTURES.values()}
    }
    return {name: made[demo][f"pictures/{demo}{end}"] for name, (demo, end) in PICTURES.items()}


if __name__ == "__main__":
    for name, content in fresh().items():
        (ROOT / "demo_parts" / "pictures" / name).write_bytes(content)
