"""Where pieces are in space, worked out anew: points of one piece in the axes of another."""

import numpy as np
import shapely

from partgen.job.assembly import assemblies
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.plates.solid import Frame

SKIN = 0.05  # mm that two pieces may share


def made(tmp_path, text):
    job = tmp_path / "job.toml"
    job.write_text(text)
    return build(load_job(job))


def assembly_of(built, name):
    (found,) = (a for a in assemblies(built) if a.name == name)
    return found


def metal(solid, chord=0.005):
    edges = [o.polygon("inside", chord).exterior.coords for o in solid.outlines[-1:]]
    holes = [o.polygon("outside", chord).exterior.coords for o in solid.outlines[:-1]]
    return shapely.Polygon(edges[0], holes)


def filling(solid, step=5.0):
    """Points all through a piece, ``SKIN`` within its surface; rows x, y, z."""
    shape = metal(solid).buffer(-SKIN)
    x0, y0, x1, y1 = shape.bounds
    rim = [p for ring in _rings(shape) for p in shapely.segmentize(ring, 2.0).coords]
    xs, ys = np.meshgrid(np.arange(x0, x1, step), np.arange(y0, y1, step))
    flat = [p for p in zip(xs.ravel(), ys.ravel(), strict=True) if shape.contains(shapely.Point(p))]
    low, high = sorted((0.0, solid.depth))
    outs = np.linspace(low + SKIN, high - SKIN, max(3, int((high - low) / step)))
    return np.array([solid.frame.at(p, out) for p in [*rim, *flat] for out in outs])


def _rings(shape):
    for polygon in getattr(shape, "geoms", [shape]):
        yield polygon.exterior
        yield from polygon.interiors


def local(solid, points):
    """Points in the axes of a flat piece: x, y of its drawing, and out of it."""
    reach = np.asarray(points) - np.array(solid.frame.origin)
    return reach @ np.array([solid.frame.u, solid.frame.v, solid.frame.normal]).T


def shared(a, b):
    """How many points of ``a`` lie in the metal of ``b``, which is flat."""
    at = local(b, filling(a))
    low, high = sorted((0.0, b.depth))
    deep = at[(at[:, 2] > low) & (at[:, 2] < high)]
    return int(shapely.contains_xy(metal(b), deep[:, 0], deep[:, 1]).sum()) if len(deep) else 0


def meet(a, b):
    """Tell whether two pieces interpenetrate."""
    if any(min(h, i) - max(low, m) < SKIN for low, h, m, i in zip(*a.box, *b.box, strict=True)):
        return False
    flat = [(p, q) for p, q in ((a, b), (b, a)) if type(q.frame) is Frame]
    return any(shared(p, q) for p, q in flat)
