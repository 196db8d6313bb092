"""Healing of text that a wrong keyboard layout has garbled, where no key places are known.

For text from a serial port, the clipboard or an input method. Each layout says what its keys write where a US
keyboard writes the character the scanner meant; the characters are those of xkb-data (symbols de, fr, gb, es, it,
ch). A healed text is only a candidate: the garbling yields legal characters, so whoever reads it must still prove
it by check character, signature or a closed list.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from .places import US_SHIFTED, US_UNSHIFTED

_DEAD = "\0"
"""Stands for a dead key: it writes nothing by itself and changes the next character, so it can not be undone."""

_WRITTEN: Mapping[str, tuple[str, str]] = {
    "DE": (
        f"1234567890ß{_DEAD}qwertzuiopü+asdfghjklöä{_DEAD}#yxcvbnm,.-",
        f"!\"§$%&/()=?{_DEAD}QWERTZUIOPÜ*ASDFGHJKLÖÄ°'YXCVBNM;:_",
    ),
    "FR": (
        f"&é\"'(-è_çà)=azertyuiop{_DEAD}$qsdfghjklmù²*wxcvbn,;:!",
        f"1234567890°+AZERTYUIOP{_DEAD}£QSDFGHJKLM%~µWXCVBN?./§",
    ),
    "UK": (
        "1234567890-=qwertyuiop[]asdfghjkl;'`#zxcvbnm,./",
        '!"£$%^&*()_+QWERTYUIOP{}ASDFGHJKL:@¬~ZXCVBNM<>?',
    ),
    "ES": (
        f"1234567890'¡qwertyuiop{_DEAD}+asdfghjklñ{_DEAD}ºçzxcvbnm,.-",
        f'!"·$%&/()=?¿QWERTYUIOP{_DEAD}*ASDFGHJKLÑ{_DEAD}ªÇZXCVBNM;:_',
    ),
    "IT": (
        "1234567890'ìqwertyuiopè+asdfghjklòà\\ùzxcvbnm,.-",
        '!"£$%&/()=?^QWERTYUIOPé*ASDFGHJKLç°|§ZXCVBNM;:_',
    ),
    "CH": (
        f"1234567890'{_DEAD}qwertzuiopü{_DEAD}asdfghjklöä§$yxcvbnm,.-",
        f'+"*ç%&/()=?{_DEAD}QWERTZUIOPè!ASDFGHJKLéà°£YXCVBNM;:_',
    ),
}

LAYOUTS: tuple[str, ...] = tuple(_WRITTEN)
"""Layouts that can be undone, by the code of the country where they are usual."""


@dataclass(frozen=True, slots=True)
class Healed:
    """A candidate: what the scanner meant if this PC has `layout` (with Caps Lock or a lost Shift)."""

    layout: str
    text: str


def _undoing(written: tuple[str, str], meant: tuple[str, str]) -> dict[str, str]:
    """Written character -> meant character, only where one key alone writes it, so no reversal is a guess."""
    pairs = [pair for got, want in zip(written, meant, strict=True) for pair in zip(got, want, strict=True)]
    writers = Counter(got for got, _ in pairs)
    return {" ": " ", **{got: want for got, want in pairs if got != _DEAD and writers[got] == 1}}


_DIGITS = {digit: digit for digit in "0123456789"}
_PLAIN = {name: _undoing(written, (US_UNSHIFTED, US_SHIFTED)) for name, written in _WRITTEN.items()}
_SHIFT_LOCKED = {name: _undoing(written, (US_SHIFTED, US_UNSHIFTED)) for name, written in _WRITTEN.items()}
# Keypad keys write digits whatever the layout; the layouts whose digit row does that too are undone already.
_KEYPAD = {name: table | _DIGITS for name, table in _PLAIN.items() if not table.items() >= _DIGITS.items()}


def undo(table: Mapping[str, str], text: str) -> str | None:
    """`text` with every character undone by `table`, or None as soon as one can not come from that layout.

    Control characters such as GS, and blanks, stay as they are.
    """
    try:
        return "".join([table[character] if character > " " else character for character in text])
    except KeyError:
        return None


def swap_case(text: str) -> str:
    """Upper and lower case exchanged, as Caps Lock does, character by character and never changing the length."""
    if text.isascii():
        return text.swapcase()
    return "".join(_swapped(character) for character in text)


def _swapped(character: str) -> str:
    if character == "ẞ":
        return "ß"
    swapped = character.swapcase()
    return swapped if len(swapped) == 1 else character


def _forms(name: str, text: str, swapped: str) -> Iterator[str]:
    """Plain; Caps Lock of letters, of all keys; digits from the keypad. Each also with capitals a lost Shift took.

    Caps Lock turns letters alone on X11; French and some other layouts on Windows shift the digit row as well.
    A separator damaged by a lost Shift (`;` for `:`) is left damaged, for the reader to refuse.
    """
    tries = [(_PLAIN[name], text), (_PLAIN[name], swapped), (_SHIFT_LOCKED[name], text)]
    if name in _KEYPAD:
        tries += [(_KEYPAD[name], text), (_KEYPAD[name], swapped)]
    for table, given in tries:
        undone = undo(table, given)
        if undone:
            yield undone
            yield undone.upper()


def healed(text: str) -> tuple[Healed, ...]:
    """Every distinct other text that some layout could have garbled into `text`, most likely first.

    Control characters such as GS stay as they are. The first layout that explains a candidate names it.
    """
    found: dict[str, Healed] = {}
    swapped = swap_case(text)
    for name in LAYOUTS:
        for form in _forms(name, text, swapped):
            if form != text:
                found.setdefault(form, Healed(name, form))
    return tuple(found.values())
