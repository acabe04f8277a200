"""A mount whose ears lean: the joint's centre and bolt axis against the plates folded in space."""

from math import cos, radians, sin

import pytest
from linkage_makers import JOB, RUN

from partgen.job.assembly import assemblies
from partgen.job.build import build
from partgen.job.job import load_job


@pytest.mark.parametrize("lean", [12, -9])
def test_joint_and_bolt_lie_where_the_folded_plates_hold_them(lean, tmp_path):
    text = JOB.split('[[part]]\nname = "web"')[0] + "[[sheet]]" + JOB.split("[[sheet]]")[1]
    text = text.split("[[linkage.obstacle]]")[0].replace(
        "front = 160", f"front = 160\near_angle = {lean}"
    )
    path = tmp_path / "job.toml"
    path.write_text(text.format(x=RUN - 300, trim="", rail=50, joint=57), encoding="utf-8")
    built = build(load_job(path))
    (assembly,) = assemblies(built)
    (first, way), (second, _) = assembly.bolt_axes()["joint"]
    middle = [(a + b) / 2 for a, b in zip(first, second, strict=True)]
    link = next(k for k in built.shop.linkage.layout.links if k.side == "left")
    spot = link.frame.spot.point - [RUN - 300, 500, 520]
    assert list(spot) == pytest.approx(middle, abs=1e-6)
    bolt = [0, cos(radians(lean)), sin(radians(lean))]
    assert list(link.frame.bolt) == pytest.approx(bolt)
    assert abs(sum(a * b for a, b in zip(way, bolt, strict=True))) == pytest.approx(1)
    assert 2 * link.frame.half_gap == pytest.approx(built.mounts[0].ear_gap)
    assert built.mounts[0].ear_gap >= 57
