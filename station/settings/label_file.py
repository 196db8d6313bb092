"""labels.toml: the label templates of the site, by the name the site gives them."""

from station.labels.builtin import builtin_templates
from station.labels.layout import TemplateFaults, template_from_mapping
from station.settings import fields
from station.settings.table import Table


def read_templates(root: Table) -> dict[str, dict[str, object]]:
    """The templates as written, by name: each names a built-in one or is a whole layout of the site's own."""
    built_in = fields.one_of(tuple(builtin_templates()))
    found = {}
    for name, table in root.every("template").items():
        if "built_in" in table:
            table.read("built_in", built_in)
            table.close()
        else:
            _check_own(table, name)
        found[name] = dict(table.values)
    if not found and root.ok("template"):
        root.fault("template", "at least one is needed", 'Write a table such as [template."60x40"]')
    root.close()
    return found


def _check_own(table: Table, name: str) -> None:
    """The label layout knows what a template may hold; its sentences become faults of this table."""
    try:
        template_from_mapping(table.values, name)
    except TemplateFaults as wrong:
        remedy = "Correct the layout, or name one that comes with the program with built_in"
        for sentence in wrong.faults:
            table.fault("", sentence.rstrip("."), remedy)
