"""What a run has looked at for nothing is known to the next run with the same wishes."""

from pathlib import Path

from fastness.workflows.looked_at import LookedAt

KEY = "8/8/8/3Kp3/4Pk2/8/8/8 w - -"
OTHER = "8/8/8/3Kp3/4Pk2/8/8/8 b - -"


def test_the_next_run_with_the_same_wishes_knows(tmp_path: Path) -> None:
    wishes = {"kinds": frozenset({"every move", "better way", "is it safe"}), "most": 4}
    first = LookedAt("mine", wishes, folder=tmp_path)
    assert KEY not in first
    first.add(KEY)
    again = {"most": 4, "kinds": frozenset({"is it safe", "better way", "every move"})}
    assert KEY in LookedAt("mine", again, folder=tmp_path)
    assert OTHER not in LookedAt("mine", again, folder=tmp_path)
    for work, other in (("mine", {**wishes, "most": 5}), ("twin", wishes)):
        assert KEY not in LookedAt(work, other, folder=tmp_path)


def test_what_gave_something_is_known_too(tmp_path: Path) -> None:
    assert KEY in LookedAt("mine", {}, known={KEY}, folder=tmp_path)


def test_no_position_can_be_read_in_it(tmp_path: Path) -> None:
    LookedAt("mine", {}, folder=tmp_path).add(KEY)
    (file,) = tmp_path.iterdir()
    assert "Kp3" not in file.read_text("ascii")


def test_where_it_cannot_be_written_a_run_does_without(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", "ascii")
    looked_at = LookedAt("mine", {}, folder=tmp_path / "file")
    looked_at.add(KEY)
    assert KEY in looked_at
