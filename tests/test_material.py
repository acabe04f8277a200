"""Materials: EN 10025-2 and ASTM strengths typed in again, bands, and what is refused.

Yield and tensile are the least printed values; A36 and A572 limits of thickness from memory.
"""

import copy

import pytest

from partgen.errors import ProfileError
from partgen.reference import profile_files
from partgen.reference.material import material, names, parse


@pytest.mark.parametrize(
    ("name", "thickness", "fy", "fu"),
    [
        ("S235", 2.5, 235, 360),
        ("S235", 16, 235, 360),
        ("S235", 16.1, 225, 360),
        ("S235", 40, 225, 360),
        ("S275", 2.9, 275, 430),
        ("S275", 3, 275, 410),
        ("S275", 16, 275, 410),
        ("S275", 40, 265, 410),
        ("S355", 2.9, 355, 510),
        ("S355", 3, 355, 470),
        ("S355", 16, 355, 470),
        ("S355", 25, 345, 470),
        ("S355", 40, 345, 470),
        ("S355", 63, 335, 470),
    ],
)
def test_strength_by_thickness_of_en_10025_2(name, thickness, fy, fu):
    """EN 10025-2: to 16, 40 and 63 mm included; tensile changes below 3 mm."""
    assert material(name).strength(thickness) == (fy, fu)


@pytest.mark.parametrize(("name", "fy", "fu"), [("A36", 248.2, 399.9), ("A572-50", 344.7, 448.2)])
def test_astm_steels_in_mpa(name, fy, fu):
    """ASTM A36: 36 and 58 ksi; A572 Grade 50: 50 and 65 ksi. 1 ksi = 6.8948 MPa."""
    assert material(name).strength(9.525) == pytest.approx((fy, fu), abs=0.05)


@pytest.mark.parametrize(
    ("name", "over"), [("S235", 40.1), ("S275", 41), ("S355", 63.5), ("A572-50", 102)]
)
def test_a_thickness_the_source_does_not_print_is_not_covered(name, over):
    assert material(name).strength(over) is None


@pytest.mark.parametrize(
    ("name", "yields", "tensiles"),
    [
        ("A36", [203.2], [203.2]),
        ("A572-50", [101.6], [101.6]),
        ("S235", [16, 40], [40]),
        ("S275", [16, 40], [3, 40]),
        ("S355", [16, 40, 63], [3, 63]),
    ],
)
def test_bands_of_thickness_in_mm(name, yields, tensiles):
    """EN 10025-2; A36 8 in. and A572 4 in. from memory."""
    steel = material(name)
    assert [limit.thickness for limit in steel.yields] == pytest.approx(yields)
    assert [limit.thickness for limit in steel.tensiles] == pytest.approx(tensiles)


@pytest.mark.parametrize("name", names())
def test_every_material_has_its_source_and_the_density_of_steel(name):
    steel = material(name)
    assert steel.density == 7850
    assert steel.name.lower() == name
    assert steel.name.split("-")[0] in steel.source.cite
    fy, fu = steel.strength(6)
    assert fy < fu < 2 * fy


def test_names_are_found_in_any_case():
    assert material(" s355 ") is material("S355")


def test_an_unknown_material_names_the_nearest():
    with pytest.raises(ProfileError, match="material 'S335' is unknown; did you mean 'S355'"):
        material("S335")


@pytest.mark.parametrize("thickness", [0, -6, float("nan")])
def test_an_impossible_thickness_is_refused(thickness):
    with pytest.raises(ProfileError, match=r"S235: thickness is .* mm, needs > 0 mm"):
        material("S235").strength(thickness)


@pytest.mark.parametrize(
    ("block", "field", "value", "message"),
    [
        (None, "density", None, "'density' is missing"),
        (None, "price", 3, "'price' is unknown"),
        (None, "density", "heavy", "density is 'heavy'"),
        (None, "density", 7.85, "density is 7.85, needs 500 to 25000 kg/m3"),
        (None, "name", "S255", "name is 'S255'"),
        ("source", "cite", None, "'cite' is missing"),
        ("strength", "fy", None, "'fy' is missing"),
        ("strength", "fu", [], "'fu' is empty"),
        ("strength", "stress", "psi", "is in psi by mm"),
        ("strength", "fy", [{"to": 16}], "fy band 1"),
        ("strength", "fy", [16, 355], "fy band 1 is 16"),
        ("strength", "fy", [{"to": "16", "min": 355}], "fy band 1"),
        ("strength", "fy", [{"to": 16, "min": 355}, {"to": 16, "min": 3}], "fy band 2 must rise"),
    ],
)
def test_a_faulty_file_is_refused_by_name_and_field(block, field, value, message):
    data = copy.deepcopy(profile_files.read("materials", "s355"))
    target = data[block] if block else data
    if value is None:
        del target[field]
    else:
        target[field] = value
    with pytest.raises(ProfileError, match=r"^profiles/materials/s355\.toml: ") as caught:
        parse("s355", data)
    assert message in str(caught.value)
