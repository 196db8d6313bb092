"""A PIN chosen at a station is kept by the site key: who has the record or its export, and no key, can't find it."""

import hmac

import argon2
import pytest

from station.bootstrap import DEMO_KEYS
from station.care import facts as f
from station.care.people import PeopleRefused
from station.care.words import Role
from station.labels.keys import KeyRing
from station.services.outcome import Refusal
from station.services.people import hashed
from station.services.people_acts import PersonWord, change_pin, record_person
from station.services.station import Proof, Station
from tests.care.bench import LEAD, Bench
from tests.care.leading import ENGINEER, ENGINEER_PROOF, PROOF
from tests.services.test_station import named

PIN = "72640815"
NEW = Proof(LEAD, PIN)
OTHER_KEY = b"a key of another PC, for tests only"


@pytest.fixture(scope="module")
def chosen() -> Bench:
    """The lead chose another PIN; nothing more is told to this one."""
    bench = Bench()
    change_pin(bench.station, PROOF, PIN)
    return bench


def kept(bench: Bench, person: str = LEAD) -> str:
    pin = bench.floor.ledger.people[person].pin
    assert pin is not None
    return pin


def again(bench: Bench, keys: KeyRing) -> Station:
    """The program starts once more on this record, with other keys."""
    return Station(bench.site, bench.journal, bench.clock, keys, bench.printer, frozenset({bench.journal.number}))


def is_of(argon2id: str, secret: str | bytes) -> bool:
    try:
        return argon2.PasswordHasher().verify(argon2id, secret)
    except argon2.exceptions.VerifyMismatchError:
        return False


def test_what_is_kept_is_checked_with_the_key_and_not_without(chosen: Bench) -> None:
    """The form is worked out anew here: records are read for years, so it may not change unnoticed."""
    label, argon2id = kept(chosen).split(":")
    key = DEMO_KEYS.keys[7]
    assert label == f"key7-{hmac.digest(key, b'pin key', 'sha256').hex()[:8]}"
    assert is_of(argon2id, hmac.digest(key, b"pin\x00P20\x0072640815", "sha256"))
    assert not is_of(argon2id, PIN)


def test_neither_pin_nor_key_is_in_the_record(chosen: Bench) -> None:
    told = repr([fact.body for fact in chosen.journal.facts()])
    assert kept(chosen) in told
    assert PIN not in told.replace(kept(chosen), "")
    assert DEMO_KEYS.keys[7].decode() not in told
    assert DEMO_KEYS.keys[7].hex() not in told


def test_the_new_pin_proves_after_a_restart(chosen: Bench) -> None:
    assert again(chosen, DEMO_KEYS).prove(NEW, Role.LEAD).id == LEAD


@pytest.mark.parametrize("old_id", [7, 2])
def test_after_a_change_of_keys_the_pin_proves_by_the_old_one(chosen: Bench, old_id: int) -> None:
    """Also where the old key was imported under another id."""
    keys = KeyRing({old_id: DEMO_KEYS.keys[7], 3: OTHER_KEY}, current=3)
    assert again(chosen, keys).prove(NEW, Role.LEAD).id == LEAD


def test_a_pin_chosen_after_a_change_of_keys_is_kept_by_the_new_one() -> None:
    assert hashed(PIN, LEAD, KeyRing({7: DEMO_KEYS.keys[7], 3: OTHER_KEY}, current=3)).startswith("key3-")


@pytest.mark.parametrize(
    "keys", [KeyRing({3: OTHER_KEY}, 3), KeyRing({7: OTHER_KEY}, 7)], ids=["no such id", "another key of that id"]
)
def test_without_its_key_a_pin_is_not_tried_and_the_key_is_named(chosen: Bench, keys: KeyRing) -> None:
    station, before = again(chosen, keys), named(chosen)
    for pin in (PIN, "0001") * 3:
        with pytest.raises(Refusal, match=r"site key 7 with the mark [0-9a-f]{8}.*Import that key here") as refused:
            station.prove(Proof(LEAD, pin), Role.LEAD)
        assert refused.value.code == "pin-key"
    assert named(chosen) == before  # six wrong PINs would have locked the badge


def test_where_the_key_is_missing_an_engineer_gives_a_new_pin(chosen: Bench) -> None:
    """The engineer's own PIN came from the settings, so it needs no key."""
    bench = Bench()
    bench.tell_own(f.PersonSet(LEAD, "Toni Rowan", (Role.LEAD,), kept(chosen), left=False))
    station = again(bench, KeyRing({0: OTHER_KEY}, 0))
    with pytest.raises(Refusal, match="give a new PIN here"):
        station.prove(NEW, Role.LEAD)
    record_person(station, PersonWord(LEAD, "Toni Rowan", (Role.LEAD,), pin="4071"), ENGINEER_PROOF)
    assert station.prove(Proof(LEAD, "4071"), Role.LEAD).id == LEAD


def test_one_persons_kept_pin_proves_nothing_in_anothers_place() -> None:
    """One PIN of two people is kept as two things, also apart from the salt."""
    bench = Bench()
    theirs = hashed(PIN, ENGINEER, DEMO_KEYS)
    bench.tell_own(f.PersonSet(LEAD, "Toni Rowan", (Role.LEAD,), theirs, left=False))
    with pytest.raises(Refusal) as refused:
        bench.station.prove(NEW, Role.LEAD)
    assert refused.value.code == "pin-wrong"


def test_where_badge_id_ends_and_pin_begins_is_told_apart() -> None:
    bench = Bench()
    bench.tell_own(f.PersonSet("P207", "Juno Elm", (Role.LEAD,), hashed("72641", LEAD, DEMO_KEYS), left=False))
    with pytest.raises(Refusal) as refused:
        bench.station.prove(Proof("P207", "2641"), Role.LEAD)
    assert refused.value.code == "pin-wrong"


def test_a_pin_from_the_settings_stays_valid_whatever_the_key() -> None:
    bench = Bench()
    assert kept(bench).startswith("$argon2id$")
    assert again(bench, KeyRing({0: OTHER_KEY}, 0)).prove(PROOF, Role.LEAD).id == LEAD


def test_another_name_keeps_the_pin_and_a_restart_does_not_undo_it() -> None:
    bench = Bench()
    change_pin(bench.station, PROOF, PIN)
    before = kept(bench)
    record_person(bench.station, PersonWord(LEAD, "Toni R.", (Role.LEAD,)), ENGINEER_PROOF)
    assert kept(bench.restart()) == before


def test_the_pin_there_is_is_no_other_pin() -> None:
    """What was kept of it before stays in the record."""
    bench = Bench()
    before = named(bench)
    with pytest.raises(PeopleRefused, match="have already"):
        change_pin(bench.station, PROOF, PROOF.pin)
    assert named(bench) == before
