"""What a site says of makers' labels: the table [makers_label] of site.toml, and the numbers that name a paste."""

import re
from collections.abc import Iterator
from datetime import date

from station.care.specification import MakerCode
from station.labels.makers.damaged import DamagedLabel
from station.labels.makers.dates import DateForm
from station.labels.makers.plain import read_plain_code
from station.labels.makers.setting import GROUPS, MakersSetting
from station.settings import fields
from station.settings.fields import Field
from station.settings.quantities import Unfit
from station.settings.table import Table

LONGEST_CODE = 90
"""The most an item number has in ANSI MH10.8.2."""
_ANYTHING: Field[object] = Field("a table", lambda value: value, None)


def read_makers_label(root: Table) -> MakersSetting:
    """How makers' labels without a standard look; faults are noted in the tables."""
    if root.read_optional("makers_label", _ANYTHING) is None:
        return MakersSetting()
    table = root.table("makers_label")
    literal = table.read_optional("literal_separators", fields.flag()) or False
    if "plain_pattern" not in table:
        for key in ("plain_example", "plain_dates"):
            table.refuse(key, "it belongs to a plain_pattern, and there is none")
        table.close()
        return MakersSetting(literal_separators=literal)
    pattern = table.read("plain_pattern", _pattern())
    setting = MakersSetting(pattern, table.read("plain_dates", fields.choice(DateForm)), literal)
    example = table.read("plain_example", fields.text(200))
    if table.ok("plain_pattern", "plain_dates", "plain_example"):
        _try(table, setting, example)
    table.close()
    return setting


def _try(table: Table, setting: MakersSetting, example: str) -> None:
    """The example must be read; two-digit years in it may be any."""
    try:
        found = read_plain_code(example, setting, date(2026, 1, 1))
    except DamagedLabel as damaged:
        table.fault("plain_example", str(damaged).rstrip("."), "Correct plain_dates or the example")
        return
    if found is None:
        reason = f"the pattern {setting.plain_pattern} does not fit it"
        table.fault("plain_example", reason, "Correct the pattern or the example")


def _pattern() -> Field[str]:
    form = f"a regular expression with named groups, (?P<lot>...), of {', '.join(GROUPS)}"
    by_text = fields.text(200)

    def parse(value: object) -> str:
        said = by_text.parse(value)
        try:
            groups = re.compile(said).groupindex
        except re.error as wrong:
            raise Unfit(f"this is no regular expression ({wrong})", f"Write {form}") from None
        strange = [name for name in groups if name not in GROUPS]
        if strange:
            raise Unfit(f"there is no field {strange[0]}", f"Write {form}")
        if "lot" not in groups:
            raise Unfit("the named group lot is missing", f"Write {form}")
        return said

    return Field(form, parse, "")


def read_maker_codes(paste: Table, bought_in: tuple[str, ...]) -> tuple[MakerCode, ...]:
    """The numbers on makers' labels for one paste, each with the kind it is packed in."""
    if "maker_codes" not in paste:
        return ()
    return tuple(_maker_codes(paste, bought_in))


def _maker_codes(paste: Table, bought_in: tuple[str, ...]) -> Iterator[MakerCode]:
    for table in paste.tables("maker_codes"):
        code = table.read("code", fields.text(LONGEST_CODE))
        kind = table.read("kind", fields.identifier())
        if table.ok("kind") and paste.ok("bought_in"):
            table.reference("kind", kind, bought_in, "kind it is bought in")
        table.close()
        yield MakerCode(code, kind)
