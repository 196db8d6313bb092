"""Facts to text and back: canonical JSON under the body's own short name and a schema number.

Canonical: keys sorted, no blanks, UTF-8. Instants are ISO 8601 in UTC ending in Z, durations whole microseconds,
words their values. What is written is read back and compared before it is let out, so nothing gets on disk that
cannot be read again, and what is in memory is what a later reading will give.
"""

import json
import re
from collections.abc import Callable, Iterable, Mapping
from datetime import UTC, date, datetime, timedelta
from enum import StrEnum
from typing import TYPE_CHECKING, Any, get_args

from station.care.facts import SCHEMA, Body, Fact, Segment
from station.services.ports import JournalRefusal

if TYPE_CHECKING:
    from cattrs import Converter

Fields = dict[str, Any]
Lift = Callable[[Fields], Fields]


def _first_specifications(fields: Fields) -> Fields:
    """Specifications of schema 1 knew nothing of these: what they did not mention, they did not allow or limit."""
    limits = {
        "return_within": None,
        "thaw": None,
        "printing_room_c": {"low": -100.0, "high": 100.0},
        "printing_humidity": {"low": 0.0, "high": 100.0},
        "mixings": 0,
        "decanted_life": None,
        "used_paste_life": None,
        "enclosed_life": None,
    }
    return {**fields, "specification": {**limits, **fields["specification"]}}


# (name, schema) -> how to get from the fields of that schema to the next one's. Names not listed did not change.
LIFTS: Mapping[tuple[str, int], Lift] = {("specification-set", 1): _first_specifications}

_CANONICAL = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
_MICROSECOND = timedelta(microseconds=1)
_SURROGATE = re.compile("[\ud800-\udfff]")


class Unreadable(Exception):
    """A stored text is no fact of ours; the message says why, for the log."""


class Codec:
    """Writes and reads facts of the bodies it was made for."""

    def __init__(
        self,
        bodies: Iterable[type] = get_args(Body),
        schema: int = SCHEMA,
        lifts: Mapping[tuple[str, int], Lift] = LIFTS,
    ) -> None:
        self._bodies = {body.NAME: body for body in bodies}  # type: ignore[attr-defined]
        self._schema = schema
        self._lifts = lifts
        self._converter = _converter()

    def write(self, fact: Fact) -> tuple[str, Fact]:
        """The canonical text of a fact, and the fact as it is read from it (instants in UTC, words as words).

        ValueError for what could not be read back: a fault of this program.
        """
        try:
            given = self._text(fact)
            settled = self.read(given)
        except (AttributeError, TypeError, Unreadable) as error:
            raise ValueError(f"The fact '{fact.body.NAME}' has a field of a wrong type: {error}") from error
        text = self._text(settled)
        if text != given and json.loads(text) != json.loads(given):  # 23 and 23.0 are one number
            raise ValueError(f"The fact '{fact.body.NAME}' would not come back as it is: {given}")
        return text, settled

    def read(self, text: str) -> Fact:
        """The fact in a stored text.

        Raises JournalRefusal for a newer schema or an unknown name, Unreadable for anything else than a fact.
        """
        try:
            return self._fact(json.loads(text))
        except (ArithmeticError, AttributeError, LookupError, TypeError, ValueError, _unknown_field()) as error:
            raise Unreadable(f"{type(error).__name__}: {error}") from error

    def _text(self, fact: Fact) -> str:
        fields = {
            "at": _instant_text(fact.at),
            "body": self._converter.unstructure(fact.body),
            "journal": f"{fact.journal:016x}",
            "name": fact.body.NAME,
            "schema": self._schema,
            "segment": [fact.segment.boot, fact.segment.step],
            "seq": fact.seq,
            "station": fact.station,
            "tick": fact.tick,
            "who": fact.who,
        }
        text = _CANONICAL.encode(fields)
        # A key stream can hand us half of a surrogate pair, which UTF-8 cannot hold but JSON's escape can.
        return _SURROGATE.sub(lambda half: f"\\u{ord(half[0]):04x}", text)

    def _fact(self, stored: Fields) -> Fact:
        boot, step = stored["segment"]
        who = stored["who"]
        return Fact(
            journal=int(stored["journal"], 16),
            seq=_exactly(stored["seq"], int),
            tick=_exactly(stored["tick"], int),
            at=_instant(stored["at"], datetime),
            station=_exactly(stored["station"], int),
            who=None if who is None else _exactly(who, str),
            segment=Segment(_exactly(boot, str), _exactly(step, int)),
            body=self._body(stored["name"], _exactly(stored["schema"], int), stored["body"]),
        )

    def _body(self, name: str, schema: int, fields: Fields) -> Body:
        if schema > self._schema:
            raise JournalRefusal(
                "journal-newer-fact",
                f"The journal holds a fact '{name}' in schema {schema}; this program reads schemas up to "
                f"{self._schema}. Install the newer version that wrote it.",
            )
        for old in range(schema, self._schema):
            fields = self._lifts.get((name, old), dict)(fields)
        if name not in self._bodies:
            raise JournalRefusal(
                "journal-unknown-fact",
                f"The journal holds a fact '{name}', which this program does not know. "
                "Install the version that wrote it.",
            )
        body: Body = self._converter.structure(fields, self._bodies[name])
        return body


def _converter() -> "Converter":
    from cattrs import Converter  # noqa: PLC0415  (a tenth of a second that only programs with a journal pay)

    converter = Converter(forbid_extra_keys=True, detailed_validation=False)
    converter.register_unstructure_hook(datetime, _instant_text)
    converter.register_unstructure_hook(date, lambda day: _exactly(day, date).isoformat())
    converter.register_unstructure_hook(timedelta, lambda span: span // _MICROSECOND)
    converter.register_structure_hook(datetime, _instant)
    converter.register_structure_hook(date, lambda text, _: date.fromisoformat(text))
    converter.register_structure_hook(timedelta, lambda count, _: count * _MICROSECOND)
    for plain in (str, int, bool):
        converter.register_structure_hook(plain, _exactly)
    converter.register_structure_hook(StrEnum, lambda text, words: words(text))
    converter.register_structure_hook(float, _number)
    return converter


def _unknown_field() -> type[Exception]:
    from cattrs.errors import ForbiddenExtraKeysError  # noqa: PLC0415  (see _converter)

    return ForbiddenExtraKeysError


def _instant_text(instant: datetime) -> str:
    if instant.utcoffset() is None:
        raise ValueError(f"{instant.isoformat()} names no zone; a fact takes instants only")
    return instant.astimezone(UTC).isoformat().removesuffix("+00:00") + "Z"


def _instant(text: str, _: Any) -> datetime:
    instant = datetime.fromisoformat(text)
    if instant.utcoffset() is None:
        raise ValueError(f"{text} names no zone")
    return instant


def _exactly(value: Any, wanted: type) -> Any:
    if type(value) is not wanted:
        raise TypeError(f"{value!r} is not of type {wanted.__name__}")
    return value


def _number(value: Any, _: Any) -> float:
    if type(value) not in {int, float}:
        raise TypeError(f"{value!r} is not a number")
    return float(value)
