"""ISO/IEC 15434 messages: the envelope, as tolerant as makers and scanners need it and no further."""

import re
from datetime import date

from station.care.makers_label import Carrier, MakersLabel
from station.labels.makers import gs1
from station.labels.makers.damaged import DamagedLabel
from station.labels.makers.data_ids import fill_from
from station.labels.makers.filling import Filling

HEADER = "[)>"
RECORD, GROUP, END = "\x1e", "\x1d", "\x04"
_LITERAL = {"GS": GROUP, "RS": RECORD, "EOT": END}
_LITERALS = re.compile(r"[{<](GS|RS|EOT)[}>]")
LOST = "Its separators were lost on the way, so nobody can tell where one field ends and the next begins."
SET_SCANNER = "Set the scanner to send control characters, or type what stands beside the code."


def with_separators(text: str) -> str:
    """The text with control characters where a maker printed their names."""
    return _LITERALS.sub(lambda match: _LITERAL[match.group(1)], text)


def read_envelope(text: str, today: date) -> MakersLabel:
    """The label in this message, without its record and end marks too; DamagedLabel with the reason otherwise."""
    body = text.strip().removeprefix(HEADER).strip(RECORD + END)
    if GROUP not in body:
        raise DamagedLabel(LOST, SET_SCANNER)
    filling = Filling(today)
    for record in filter(None, body.lstrip(GROUP).split(RECORD)):
        _fill_from_format(filling, record.strip(END))
    return filling.label(Carrier.ENVELOPE, text)


def _fill_from_format(filling: Filling, record: str) -> None:
    form, separator, data = record.partition(GROUP)
    if form == "06" and separator:
        fill_from(filling, [piece for piece in data.split(GROUP) if piece])
    elif form == "05" and separator:
        gs1.fill(filling, data)
    elif re.fullmatch(r"[0-9]{2}", form[:2]) and form[:2] not in ("05", "06"):
        filling.unknown(record)
    else:
        raise DamagedLabel(LOST, SET_SCANNER)
