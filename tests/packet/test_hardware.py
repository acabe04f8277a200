"""The hardware list of the demos, counted by hand."""

from pathlib import Path

from partgen.job.build import build
from partgen.job.job import load_job
from partgen.packet.hardware import hardware

DEMOS = Path(__file__).parents[2] / "demo_parts"


def listed(demo):
    return {i.item: (i.count, i.size) for i in hardware(build(load_job(DEMOS / f"{demo}.toml")))}


def test_trailer():
    """Two mounts: a bolt, a nut, two washers and one more under the nut, two shims, two pads each."""
    found = listed("camping-trailer")
    assert found["bolt"] == (2, "5/8-11 x 5 in")
    assert found["nut"] == (2, "5/8-11")
    assert found["washer"] == (6, "5/8-11")
    assert found["shim"] == (4, "5/8-11, 3/64 in")
    assert found["spacer"] == (4, "3/8 in A36")
    assert found["dummy spacer"][0] == 2
    assert found["dummy spacer"][1].startswith("2-21/32 in long")


def test_sides_that_differ_are_listed_apart():
    job = load_job(DEMOS / "swamp-cart.toml")
    spacers = [(i.count, i.size, i.note) for i in hardware(build(job)) if i.item == "spacer"]
    assert spacers == [
        (2, "6 mm S355", "inner, in the cut list"),
        (2, "6 mm S355 + 6 mm S355", "outer, in the cut list"),
    ]


def test_spacers_nobody_draws_are_said_to_be_missing(tmp_path):
    text = (
        (DEMOS / "swamp-cart.toml")
        .read_text()
        .replace('mount = "arm-mount"\nsize', 'plate = "3 mm S355"\nsize')
    )
    path = tmp_path / "job.toml"
    path.write_text(text)
    notes = [i.note for i in hardware(build(load_job(path))) if i.item == "spacer"]
    assert all("no spacer part in the job" in note for note in notes)
    assert len(notes) == 2
