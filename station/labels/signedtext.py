"""The frame both signed codes share: two characters of format, a base-36 number, one check character.

The number is body bits followed by the leading bits of HMAC-SHA256 over format and body. Only digits and
capital letters occur, which QR keeps in its dense alphanumeric mode.
"""

from dataclasses import dataclass

from station.labels.checkdigit import check_character, checks, from_base36, in_alphabet, to_base36
from station.labels.faults import LabelFault
from station.labels.keys import KEY_IDS, KeyRing

KEY_BITS = 3


@dataclass(frozen=True, slots=True)
class Frame:
    """One signed format. The body's first three bits are the key id. `name` is what people call the code."""

    name: str
    prefix: str
    characters: int
    body_bits: int
    signature_bits: int

    @property
    def length(self) -> int:
        """Characters of the whole text: format, number and check character."""
        return len(self.prefix) + self.characters + 1

    def seal(self, body: int, keys: KeyRing) -> str:
        """The whole text of a body of `body_bits` bits; LabelFault "key" if its key id is not in the ring."""
        signature = keys.signature(self._key_id(body), self._message(body), self.signature_bits)
        number = body << self.signature_bits | signature
        text = self.prefix + to_base36(number, self.characters)
        return text + check_character(text)

    def unseal(self, text: str, keys: KeyRing) -> int:
        """The body of a text that is ours and whole; LabelFault says the first thing that is wrong with it."""
        self._check_shape(text)
        number = from_base36(text[len(self.prefix) : -1])
        body, signature = number >> self.signature_bits, number & ((1 << self.signature_bits) - 1)
        if body >> self.body_bits:
            raise LabelFault("field", f"This {self.name} holds a number no station writes. Print a new one.")
        keys.verify(self._key_id(body), self._message(body), self.signature_bits, signature)
        return body

    def _check_shape(self, text: str) -> None:
        if not text.startswith(self.prefix):
            raise LabelFault("prefix", f"This is no {self.name}: it does not begin with {self.prefix}.")
        if len(text) != self.length:
            raise LabelFault(
                "length",
                f"This {self.name} has {len(text)} of {self.length} characters. Scan it again in one sweep.",
            )
        if not in_alphabet(text):
            raise LabelFault(
                "alphabet",
                f"This {self.name} holds a character no station prints. Check the scanner's keyboard setting.",
            )
        if not checks(text):
            raise LabelFault("check", f"A character of this {self.name} was read wrongly. Scan it again.")

    def _key_id(self, body: int) -> int:
        return body >> (self.body_bits - KEY_BITS) & (len(KEY_IDS) - 1)

    def _message(self, body: int) -> bytes:
        return self.prefix.encode("ascii") + body.to_bytes((self.body_bits + 7) // 8, "big")
