"""Who may decide: badge and PIN. PINs are kept as argon2id hashes; a demo may carry plain ones in its settings."""

import hmac

from station.care.floor import Floor
from station.care.state import Somebody
from station.care.words import Role
from station.services.outcome import Refusal
from station.services.site import Site


class Doorkeeper:
    """Checks PINs. Wrong tries are counted per person; after five the person is locked until a restart."""

    TRIES = 5

    def __init__(self, site: Site) -> None:
        """Demo PINs come from the settings of a demo and from nowhere else."""
        demo = site.plant.rules.demo
        self._demo_pins = {person.id: person.pin for person in site.people if demo and person.pin is not None}
        self._wrong: dict[str, int] = {}

    def prove(self, floor: Floor, person_id: str, pin: str, role: Role) -> Somebody:
        """The person, if badge and PIN prove one who may decide as `role`. Raises Refusal otherwise."""
        person = floor.ledger.people.get(person_id)
        if person is None or person.left:
            raise Refusal("badge-unknown", f"Nobody with the badge {person_id} works here. Scan another badge.")
        if role not in person.roles:
            raise Refusal("needs-role", f"This needs a {role.value}'s badge.")
        if self._wrong.get(person_id, 0) >= self.TRIES:
            raise Refusal(
                "pin-locked",
                "This badge is locked after five wrong PINs. "
                f"Another {role.value} may go on; a restart of the station unlocks it.",
            )
        if not self._right(person, pin):
            self._wrong[person_id] = self._wrong.get(person_id, 0) + 1
            raise Refusal("pin-wrong", "That PIN is not right. Type it again.")
        self._wrong.pop(person_id, None)
        return person

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
