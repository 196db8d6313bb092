"""Somebody comes, changes, goes or chooses another PIN, and the settings do not undo it at the next start."""

from dataclasses import replace

import argon2
import pytest

from station.bootstrap import DEMO_KEYS
from station.care.people import PeopleRefused
from station.care.scans import BadgeScan
from station.care.words import Role
from station.labels.plaincodes import badge_text
from station.services.opening import opening_bodies
from station.services.outcome import Refusal
from station.services.people import hashed
from station.services.people_acts import PersonWord, change_pin, record_person
from station.services.ports import JournalRefusal
from station.services.station import Proof
from tests.care.bench import LEAD, Bench, with_rules
from tests.care.leading import ENGINEER_PROOF, PROOF
from tests.services.test_station import named

NOOR = PersonWord("P41", "Noor Willow", (Role.OPERATOR,))


def test_a_new_badge_is_read_at_once_and_after_a_restart() -> None:
    bench = Bench()
    assert not isinstance(bench.station.reader.read([badge_text("P41")]), BadgeScan)
    outcome = record_person(bench.station, NOOR, PROOF)
    assert outcome.verdict is not None
    assert outcome.verdict.headline == "NOOR WILLOW"
    assert "Print the badge" in outcome.verdict.todo
    for _ in range(2):
        assert bench.station.reader.read([badge_text("P41")]) == BadgeScan("P41")
        assert bench.badge("P41", "LINE1").code == "signed-in"
        bench.restart()


def test_who_was_let_go_is_not_known_any_more_and_stays_so_after_a_restart() -> None:
    bench = Bench()
    record_person(bench.station, PersonWord("P12", "Robin Alder", (Role.OPERATOR,), left=True), PROOF)
    bench.restart()
    assert bench.badge("P12", "LINE1").code == "badge-unknown"


def test_what_the_settings_change_afterwards_counts() -> None:
    bench = Bench()
    record_person(bench.station, PersonWord("P12", "Robin A.", (Role.OPERATOR,)), PROOF)
    site = bench.station.site
    assert [body.NAME for body in opening_bodies(site, bench.station.ledger)] == []
    changed = replace(
        site, people=tuple(replace(one, name="Robin Oak") if one.id == "P12" else one for one in site.people)
    )
    assert [getattr(body, "name", "") for body in opening_bodies(changed, bench.station.ledger)] == ["Robin Oak"]
    fewer = replace(site, people=tuple(one for one in site.people if one.id != "P12"))
    assert [getattr(body, "left", None) for body in opening_bodies(fewer, bench.station.ledger)] == [True]


def test_an_operator_proves_nothing() -> None:
    bench = Bench()
    before = named(bench)
    with pytest.raises(Refusal):
        record_person(bench.station, NOOR, Proof("P12", "1212"))
    assert named(bench) == before


def test_a_lead_made_by_an_engineer_may_decide_with_the_new_pin() -> None:
    bench = Bench()
    lead = PersonWord("P42", "Juno Elm", (Role.OPERATOR, Role.LEAD), pin="4071")
    with pytest.raises(PeopleRefused):
        record_person(bench.station, lead, PROOF)
    record_person(bench.station, lead, ENGINEER_PROOF)
    assert bench.station.prove(Proof("P42", "4071"), Role.LEAD).name == "Juno Elm"


def test_another_pin_needs_the_old_one_and_ends_it() -> None:
    bench = Bench()
    with pytest.raises(Refusal):
        change_pin(bench.station, Proof(LEAD, "0001"), "7264")
    change_pin(bench.station, PROOF, "7264")
    assert bench.station.prove(Proof(LEAD, "7264"), Role.LEAD).id == LEAD
    with pytest.raises(Refusal):
        bench.station.prove(PROOF, Role.LEAD)


def test_a_pin_is_hashed_at_least_as_rfc_9106_recommends_second() -> None:
    """RFC 9106 section 4: argon2id with t=3 iterations, p=4 lanes, m=2^16 KiB, a 128-bit salt and a 256-bit tag."""
    _, argon2id = hashed("7264", LEAD, DEMO_KEYS).split(":")
    found = argon2.extract_parameters(argon2id)
    assert found.type is argon2.Type.ID
    assert (found.time_cost, found.parallelism, found.memory_cost) >= (3, 4, 2**16)
    assert found.memory_cost >= 2**16
    assert (found.salt_len, found.hash_len) >= (16, 32)


def test_a_demos_settings_are_refused_by_the_record_of_a_real_site() -> None:
    """A demo's PINs stand in its files for everybody to read."""
    bench = Bench()
    demo = with_rules(bench.site, demo=True)
    before = named(bench)
    with pytest.raises(JournalRefusal, match="settings are a demo's"):
        Bench(demo, journal=bench.journal)
    assert named(bench) == before
