"""The site's signing keys. They are symmetric: whoever holds the ring can also forge, so every PC guards it."""

import hmac
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from station.labels.faults import LabelFault

KEY_IDS = range(8)
LEAST_KEY_BYTES = 16


@dataclass(frozen=True, slots=True)
class KeyRing:
    """Keys by id 0..7; `current` signs new labels, the others keep labels readable that are still on containers.

    ValueError for an id outside 0..7, a key under 16 bytes or a current id without a key.
    """

    keys: Mapping[int, bytes] = field(repr=False)
    current: int

    def __post_init__(self) -> None:
        """Take a copy nobody can change, and refuse a ring that could not sign."""
        object.__setattr__(self, "keys", MappingProxyType(dict(self.keys)))
        for key_id, key in self.keys.items():
            if key_id not in KEY_IDS:
                raise ValueError(f"Key id {key_id} is outside 0 to 7.")
            if len(key) < LEAST_KEY_BYTES:
                raise ValueError(f"Key {key_id} has {len(key)} bytes; at least {LEAST_KEY_BYTES} are needed.")
        if self.current not in self.keys:
            raise ValueError(f"The ring has no key {self.current}, which is set as the current one.")

    def signature(self, key_id: int, message: bytes, bits: int) -> int:
        """First `bits` bits (at most 256) of HMAC-SHA256 of `message`; LabelFault "key" for an unknown key id."""
        key = self.keys.get(key_id)
        if key is None:
            raise LabelFault(
                "key",
                f"This label was signed with site key {key_id}, which this station does not have. Import it.",
            )
        return int.from_bytes(hmac.digest(key, message, "sha256"), "big") >> (256 - bits)

    def verify(self, key_id: int, message: bytes, bits: int, signature: int) -> None:
        """Compare in constant time; LabelFault "signature" if it does not match, "key" if the key is unknown."""
        length = (bits + 7) // 8
        expected = self.signature(key_id, message, bits).to_bytes(length, "big")
        if not hmac.compare_digest(expected, signature.to_bytes(length, "big")):
            raise LabelFault(
                "signature",
                "This code was not made with this site's key. Do not use it; ask a shift lead for a new label.",
            )
