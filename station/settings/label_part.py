"""Of site.toml: which template this station prints on which printer, for all labels or for those of some kinds."""

from dataclasses import replace
from datetime import timedelta

from station.services.site import LabelRule, LabelSetting
from station.settings import fields
from station.settings.fields import SECOND, Field
from station.settings.quantities import Unfit
from station.settings.table import Table

RESOLUTIONS = (203, 300, 600)
_TAKEN_BACK_SPAN = fields.duration(timedelta(seconds=10), timedelta(hours=1), SECOND)


def read_label(label: Table) -> LabelSetting:
    """The table [label]: what holds for every label that no [[label_for]] is for."""
    template, dpi = label.read("template", fields.text()), label.read("dpi", fields.whole(1, 2400))
    _known_resolution(label, dpi)
    queue, after = label.read_optional("queue", _queue()), label.read_optional("taken_back_after", _TAKEN_BACK_SPAN)
    if queue is None and after is not None:
        label.fault("taken_back_after", "it counts only with a printer queue", "Add queue, or take this out")
    setting = LabelSetting(template, dpi, queue or "")
    return setting if after is None else replace(setting, taken_back_after=after)


def read_label_for(root: Table, usual: LabelSetting) -> tuple[tuple[LabelRule, Table], ...]:
    """The tables [[label_for]], each with its table; there need be none.

    Resolution and patience are as in [label] where one leaves them out; the printer is named in each, for one printer
    holds labels of one size.
    """
    if "label_for" not in root:
        return ()
    return tuple((_rule(table, usual), table) for table in root.tables("label_for"))


def _rule(table: Table, usual: LabelSetting) -> LabelRule:
    kinds = table.read_optional("kinds", fields.several(fields.identifier())) or ()
    places = table.read_optional("places", fields.several(fields.identifier())) or ()
    if table.ok("kinds", "places") and not kinds and not places:
        table.fault("", "it says neither kinds nor places", 'Add kinds, such as ["SYRINGE-35"], or places, or both')
    dpi = table.read_optional("dpi", fields.whole(1, 2400))
    if dpi is not None:
        _known_resolution(table, dpi)
    queue = table.read_optional("queue", _queue())
    if queue is None and usual.queue:
        table.fault("queue", "it is missing", "Add the printer queue that holds these labels, as [label] does")
    setting = replace(
        usual,
        template=table.read("template", fields.text()),
        dpi=dpi if dpi is not None else usual.dpi,
        queue=queue or "",
    )
    table.close()
    return LabelRule(kinds, places, setting)


def _known_resolution(table: Table, dpi: int) -> None:
    if table.ok("dpi") and dpi not in RESOLUTIONS:
        close = min(RESOLUTIONS, key=lambda other: abs(other - dpi))
        table.fault("dpi", "label printers have 203, 300 or 600 dots per inch", "Write one of these", str(close))


def _queue() -> Field[str]:
    """A printer queue by its name: 1 to 127 characters without / and #, as CUPS has it (`man lpadmin`)."""
    form = "the name of a printer queue of this PC, as lpstat -e lists it"
    by_text = fields.text(127)

    def parse(value: object) -> str:
        name = by_text.parse(value)
        if name.startswith("-") or any(character in "/#" for character in name):
            raise Unfit("a queue name has no / or # and does not begin with -", f"Write {form}")
        return name

    return Field(form, parse, "")
