"""Notes and files of one thing stand in the order they were told, however they arrive."""

from datetime import UTC, datetime

from station.care import facts as f
from station.care.ledger import Ledger

AT = datetime(2026, 11, 9, 6, tzinfo=UTC)


def note(seq: int, about: str = "container:K1-001") -> f.Fact:
    body = f.Attached(about, "note", "", "", 0, f"note {seq}")
    return f.Fact(1, seq, seq, AT, 1, None, f.Segment("boot", 0), body)


def test_notes_come_in_fold_order_by_what_they_are_about() -> None:
    ledger = Ledger()
    for fact in (note(3), note(1), note(2, "lot:SN-4/101"), note(1)):
        ledger.apply(fact)
    assert [fact.seq for fact in ledger.attached["container:K1-001"]] == [1, 3]
    assert [fact.seq for fact in ledger.attached["lot:SN-4/101"]] == [2]
