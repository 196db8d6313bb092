"""The tables [[alarm]] of site.toml, which may be left out: what this site's control plan says to do at an alarm."""

from station.care.reaction_rules import AT_LINE, MOST, USUAL, Reaction
from station.care.words import Limit
from station.settings import fields
from station.settings.table import Table


def read_alarms(root: Table) -> tuple[Reaction, ...]:
    """The site's own words, each for a limit and for where the paste is; the usual ones stand for the others."""
    if "alarm" not in root:
        root.read_optional("alarm", fields.flag())
        return ()
    found: list[Reaction] = []
    for table in root.tables("alarm"):
        told = _reaction(table)
        if any((told.limit, told.at_line) == (one.limit, one.at_line) for one in found):
            table.fault("limit", "it is told twice", "Take one of them out, or say at_line in both")
        found.append(told)
    return tuple(found)


def _reaction(table: Table) -> Reaction:
    limit, at_line = table.read("limit", fields.choice(Limit)), table.read_optional("at_line", fields.flag())
    text = table.read("text", fields.text(MOST))
    if table.ok("limit") and (limit, False) not in USUAL and (limit, True) not in USUAL:
        table.fault("limit", "no alarm rings for it", "Choose another limit, or take the table out")
    elif table.ok("limit", "at_line") and at_line and limit not in AT_LINE:
        table.fault("at_line", f"{limit.value} passes away from the lines only", "Take at_line out")
    table.close()
    return Reaction(limit, at_line, text)
