"""Who may add whom, how a PIN that is tried again and again is slowed down, and what a training date says."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from station.care import facts as f
from station.care.fold_person import person_step
from station.care.people import (
    LOCKED_FOR,
    PeopleRefused,
    PersonTold,
    pin_wait,
    refuse_weak_pin,
    set_person,
    training_note,
)
from station.care.words import Role
from tests.care.bench import Bench

LEAD, ENGINEER = "P20", "P30"
OPERATOR = (Role.OPERATOR,)
HASH = "$argon2id$v=19$m=65536,t=3,p=4$invented$invented"


def told(id_: str = "P41", **changed: object) -> PersonTold:
    return replace(PersonTold(id_, "Noor Willow", OPERATOR, None, None), **changed)  # type: ignore[arg-type]


def test_a_lead_adds_an_operator() -> None:
    fact = set_person(Bench().floor, told(name="  Noor Willow "), LEAD)
    assert (fact.person, fact.name, fact.roles, fact.left) == ("P41", "Noor Willow", OPERATOR, False)


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"person": "p41"}, "badge id"),
        ({"person": "P41 B"}, "badge id"),
        ({"name": " "}, "name is missing"),
        ({"name": "N" * 41}, "longer than 40"),
        ({"roles": ()}, "may do"),
        ({"roles": (Role.LEAD,)}, "process engineer"),
    ],
)
def test_what_does_not_fit_is_refused_in_words(changed: dict[str, Any], sentence: str) -> None:
    with pytest.raises(PeopleRefused, match=sentence):
        set_person(Bench().floor, told(**changed), LEAD)


def test_a_lead_takes_no_role_from_another_lead_nor_gives_one() -> None:
    floor = Bench().floor
    for change in (told(LEAD), told("P12", roles=(Role.OPERATOR, Role.LEAD)), told(ENGINEER, left=True)):
        with pytest.raises(PeopleRefused, match="Only a process engineer"):
            set_person(floor, change, LEAD)


def test_an_engineer_makes_a_lead_who_needs_a_pin() -> None:
    floor = Bench().floor
    new = told(roles=(Role.LEAD,))
    with pytest.raises(PeopleRefused, match="needs a PIN"):
        set_person(floor, new, ENGINEER)
    assert set_person(floor, replace(new, pin=HASH), ENGINEER).pin == HASH


@pytest.mark.parametrize(("person", "role"), [(LEAD, "shift lead"), (ENGINEER, "process engineer")])
def test_the_last_one_who_may_decide_is_not_taken_off(person: str, role: str) -> None:
    with pytest.raises(PeopleRefused, match=f"last {role}"):
        set_person(Bench().floor, told(person, left=True), ENGINEER)
    with pytest.raises(PeopleRefused, match=f"last {role}"):
        set_person(Bench().floor, told(person), ENGINEER)


def test_with_another_lead_the_first_may_go_and_the_pin_goes_too() -> None:
    bench = Bench()
    bench.station.tick()
    other = set_person(bench.floor, told(roles=(Role.LEAD,), pin=HASH), ENGINEER)
    bench.tell_own(other)
    gone = set_person(bench.floor, told(LEAD, left=True), ENGINEER)
    assert (gone.left, gone.pin) == (True, None)


@pytest.mark.parametrize("pin", ["123", "123456789", "12a4", "", "0000", "77777", "1234", "654321"])
def test_a_pin_anybody_would_try_is_refused(pin: str) -> None:
    with pytest.raises(PeopleRefused):
        refuse_weak_pin(pin)


@pytest.mark.parametrize("pin", ["2020", "3030", "1357", "48213"])
def test_other_pins_are_taken(pin: str) -> None:
    refuse_weak_pin(pin)


def test_each_wrong_pin_in_a_row_makes_the_next_wait_longer() -> None:
    bench = Bench()
    waits = []
    for _ in range(6):
        bench.tell_own(f.PinRefused(LEAD))
        waits.append(pin_wait(bench.floor, bench.floor.ledger.people[LEAD]))
    assert waits == [
        timedelta(0),
        timedelta(seconds=5),
        timedelta(seconds=15),
        timedelta(minutes=1),
        LOCKED_FOR,
        LOCKED_FOR,
    ]


def test_a_right_pin_or_a_new_one_begins_anew() -> None:
    bench = Bench()
    bench.tell_own(f.PinRefused(LEAD), f.PinRefused(LEAD), f.PinProved(LEAD))
    assert pin_wait(bench.floor, bench.floor.ledger.people[LEAD]) == timedelta(0)
    bench.tell_own(f.PinRefused(LEAD), f.PinRefused(LEAD))
    known = bench.floor.ledger.people[LEAD]
    bench.tell_own(f.PersonSet(LEAD, known.name, known.roles, HASH, left=False))
    assert bench.floor.ledger.people[LEAD].wrong_pins == 0


def test_another_name_does_not_forget_wrong_pins() -> None:
    bench = Bench()
    bench.tell_own(f.PinRefused(LEAD), f.PinRefused(LEAD))
    known = bench.floor.ledger.people[LEAD]
    bench.tell_own(f.PersonSet(LEAD, "Toni R.", known.roles, known.pin, left=False))
    assert bench.floor.ledger.people[LEAD].wrong_pins == 2


def test_what_is_said_of_nobody_known_makes_nobody() -> None:
    bench = Bench()
    fact = bench.tell_own(f.PinRefused("P99"))[-1]
    assert person_step(None, fact) is None
    assert "P99" not in bench.floor.ledger.people


@pytest.mark.parametrize(
    ("until", "said"),
    [
        (None, ""),
        (date(2027, 3, 31), ""),
        (date(2026, 11, 30), "Training is valid until 30 November 2026."),
        (date(2026, 11, 8), "Training was valid until 8 November 2026: tell the shift lead."),
    ],
)
def test_a_training_that_runs_out_is_said_at_sign_in(until: date | None, said: str) -> None:
    bench = Bench().at("2026-11-09T08:00")
    bench.tell_own(f.PersonSet("P12", "Robin Alder", OPERATOR, None, left=False, training_until=until))
    assert training_note(bench.floor, bench.floor.ledger.people["P12"]) == said
