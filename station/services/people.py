"""Who may decide: badge and PIN. PINs are kept as argon2id hashes; a demo may carry plain ones in its settings."""

import hmac

from station.care.floor import Floor
from station.care.people import LOCKED_FOR, WAITS, pin_wait, refuse_weak_pin
from station.care.saying import span_up
from station.care.state import Somebody
from station.care.words import Role
from station.services.outcome import Refusal
from station.services.site import Site

WRONG = "pin-wrong"


class Doorkeeper:
    """Checks PINs. Wrong tries in a row are on record, so neither a restart nor another place forgets them."""

    def __init__(self, site: Site) -> None:
        """Demo PINs come from the settings of a demo and from nowhere else."""
        demo = site.plant.rules.demo
        self._demo_pins = {person.id: person.pin for person in site.people if demo and person.pin is not None}

    def prove(self, floor: Floor, person_id: str, pin: str, role: Role | None) -> Somebody:
        """The person, if badge and PIN prove one who may decide as `role`, or anybody for None. Raises Refusal.

        `WRONG` is the code of a refusal that has to go on record.
        """
        person = floor.ledger.people.get(person_id)
        if person is None:
            raise Refusal("badge-unknown", f"Nobody with the badge {person_id} works here. Scan another badge.")
        if person.left:
            raise Refusal("badge-unknown", f"{person.name} does not work here any more. Scan another badge.")
        if role is not None and role not in person.roles:
            raise Refusal("needs-role", f"This needs a {role.value}'s badge.")
        self._mind_the_wait(floor, person)
        if not self._right(person, pin):
            raise Refusal(WRONG, "That PIN is not right. Type it again.")
        return person

    def _mind_the_wait(self, floor: Floor, person: Somebody) -> None:
        wait = pin_wait(floor, person)
        if not wait:
            return
        if person.wrong_pins >= len(WAITS):
            raise Refusal(
                "pin-locked",
                f"This badge is locked for {span_up(LOCKED_FOR)} after {person.wrong_pins} wrong PINs. "
                "Somebody else may go on; a process engineer can give it a new PIN.",
            )
        seconds = max(1, round(wait.total_seconds()))
        raise Refusal("pin-wait", f"That was {person.wrong_pins} times wrong. Wait {seconds} s, then type it again.")

    def _right(self, person: Somebody, pin: str) -> bool:
        if person.pin is None:
            demo = self._demo_pins.get(person.id)
            return demo is not None and hmac.compare_digest(demo.encode(), pin.encode())
        from argon2 import PasswordHasher  # noqa: PLC0415  # slow to load, and only a clearing needs it
        from argon2.exceptions import InvalidHashError, VerificationError  # noqa: PLC0415

        try:
            return PasswordHasher().verify(person.pin, pin)
        except (VerificationError, InvalidHashError):
            return False


def hashed(pin: str) -> str:
    """The argon2id hash of a new PIN, with the library's parameters: RFC 9106's second recommended option.

    Raises PeopleRefused for a PIN that is too short or too easy.
    """
    refuse_weak_pin(pin)
    from argon2 import PasswordHasher  # noqa: PLC0415  # slow to load, and only a new PIN needs it

    return PasswordHasher().hash(pin)
