"""The coupon, cut by simulation: GEOS runs a round torch along the DXF, a rule measures the rest."""

import io
import re

import ezdxf
import pytest
import shapely
from ezdxf import path as dxf_path
from hypothesis import given
from hypothesis import strategies as st

from partgen.cut.coupon import Size, sizes, solved
from partgen.entries.cutting import cutting
from partgen.errors import PartgenError
from partgen.tasks.couponing import coupon, measured, write_profile

STOCK = 6.0


def torch_lines(data, scale):
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    for entity in document.modelspace():
        if entity.dxf.layer in ("INSIDE_CUT", "OUTSIDE_CUT"):
            points = dxf_path.make_path(entity).flattening(0.001)
            line = shapely.LinearRing([(p.x * scale, p.y * scale) for p in points])
            yield entity.dxf.layer, line


def cut(data, kerf, error, scale):
    """Width and height of every void and of every loose piece after cutting [mm]."""
    for layer, line in torch_lines(data, scale):
        area = shapely.Polygon(line)
        grown = kerf / 2 if layer == "INSIDE_CUT" else -kerf / 2
        box = area.buffer(grown, quad_segs=64, join_style="mitre").bounds
        x, y = box[2] - box[0], box[3] - box[1]
        is_round = abs(line.length**2 / area.area - 4 * 3.14159265) < 0.05
        yield layer, is_round, x - error * is_round, y - error * is_round


def filled_in(made, kerf, error, noise=lambda name: 0.0, unit="mm", **head):
    scale = 25.4 if unit == "in" else 1.0
    data = next(v for k, v in made.files.items() if k.endswith(".dxf"))
    form = made.files["form.toml"].decode()
    found = list(cut(data, kerf, error, scale))
    holes = sorted(x for layer, is_round, x, _ in found if is_round)
    squares = sorted(x for layer, _, x, _ in found if layer == "OUTSIDE_CUT")[:2]
    others = [(x, y) for layer, is_round, x, y in found if layer == "INSIDE_CUT" and not is_round]
    window = max(others, key=lambda xy: xy[0])
    slots = sorted(x for x, y in others if (x, y) != window)
    values = dict(zip(("hole-12", "hole-18", "hole-25"), holes, strict=True))
    values |= dict(zip(("square-30", "square-50"), squares, strict=True))
    values |= {"window-width": window[0], "window-height": window[1]}
    values |= {f"slot-{k}": w for k, w in enumerate(slots, 1)}
    for name, value in values.items():
        typed = (value + noise(name)) / scale
        form = re.sub(rf'^{name} = ""', f'{name} = "{typed:.4f}"', form, flags=re.MULTILINE)
    for name, value in head.items():
        form = re.sub(rf'^{name} = ""', f'{name} = "{value}"', form, flags=re.MULTILINE)
    return form, values


@given(st.floats(0.8, 2.6), st.floats(-0.2, 0.6), st.lists(st.floats(-0.06, 0.06), min_size=16))
def test_sums_recover_kerf_and_hole_error_through_a_calliper_s_noise(kerf, error, noise):
    read = []
    for size, off in zip(sizes(STOCK, 1.7), noise, strict=False):
        grown = -kerf if size.kind == "outside" else kerf - error * (size.kind == "hole")
        read.append(Size(size.name, size.kind, size.nominal, size.nominal + grown + off))
    result = solved(read, STOCK, None)
    assert result.kerf == pytest.approx(kerf, abs=0.061)
    assert result.hole_error == pytest.approx(error, abs=0.13)
    assert result.suspects == ()


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("kerf", [1.3, 1.575, 2.1])
def test_a_simulated_cut_gives_its_kerf_back(kerf, unit, tmp_path):
    plate = "6 mm S355" if unit == "mm" else "1/4 in A36"
    made = coupon(plate, "plasma-65a", unit, "R2000")
    sign = {"hole-12": 1, "square-30": -1, "slot-3": 1, "window-width": -1}
    form, values = filled_in(made, kerf, 0.25, lambda name: 0.05 * sign.get(name, 0), unit)
    thick = 6.1 if unit == "mm" else 6.45
    takes = min(int(n[5:]) for n, w in values.items() if n.startswith("slot") and w > thick + 0.1)
    form = form.replace('_measured = ""', f'_measured = "{thick:g} mm"')
    form = form.replace('takes_the_plate = ""', f"takes_the_plate = {takes}")
    path = tmp_path / "form.toml"
    path.write_text(form)
    result = measured(path).result
    assert result.kerf == pytest.approx(kerf, abs=0.05)
    assert result.hole_error == pytest.approx(0.25, abs=0.06)
    assert 0.1 < result.slot_clearance < 0.36
    write_profile(measured(path), tmp_path / "mine.toml")
    mine = cutting("mine.toml", None, tmp_path)
    base = cutting("plasma-65a")
    assert mine.kerf == pytest.approx(kerf, abs=0.05)
    assert mine.slot_clearance == pytest.approx(result.slot_clearance, abs=1e-3)
    assert (mine.feed, mine.part_gap, mine.lead) == (base.feed, base.part_gap, base.lead)
    assert mine.source.startswith("own coupon, ")
    with pytest.raises(PartgenError, match="already there"):
        write_profile(measured(path), tmp_path / "mine.toml")


def test_a_slip_of_the_calliper_is_suspected():
    read = [
        Size(s.name, s.kind, s.nominal, s.nominal + (-1.7 if s.kind == "outside" else 1.7))
        for s in sizes(STOCK, 1.7)
    ]
    read[1] = Size(read[1].name, read[1].kind, read[1].nominal, read[1].measured + 1.0)
    assert solved(read, STOCK, None).suspects == ("square-50",)


def test_an_empty_form_gives_nothing(tmp_path):
    made = coupon("6 mm S355", "plasma-65a", "mm", "R2000")
    path = tmp_path / "form.toml"
    path.write_bytes(made.files["form.toml"])
    with pytest.raises(PartgenError, match="no kerf comes out of it"):
        measured(path)


def test_mistakes_in_a_form_are_all_named(tmp_path):
    form = coupon("6 mm S355", "plasma-65a", "mm", "R2000").files["form.toml"].decode()
    form = form.replace('square-30 = ""', 'sqare-30 = "28.3"').replace(
        'hole-12 = ""', 'hole-12 = "x"'
    )
    form = form.replace('square-50 = ""', "square-50 = 1.9").replace('plate = ""', 'plate = "99"')
    path = tmp_path / "form.toml"
    path.write_text(form)
    with pytest.raises(PartgenError) as error:
        measured(path)
    text = "\n".join(error.value.problems)
    assert len(error.value.problems) == 4
    for says in (
        "'square-30'",
        "measured.hole-12",
        "1.9 mm is far from the 50 mm",
        "'99' is no slot",
    ):
        assert says in text


@pytest.mark.parametrize("plate", ["2 mm S355", "6 mm S355", "10 mm S235", "20 mm S355"])
def test_the_coupon_can_be_cut_from_any_plate(plate):
    made = coupon(plate, "plasma-65a", "mm", "R2000")
    data = next(v for k, v in made.files.items() if k.endswith(".dxf"))
    rings = list(torch_lines(data, 1.0))
    burnt = [ring.buffer(0.85) for _, ring in rings]
    for k, a in enumerate(burnt):
        assert all(a.distance(b) > 6 for b in burnt[:k])
    assert [layer for layer, _ in rings][-1] == "OUTSIDE_CUT"
