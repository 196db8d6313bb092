"""What a site has set about makers' labels."""

from dataclasses import dataclass

from station.labels.makers.dates import DateForm

GROUPS = ("lot", "part", "quantity", "made", "expires", "serial", "supplier", "order")
"""The named groups a pattern of plain codes may have."""


@dataclass(frozen=True, slots=True)
class MakersSetting:
    """`plain_pattern` is a regular expression with named groups, "" for none; `plain_dates` is how its dates are
    written. `literal_separators`: names of control characters in braces stand for these."""

    plain_pattern: str = ""
    plain_dates: DateForm = DateForm.YEAR_FIRST
    literal_separators: bool = False
