"""A mount whose ears lean: the joint's centre and bolt axis against the plates folded in space."""

from math import cos, radians, sin

import pytest
from linkage_makers import RUN, arm_job, build_text

from partgen.job.assembly import assemblies


@pytest.mark.parametrize("hole", ["joint", "second"])
@pytest.mark.parametrize("lean", [12, -9])
def test_joint_and_bolt_lie_where_the_folded_plates_hold_them(lean, hole, tmp_path):
    ears = f'ear_angle = {lean}\nears = [{{ pivot = [425, -110], name = "second" }}]\n'
    text = arm_job(mount=ears).replace("front = 160", "front = 260")
    text = text.replace('frame = { mount = "mount"', f'frame = {{ mount = "mount", hole = "{hole}"')
    built = build_text(text, tmp_path)
    (assembly,) = assemblies(built)
    (first, way), (second, _) = assembly.bolt_axes()[hole]
    middle = [(a + b) / 2 for a, b in zip(first, second, strict=True)]
    link = next(k for k in built.shop.linkage.layout.links if k.side == "left")
    spot = link.frame.spot.point - [RUN - 300, 500, 520]
    assert list(spot) == pytest.approx(middle, abs=1e-6)
    bolt = [0, cos(radians(lean)), sin(radians(lean))]
    assert list(link.frame.bolt) == pytest.approx(bolt)
    assert abs(sum(a * b for a, b in zip(way, bolt, strict=True))) == pytest.approx(1)
    assert 2 * link.frame.half_gap == pytest.approx(built.mounts[0].ear_gap)
    assert built.mounts[0].ear_gap >= 57
