"""Same job, same bytes, whatever hash seed, locale, time zone and folder."""

import sys

import pytest
import same_bytes


@pytest.mark.parametrize("demo", ["camping-trailer.toml", "hill-trial-buggy-through-bolt.toml"])
def test_no_file_hangs_on_the_process_that_makes_it(demo):
    assert same_bytes.different([sys.executable], [demo]) == []


def test_a_file_that_differs_is_named(monkeypatch):
    made = iter([{"a": "1", "b": "1"}, {"a": "1", "b": "2", "c": "3"}])
    monkeypatch.setattr(same_bytes, "made_by", lambda *_: next(made))
    assert [line.split(":")[0] for line in same_bytes.different(["python"], [])] == ["b", "c"]
