"""What a program of somebody else's may do with partgen: it knows ``partgen.api`` and no more.

``mypy`` checks it strictly; ``test_api.py`` runs it. A hand cart's web, wider bolts, a closer look.
"""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from partgen import api


def corners(plate: api.Plate) -> list[tuple[float, float, float]]:
    """Return a plate's exact outline as DXF has it [mm]."""
    return [(v.x, v.y, v.bulge) for v in plate.outline.vertices]


def sums(built: api.Build) -> dict[str, tuple[float, float]]:
    """Return gap and bolt length of every mount [mm]."""
    fits: dict[str, api.Fit] = {mount.name: mount.fit for mount in built.mounts}
    bolts: dict[str, api.BoltFit | None] = {m.name: m.bolt_fit for m in built.mounts}
    return {name: (fits[name].gap, bolt.length) for name, bolt in bolts.items() if bolt}


def foot() -> api.Plate:
    """Return a plate that no family makes, its hole too near the edge."""
    size: api.Bolt = api.bolt("M12")
    steel: api.Material = api.material("S355")
    edge = [api.Vertex(0, 0), api.Vertex(90, 0), api.Vertex(90, 60), api.Vertex(0, 60)]
    return api.Plate(
        part="cart",
        name="foot",
        outline=api.Outline.of(edge),
        holes=(api.Hole("foot", 15, 30, size.hole("normal"), size),),
        thickness=6.0,
        material=steel,
    )


def failing(plates: list[api.Plate], shop: api.Shop) -> list[api.Finding]:
    """Return what stops plates."""
    return [f for f in api.check_plates(plates, shop) if f.status is api.Status.FAIL]


def main(job_file: Path, changes: Mapping[str, str], folder: Path) -> dict[str, object]:
    """Build a job, look at all of it, write it; return what was seen."""
    job: api.Job = api.load_job(job_file, changes)
    built: api.Build = api.build(job)
    mount: api.Mount = built.mounts[0]
    other: api.Fit = mount.fits[-1]
    grown = [
        replace(plate, holes=tuple(replace(h, diameter=h.diameter + 20) for h in plate.holes))
        for plate in built.plates
    ]
    nests: list[api.Nest] = api.nest_job(built, api.Searching(seconds=None))
    layouts: list[api.Layout] = [nest.layout for nest in nests]
    places: list[api.Placement] = [p for layout in layouts for p in layout.placements]
    asked = api.Asked(kerf="profile", leads=True)
    made: api.Made = api.make_job(built, asked=asked, searching=api.Searching())
    api.write(made, folder)
    return {
        "corners": corners(built.plates[0]),
        "sums": sums(built),
        "other gap": api.build(job, {mount.name: other}).mounts[0].fit.gap,
        "foot": failing([foot()], built.shop),
        "grown": failing(grown, built.shop),
        "findings": api.check(built),
        "places": [(p.piece, p.x, p.y, p.turn) for p in places],
        "files": made.files,
    }
