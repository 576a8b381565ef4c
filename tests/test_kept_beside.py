"""Two lockups of one name: the one that was there is kept under a name much like it, and none is lost."""

from __future__ import annotations

from dataclasses import replace

import pytest
from stonework.records import keep_beside, open_lockup, save_lockup


def test_each_is_kept_under_the_next_free_name(sound, tmp_path):
    for n in range(3):
        save_lockup(replace(sound, arrangement=f"the {n}."), "Dance card", tmp_path)
        assert keep_beside("Dance card", tmp_path).name == f"Dance card {n + 2}.lockup.json"
    kept = [open_lockup(f"Dance card {n + 2}", tmp_path).arrangement for n in range(3)]
    assert kept == ["the 0.", "the 1.", "the 2."]
    assert len(list(tmp_path.glob("*.lockup.json"))) == 3


def test_a_name_as_long_as_may_be_still_gets_a_number(sound, tmp_path):
    name = "n" * 40
    save_lockup(sound, name, tmp_path)
    assert keep_beside(name, tmp_path).name == f"{'n' * 36} 2.lockup.json"
    with pytest.raises(ValueError, match="No lockup is saved as"):
        open_lockup(name, tmp_path)


def test_one_that_is_not_there_cannot_be_kept(tmp_path):
    with pytest.raises(FileNotFoundError):
        keep_beside("Dance card", tmp_path)
