"""Leads: in scrap, off ears, clear of neighbours; measured with GEOS polygons."""

from dataclasses import replace
from math import hypot

import pytest
import shapely
from helpers import plate

from partgen.cut.leads import is_ear
from partgen.cut.loop import lying, placed
from partgen.cut.plan import Way, plan
from partgen.entries.cutting import cutting
from partgen.errors import PartgenError
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.sheets.nest import nest_job

PROCESS = cutting("plasma-65a")
EAR = [(0, 0), (120, 0), (120, 50), (0, 50)]
BOX = plate(EAR, holes=[("joint", 20, 25, "M16")], windows=[("w", rectangle(40, 20, 5, (70, 25)))])


def planned(*plates, sheet=(), **way):
    return plan(plates, PROCESS, Way(**{"kerf": PROCESS.kerf, "leads": True, **way}), sheet)


def demo_plans(root, **way):
    from partgen.cut.ready import ready
    from partgen.sheets.cut_plans import Work, sheet_plans

    for path in sorted((root / "demo_parts").glob("*.toml")):
        made = build(load_job(path))
        nests = nest_job(made)
        work = Work(Way(kerf=PROCESS.kerf, leads=True, **way))
        yield from sheet_plans(nests, ready(made), PROCESS, work)


@pytest.mark.parametrize("joints", [0, 3])
def test_on_the_demos_sheets_every_lead_is_in_scrap_and_clear(request, joints):
    for found in demo_plans(request.config.rootpath, joints=joints):
        metal = [c.loop.path.polygon("inside") for c in found.plan.cuts if not c.loop.inside]
        holes = [c.loop.path.polygon("outside") for c in found.plan.cuts if c.loop.inside]
        keep = shapely.union_all(metal).difference(shapely.union_all(holes))
        assert found.plan.cuts
        for cut in found.plan.cuts:
            for p in cut.passes:
                (lead,) = p.lead_in
                assert keep.distance(shapely.Point(lead.start)) > PROCESS.kerf - 0.02
                line = shapely.LineString([lead.start, lead.at(0.98)])
                assert not keep.intersects(line), cut.loop.label
                assert p.run[0].start == pytest.approx(lead.end)
                others = [o.loop.path for o in found.plan.cuts if o is not cut]
                assert min(o.distance(lead.start) for o in others) >= PROCESS.pierce_clearance
                for out in p.lead_out:
                    assert not keep.intersects(shapely.LineString([out.at(0.1), out.end]))
                    assert out.length == pytest.approx(PROCESS.lead_out)
                if not cut.loop.inside:
                    near = min(cut.path.segments, key=lambda s, at=lead.end: s.distance(at))
                    assert not is_ear(near, cut.loop.ears)


def test_no_lead_meets_the_arc_about_a_joint_hole():
    """A disc about its bolt hole is all ear: there is no place to begin."""
    disc = replace(BOX, outline=Outline.circle(20, 25, 60), windows=())
    with pytest.raises(PartgenError, match="outside edge: no place for a lead-in"):
        planned(lying(disc))
    off_centre = replace(disc, outline=Outline.circle(24, 25, 60))
    assert planned(lying(off_centre)).pierces == 2


def test_the_lead_in_a_round_hole_is_no_longer_than_radius_less_kerf():
    for size, expected in (("M16", 5.0), ("M10", 11 / 2 - PROCESS.kerf)):
        box = plate(EAR, holes=[("bolt", 20, 25, size)])
        cut = next(c for c in planned(lying(box)).cuts if c.loop.inside)
        assert cut.passes[0].lead_in[0].length == pytest.approx(expected)
    box = plate(EAR, holes=[("bolt", 20, 25, "M6")])  # 6.6 mm: 3.3 - 2 is less than the kerf
    with pytest.raises(PartgenError, match="hole bolt: no place for a lead-in"):
        plan([lying(box)], PROCESS.model_copy(update={"kerf": 2.0}), Way(2.0, leads=True))


def test_a_neighbour_at_the_part_gap_is_kept_clear_of():
    there = [
        lying(BOX),
        placed(lying(BOX), 128.5, 0, 0, " 2"),
        placed(lying(BOX), 0, 58.5, 0, " 3"),
    ]
    result = planned(*there)
    for cut in result.cuts:
        at = cut.passes[0].lead_in[0].start
        assert min(o.loop.path.distance(at) for o in result.cuts if o is not cut) >= 2.5


def test_plates_too_near_for_any_lead_are_named():
    ring = rectangle(130, 60, 0, (60, 25))
    frame = plate([(-30, -30), (150, -30), (150, 80), (-30, 80)], windows=[("frame", ring)])
    with pytest.raises(PartgenError, match="test/plate: outside edge: no place for a lead-in"):
        plan(
            [lying(BOX), replace(lying(frame), name="frame")],
            PROCESS.model_copy(update={"pierce_clearance": 4.0}),
            Way(PROCESS.kerf, leads=True),
        )


def test_leads_stay_on_the_sheet():
    sheet = rectangle(125, 300, 0, (60.5, 150))  # 2 mm of metal left, right and below the plate
    result = planned(lying(BOX), sheet=[sheet])
    view = sheet.polygon("inside")
    for cut in result.cuts:
        for s in (*cut.passes[0].lead_in, *cut.passes[0].lead_out):
            assert view.contains(shapely.LineString([s.start, s.end]))
    assert next(c for c in result.cuts if not c.loop.inside).passes[0].lead_in[0].y0 > 50


def test_clockwise_runs_outside_edges_clockwise_and_openings_not():
    result = planned(lying(BOX), clockwise=True)
    for cut in result.cuts:
        run = cut.passes[0].run
        area = shapely.LinearRing([s.at(k / 8) for s in run for k in range(8)])
        assert area.is_ccw == cut.loop.inside
        length = sum(s.length for s in run)
        assert length == pytest.approx(cut.loop.path.length)


@pytest.mark.parametrize("clockwise", [True, False])
@pytest.mark.parametrize("leads", [True, False])
def test_micro_joints_leave_their_metal(leads, clockwise):
    result = planned(lying(BOX), joints=3, leads=leads, clockwise=clockwise)
    edge = next(c for c in result.cuts if not c.loop.inside)
    assert len(edge.passes) == 3
    gap = PROCESS.micro_joint + PROCESS.kerf
    cut = sum(s.length for p in edge.passes for s in p.run)
    assert cut == pytest.approx(edge.loop.path.length - 3 * gap)
    burnt = [
        shapely.LineString([s.at(k / 40) for s in p.run for k in range(41)]).buffer(
            PROCESS.kerf / 2
        )
        for p in edge.passes
    ]
    assert shapely.union_all(burnt).geom_type == "MultiPolygon"
    for k, one in enumerate(burnt):
        assert one.distance(burnt[k - 1]) == pytest.approx(PROCESS.micro_joint, abs=0.02)
    assert all(len(c.passes) == 1 for c in result.cuts if c.loop.inside)


@pytest.mark.parametrize("clockwise", [True, False])
def test_a_micro_joint_never_lies_round_a_corner(clockwise):
    """Joints of 40 mm on a 120 x 60 plate: only the long sides have room for one."""
    wide = PROCESS.model_copy(update={"micro_joint": 40.0})
    result = plan([lying(BOX)], wide, Way(1.7, leads=True, clockwise=clockwise, joints=2))
    edge = next(c for c in result.cuts if not c.loop.inside)
    ends = [(p.run[-1].end, edge.passes[k - 1].run[0].start) for k, p in enumerate(edge.passes)]
    assert len(ends) == 2
    for (ax, ay), (bx, by) in ends:
        assert hypot(ax - bx, ay - by) == pytest.approx(41.7)


@pytest.mark.parametrize("width", [4.6, 5.0, 6.5, 9.0])
@pytest.mark.parametrize("round_ends", [True, False])
def test_a_narrow_slot_is_pierced_on_its_axis(width, round_ends):
    """Slots for the tabs of a 4 or 6 mm plate: the lead runs along the slot, off its walls."""
    slot = rectangle(40, width, 1.2, (70, 25))
    slot = Outline.slot(70, 25, 40, width) if round_ends else slot
    made = plate(EAR, windows=[("slot", slot)])
    cut = next(c for c in planned(lying(made)).cuts if c.loop.inside)
    (lead,) = cut.passes[0].lead_in
    assert slot.distance(lead.start) > 0.5 * PROCESS.kerf + 0.59 * PROCESS.kerf
    assert slot.polygon("inside").contains(shapely.LineString([lead.start, lead.end]))
    assert lead.length >= PROCESS.kerf


def test_travel_and_length_are_hand_sums():
    square = plate([(10, 20), (40, 20), (40, 50), (10, 50)])
    result = plan([lying(square)], PROCESS, Way())
    assert result.length == pytest.approx(120)
    assert result.travel == pytest.approx(hypot(10, 20))
    assert result.pierces == 1
