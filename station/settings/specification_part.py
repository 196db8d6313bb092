"""The table [specifications] of site.toml, which may be left out: how new versions are approved at this site."""

from station.settings import fields
from station.settings.table import Table


def read_two_person(root: Table) -> bool:
    """Whether the engineer who approves a version must be another one than its writer; not where the site is silent."""
    if "specifications" not in root:
        root.read_optional("specifications", fields.flag())
        return False
    table = root.table("specifications")
    told = table.read("two_person", fields.flag())
    table.close()
    return told
