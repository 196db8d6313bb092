"""Adds up what is known of one person."""

from dataclasses import replace

from station.care import facts as f
from station.care.state import Somebody


def person_step(person: Somebody | None, fact: f.Fact) -> Somebody | None:
    """The person after one more fact. A new PIN begins without wrong tries."""
    body = fact.body
    if isinstance(body, f.PersonSet):
        told = Somebody(body.person, body.name, body.roles, body.pin, body.left, body.training_until)
        if person is None or person.pin != body.pin:
            return told
        return replace(told, wrong_pins=person.wrong_pins, wrong_at=person.wrong_at)
    if person is not None and isinstance(body, f.PinRefused):
        return replace(person, wrong_pins=person.wrong_pins + 1, wrong_at=fact.at)
    if person is not None and isinstance(body, f.PinProved):
        return replace(person, wrong_pins=0, wrong_at=None)
    return person
