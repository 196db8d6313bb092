"""The doctor's look at the settings: whether they load, and whether their label can be drawn and read back."""

from collections.abc import Iterator
from pathlib import Path

from station.bootstrap import label_settings, template_for
from station.cli.findings import Finding
from station.cli.findings_printer import printer_findings
from station.labels.builtin import builtin_templates
from station.labels.faults import LabelFault
from station.labels.layout import Template
from station.printing.trial import trial
from station.settings.faults import SettingsRefused
from station.settings.load import load

USUAL = ("60x40", 203)


def settings_findings(folder: Path | None) -> Iterator[Finding]:
    """Settings and label; without settings the built-in label is tried."""
    if folder is None:
        yield Finding(None, "settings", "not checked; give --config DIR")
        yield label_finding(builtin_templates()[USUAL[0]], USUAL[1])
        return
    try:
        site = load(folder)
    except SettingsRefused as refused:
        told = f"{len(refused.faults)} faults in {folder}. Run station check-config {folder}."
        yield Finding(False, "settings", told)
        return
    yield Finding(True, "settings", f"{site.name}, station {site.station}, zone {site.zone.key}")
    for label in label_settings(site):
        yield label_finding(template_for(site, label), label.dpi)
    yield from printer_findings(site)


def label_finding(template: Template, dpi: int) -> Finding:
    """Whether a label with the longest usual texts fits, and its code reads back as what it should say."""
    try:
        image = trial(template, dpi)
    except (LabelFault, OSError) as trouble:
        return Finding(False, "label", str(trouble))
    size = f"{image.width} x {image.height} dots at {dpi} dpi"
    return Finding(True, "label", f"template {template.name} drawn, {size}, and read back")
