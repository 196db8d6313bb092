"""Check character of ISO/IEC 7064, hybrid system MOD 37,36, over digits and capital letters.

It catches every single wrong character and nearly every pair of swapped neighbours (a few, such as `JI0` read
as `IJ0`, slip through): a typing aid, no proof of origin. Signatures prove origin.
"""

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_VALUE = {character: value for value, character in enumerate(ALPHABET)}


def check_character(text: str) -> str:
    """The character to put after `text`; KeyError for any character that is no digit and no capital letter."""
    product = 36
    for character in text:
        product = 2 * ((product + _VALUE[character]) % 36 or 36) % 37
    return ALPHABET[(37 - product) % 36]


def checks(text: str) -> bool:
    """Whether the last character of `text` is the check character of those before it."""
    return bool(text) and in_alphabet(text) and check_character(text[:-1]) == text[-1]


def in_alphabet(text: str) -> bool:
    """Whether `text` holds nothing but digits 0-9 and capital letters A-Z."""
    return all(character in _VALUE for character in text)


def to_base36(number: int, length: int) -> str:
    """`number` in base 36, filled with zeros to `length`; OverflowError if it needs more."""
    characters = []
    for _ in range(length):
        number, value = divmod(number, 36)
        characters.append(ALPHABET[value])
    if number:
        raise OverflowError(f"number needs more than {length} base-36 characters")
    return "".join(reversed(characters))


def from_base36(text: str) -> int:
    """The number `text` stands for; KeyError outside the alphabet."""
    number = 0
    for character in text:
        number = number * 36 + _VALUE[character]
    return number
