"""labels.toml: the label templates of the site, by the name the site gives them, and the language they are in."""

from station.labels.builtin import builtin_templates
from station.labels.language import LANGUAGES
from station.labels.layout import TemplateFaults, template_from_mapping
from station.settings import fields
from station.settings.table import Table


def read_templates(root: Table) -> dict[str, dict[str, object]]:
    """The templates as written, by name: each names a built-in one or is a whole layout of the site's own.

    `language` at the top is that of all labels, English where it is left out; a template may have another.
    """
    language = _language(root)
    shared: dict[str, object] = {} if language is None else {"language": language}
    found = {}
    for name, table in root.every("template").items():
        if "built_in" in table:
            _check_built_in(table)
        else:
            _check_own(table, name)
        found[name] = {**shared, **table.values}
    if not found and root.ok("template"):
        root.fault("template", "at least one is needed", 'Write a table such as [template."60x40"]')
    root.close()
    return found


def _language(table: Table) -> str | None:
    return table.read_optional("language", fields.one_of(tuple(LANGUAGES)))


def _check_built_in(table: Table) -> None:
    table.read("built_in", fields.one_of(tuple(builtin_templates())))
    _language(table)
    table.close()


def _check_own(table: Table, name: str) -> None:
    """The label layout knows what a template may hold; its sentences become faults of this table."""
    try:
        template_from_mapping(table.values, name)
    except TemplateFaults as wrong:
        remedy = "Correct the layout, or name one that comes with the program with built_in"
        for sentence in wrong.faults:
            table.fault("", sentence.rstrip("."), remedy)
