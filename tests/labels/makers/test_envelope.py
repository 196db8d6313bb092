"""ISO/IEC 15434 messages with ANSI MH10.8.2 identifiers: whole, damaged, and with dates in doubtful order."""

from datetime import date

import pytest

from station.care.makers_label import Carrier
from station.labels.makers.setting import MakersSetting
from tests.labels.makers.samples import GTIN, MESSAGE, asked, damage, label

WHOLE = "[)>|06~P12-45~1T42A~14D20270430~Q12|$"


def test_every_field_of_a_whole_message() -> None:
    found = label(MESSAGE)
    assert found.carrier is Carrier.ENVELOPE
    assert found.fields == {
        "lot": "A7Z0815",
        "customer's part": "SP-500-T4",
        "maker's part": "SAC305T4-500",
        "quantity": "1",
        "made": "2026-08-30",
        "expires": "2027-02-28",
        "supplier": "12345",
    }
    assert (found.questions, found.unknown) == ((), ())


@pytest.mark.parametrize(
    "text",
    [
        "[)>06~P12-45~1T42A~14D20270430~Q12|$",
        "[)>|06~P12-45~1T42A~14D20270430~Q12",
        "[)>|06~P12-45~1T42A~14D20270430~Q12|",
        "[)>~06~P12-45~1T42A~14D20270430~Q12~|$",
        "]d1[)>|06~P12-45~1T42A~14D20270430~Q12|$",
        "[)>|06~Q12~14D20270430~1T42A~P12-45|$",
    ],
)
def test_lost_record_and_end_marks_and_another_order_change_nothing(text: str) -> None:
    """BR-75."""
    assert label(text).fields == label(WHOLE).fields


@pytest.mark.parametrize(
    "text", ["[)>06P12-451T42A14D20270430Q12", "[)>06", "[)>", "[)>|06 P12-45 1T42A|$", "[)>X6~P1|$"]
)
def test_a_message_without_its_separators_is_refused_and_says_so(text: str) -> None:
    """BR-75."""
    assert "separators were lost" in damage(text)


@pytest.mark.parametrize(("left", "right"), [("{", "}"), ("<", ">")])
def test_names_of_controls_in_print_count_only_where_the_site_says_so(left: str, right: str) -> None:
    """BR-75."""
    text = "[)>~RS06~GSP12-45~GS1T42A~GS14D20270430~GSQ12~RS~EOT"
    for name in ("RS", "GS", "EOT"):
        text = text.replace(f"~{name}", f"{left}{name}{right}")
    assert "separators were lost" in damage(text)
    assert label(text, setting=MakersSetting(literal_separators=True)).fields == label(WHOLE).fields


def test_one_missing_separator_is_asked() -> None:
    found = label("[)>|06~P12-45~1T42A14D20270430~Q12|$")
    assert (found.lot, found.expires) == ("", None)
    assert asked(found) == {"lot": ("42A", "42A14D20270430"), "expires": ("2027-04-30",)}


@pytest.mark.parametrize(
    ("field", "filled", "choices"),
    [
        ("15D30042027", date(2027, 4, 30), None),
        ("15D05052027", date(2027, 5, 5), None),
        ("15D05062027", None, ("2027-06-05", "2027-05-06")),
        ("15D04302027", None, ("2027-04-30",)),
        ("15D20270430", None, ("2027-04-30",)),
        ("14D20270430", date(2027, 4, 30), None),
        ("14D30042027", None, ("2027-04-30",)),
    ],
)
def test_a_day_first_date_is_taken_only_where_it_cannot_mean_another(
    field: str, filled: date | None, choices: tuple[str, ...] | None
) -> None:
    found = label(f"[)>|06~1T42A~{field}|$")
    assert found.expires == filled
    assert asked(found) == ({"expires": choices} if choices else {})


def test_the_same_trap_for_the_day_it_was_made() -> None:
    assert label("[)>|06~1T42A~17D30082026|$").made == date(2026, 8, 30)
    assert asked(label("[)>|06~1T42A~17D05062026|$")) == {"made": ("2026-06-05", "2026-05-06")}


@pytest.mark.parametrize(
    ("field", "said"),
    [
        ("14D20270431", "no such day"),
        ("15D99999999", "no such day"),
        ("15D2704", "no such day"),
        ("14D20990101", "out of all reason"),
        ("5D270431036", "no such day"),
        ("QTEN", "no number"),
    ],
)
def test_what_cannot_be_right_is_refused_with_the_reason(field: str, said: str) -> None:
    assert said in damage(f"[)>|06~1T42A~{field}|$")


def test_two_different_expiry_dates_are_asked() -> None:
    assert asked(label("[)>|06~14D20270430~15D31052027|$")) == {"expires": ("2027-04-30", "2027-05-31")}
    assert label("[)>|06~14D20270430~15D30042027|$").expires == date(2027, 4, 30)


@pytest.mark.parametrize(
    ("field", "choices"),
    [
        ("D270430", ("2027-04-30",)),
        ("1D300427", ("2027-04-30",)),
        ("2D043027", ("2027-04-30",)),
        ("3D7120", ()),
        ("4D27120", ()),
        ("12D20270430", ("2027-04-30",)),
        ("25D20270430", ("2027-04-30",)),
    ],
)
def test_a_date_that_does_not_say_what_it_is_is_kept_and_asked(field: str, choices: tuple[str, ...]) -> None:
    found = label(f"[)>|06~1T42A~{field}|$")
    assert found.expires is None
    assert asked(found) == {"expires": choices}
    assert [extra.code + extra.value for extra in found.extras] == [field]


def test_a_date_without_meaning_does_not_put_a_stated_expiry_in_question() -> None:
    found = label("[)>|06~1T42A~D260830~14D20270430|$")
    assert (found.expires, found.questions) == (date(2027, 4, 30), ())
    assert [extra.value for extra in found.extras] == ["260830"]


def test_dates_with_a_qualifier_say_what_they_are() -> None:
    """X12 data element 374: 036 expiration, 094 manufacture (from memory)."""
    found = label("[)>|06~5D270430036~6D20260830094~5D260901011|$")
    assert (found.expires, found.made) == (date(2027, 4, 30), date(2026, 8, 30))
    assert [extra.code for extra in found.extras] == ["5D"]


def test_what_is_known_without_a_field_and_what_is_not_known_are_both_kept() -> None:
    found = label("[)>|06~1T42A~2E10~Z?~88Z1~8D1~#|07free text|$")
    assert [(extra.code, extra.value) for extra in found.extras] == [("2E", "10")]
    assert found.unknown == ("Z?", "88Z1", "8D1", "#", "07free text")


def test_the_customers_lot_counts_only_where_there_is_no_makers_lot() -> None:
    assert label("[)>|06~TC1~1TM1|$").lot == "M1"
    assert label("[)>|06~TC1|$").lot == "C1"


def test_a_quantity_with_its_unit() -> None:
    found = label("[)>|06~7Q0.5KG~S1~3SP1~KO1|$")
    assert (found.fields["quantity"], found.serial, found.package, found.order) == ("0.5 KG", "1", "P1", "O1")


def test_a_message_may_carry_gs1_elements() -> None:
    assert label(f"[)>|05~01{GTIN}10L42A~17270430|$").lot == "L42A"
