"""Whose word a fact is: a lead's or an engineer's is told apart from what anybody may say."""

from station.care import facts as f
from station.care.proofs import PROVED, needs_proof
from station.care.words import HoldReason


def test_a_leads_word_needs_a_proof_and_what_a_scan_tells_does_not() -> None:
    assert needs_proof(f.Released("K7-001", "x", "judged good"))
    assert not needs_proof(f.Cleaned("1"))
    assert len(set(PROVED)) == len(PROVED)


def test_a_recalled_lot_is_a_leads_word_and_one_that_awaits_its_test_is_nobodys() -> None:
    assert needs_proof(f.LotHeld("SN-4/101", "recall"))
    assert not needs_proof(f.LotHeld("SN-4/101", "", HoldReason.INCOMING_TEST))
