"""Who may decide: badge and PIN. A demo may carry plain PINs in its settings; everywhere else hashes are kept.

A PIN of four digits is found in minutes from a hash of it alone, and every backup and export holds the hashes. So a
PIN chosen at a station is kept as

    key3-1a2b3c4d:$argon2id$v=19$m=65536,t=3,p=4$...

The argon2id part is over HMAC-SHA256(site key, "pin" NUL badge id NUL PIN), whose 32 bytes nobody guesses without the
key; the badge id in it lets nobody put one person's hash in another's place. In front stand the id of the key and its
mark, the first four bytes in hexadecimal of HMAC-SHA256(site key, "pin key"): two PCs may each have a key of one id,
and a key that was imported may have got another one. The mark finds the key, the id is for people.

A PIN from `people.toml` is kept as the plain argon2id hash that stands there, and the record may hold PINs chosen at a
station in that form: both are valid until the person changes the PIN, and can be found by whoever has the record.
"""

import hmac
import re

from station.care.floor import Floor
from station.care.people import LOCKED_FOR, WAITS, pin_wait, refuse_weak_pin
from station.care.saying import span_up
from station.care.state import Somebody
from station.care.words import Role
from station.labels.keys import KeyRing
from station.services.outcome import Refusal
from station.services.site import Site

WRONG = "pin-wrong"
_KEYED = re.compile(r"key([0-7])-([0-9a-f]{8}):(\$argon2id\$.+)")


class Doorkeeper:
    """Checks PINs. Wrong tries in a row are on record, so neither a restart nor another place forgets them."""

    def __init__(self, site: Site, keys: KeyRing) -> None:
        """Demo PINs come from the settings of a demo and from nowhere else. `keys` are all that PINs were kept by."""
        self._keys = keys
        demo = site.plant.rules.demo
        self._demo_pins = {person.id: person.pin for person in site.people if demo and person.pin is not None}

    def prove(self, floor: Floor, person_id: str, pin: str, role: Role | None) -> Somebody:
        """The person, if badge and PIN prove one who may decide as `role`, or anybody for None. Raises Refusal.

        `WRONG` is the code of a refusal that has to go on record. A PIN kept by a key this PC lacks is not tried, so
        its refusal is another one.
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
        keyed = _KEYED.fullmatch(person.pin)
        if keyed is None:
            return _is_of(person.pin, pin.encode())
        key_id, mark, argon2id = keyed.groups()
        return _is_of(argon2id, _mixed(self._key_of(person, key_id, mark), person.id, pin))

    def _key_of(self, person: Somebody, key_id: str, mark: str) -> bytes:
        for key in self._keys.keys.values():
            if _mark(key) == mark:
                return key
        raise Refusal(
            "pin-key",
            f"The PIN of {person.name} is kept by site key {key_id} with the mark {mark}, which this PC does not have. "
            "Import that key here (the PC where the PIN was chosen has it, and so have its backups), or let a process "
            "engineer give a new PIN here.",
        )


def hashed(pin: str, person_id: str, keys: KeyRing) -> str:
    """What is kept of somebody's new PIN, by the current site key, in the form told above.

    argon2id has the library's parameters: RFC 9106's second recommended option. Raises PeopleRefused for a PIN that
    is too short or too easy.
    """
    refuse_weak_pin(pin)
    from argon2 import PasswordHasher  # noqa: PLC0415  # slow to load, and only a new PIN needs it

    key = keys.keys[keys.current]
    return f"key{keys.current}-{_mark(key)}:{PasswordHasher().hash(_mixed(key, person_id, pin))}"


def _mixed(key: bytes, person_id: str, pin: str) -> bytes:
    return hmac.digest(key, f"pin\0{person_id}\0{pin}".encode(), "sha256")


def _mark(key: bytes) -> str:
    return hmac.digest(key, b"pin key", "sha256")[:4].hex()


def _is_of(argon2id: str, secret: bytes) -> bool:
    from argon2 import PasswordHasher  # noqa: PLC0415  # slow to load, and only a proof needs it
    from argon2.exceptions import InvalidHashError, VerificationError  # noqa: PLC0415

    try:
        return PasswordHasher().verify(argon2id, secret)
    except (VerificationError, InvalidHashError):
        return False
