"""Small makers for tests of links."""

import numpy as np

from partgen.fields import Reading
from partgen.linkage.axle import Body, Rod, Spot
from partgen.linkage.entry import LinkageEntry
from partgen.linkage.mount_swing import Surroundings
from partgen.linkage.study import study

# The computed four-link set (two independent methods agree; no textbook prints one). Inches.
LOWER = ((0, 22, 12), (30, 14, 15))  # axle end, frame end
UPPER = ((-1, 4, 22), (23, 16, 21))


def rods(name, axle, frame, sides=(1, -1)):
    return [
        Rod(name, Spot(np.array(frame, float) * [1, s, 1], False),
            Spot(np.array(axle, float) * [1, s, 1], True))
        for s in sides
    ]  # fmt: skip


def four_link():
    links = (*rods("lower", *LOWER), *rods("upper", *UPPER))
    return Body(np.array([0.0, 0.0, 18.0]), links, half_track=30.0)


def entry(unit="mm", **data):
    return LinkageEntry.model_validate(data, context=Reading(unit))


def link(name, axle, frame, **more):
    return {"name": name, "tube": 1, "axle": {"at": axle}, "frame": {"at": frame}, **more}


def worked(unit="mm", **data):
    return study(entry(unit, **data), Surroundings({}, {}, {}))
