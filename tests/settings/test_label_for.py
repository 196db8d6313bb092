"""Labels of some kinds or places may have a template and a printer of their own; what contradicts itself is a fault."""

from pathlib import Path

import pytest

from station.services.site import LabelSetting
from station.settings import load
from station.settings.label_check import label_faults
from tests.settings.folders import DEMO, PLANT_T, Folder

BELOW = "[label]\n"
FLAGS = '[template."40x20"]\nbuilt_in = "40x20"\n'


def plant(tmp_path: Path, rule: str, *, queue: str = "") -> Folder:
    """Plant T, which has a 40 x 20 template too, with one rule."""
    folder = Folder(tmp_path / "site", PLANT_T)
    labels = folder.path / "labels.toml"
    labels.write_text(labels.read_text(encoding="utf-8") + FLAGS, encoding="utf-8")
    return folder.edit("site.toml", BELOW, f"[[label_for]]\n{rule}\n{BELOW}{queue}")


def test_the_flag_is_for_the_syringe_and_all_else_is_as_it_was() -> None:
    site = load(DEMO)
    (rule,) = site.label_for
    assert rule.label == LabelSetting("40x20", 203)
    assert rule.is_for("SYRINGE-35", "LINE1")
    assert not rule.is_for("JAR-500", "LINE1")
    assert label_faults(site) == ()


def test_a_rule_may_name_places_and_leaves_resolution_and_patience_as_they_are(tmp_path: Path) -> None:
    rule = 'places = ["LINE1"]\ntemplate = "40x20"\nqueue = "flags"'
    (found,) = load(plant(tmp_path, rule, queue='queue = "jars"\n').path).label_for
    assert found.label == LabelSetting("40x20", 203, "flags")
    assert [found.is_for("JAR-500", place) for place in ("LINE1", "FRIDGE")] == [True, False]


@pytest.mark.parametrize(
    ("rule", "told"),
    [
        ('template = "40x20"', "neither kinds nor places"),
        ('kinds = ["JAR-50"]\ntemplate = "40x20"', 'there is no container kind "JAR-50"'),
        ('places = ["LINE7"]\ntemplate = "40x20"', 'there is no place "LINE7"'),
        ('kinds = ["JAR-500"]\ntemplate = "40x21"', 'there is no label template "40x21"'),
        ('kinds = ["JAR-500"]\ntemplate = "40x20"\ndpi = 204', "label printers have 203, 300 or 600"),
        ('kinds = ["JAR-500"]\ntemplate = "40x20"\nqueues = "x"', "queues"),
    ],
)
def test_what_a_rule_says_wrong_is_one_fault(tmp_path: Path, rule: str, told: str) -> None:
    assert told in plant(tmp_path, rule).only_fault().sentence


def test_where_labels_are_printed_each_rule_names_its_printer(tmp_path: Path) -> None:
    rule = 'kinds = ["JAR-500"]\ntemplate = "40x20"'
    assert "Add the printer queue" in plant(tmp_path, rule, queue='queue = "jars"\n').only_fault().sentence


def test_two_sizes_on_one_printer_are_found_before_the_wrong_roll_is(tmp_path: Path) -> None:
    """BR-24."""
    rule = 'kinds = ["JAR-500"]\ntemplate = "40x20"\nqueue = "jars"'
    (found,) = label_faults(load(plant(tmp_path, rule, queue='queue = "jars"\n').path))
    assert "queue jars would print 60x40 and 40x20, labels of two sizes" in found.sentence
    assert found.file == "site.toml"


LONG = "JAR 500 GRAMS IN THE CARTON IT CAME IN"


def test_a_template_is_checked_with_the_texts_of_its_own_kinds_only(tmp_path: Path) -> None:
    """A syringe's smaller label needs no room for a name that only jars have."""
    folder = Folder(tmp_path / "site", DEMO).edit("kinds.toml", "jar 500 g, in its carton", LONG)
    folder.edit("site.toml", 'template = "40x20"', 'template = "50x25"')
    assert "template.50x25" not in {fault.key for fault in label_faults(load(folder.path))}
    folder.edit("site.toml", 'kinds = ["SYRINGE-35"]', 'kinds = ["SYRINGE-35", "JAR-500-BOXED"]')
    found = [fault for fault in label_faults(load(folder.path)) if fault.key == "template.50x25"]
    assert any(LONG in fault.sentence for fault in found)
