"""Which facts name kept files, and what is made of the digests somebody noted."""

from dataclasses import fields
from typing import get_args

from station.care.facts import Body, FiguresAccepted, SpecificationDrafted, SpecificationSet, StockImported
from station.services.proof import NAMING, digests_in

KEEPS_NO_FILE = {
    (SpecificationSet, "digest"),
    (SpecificationDrafted, "digest"),
    (StockImported, "digest"),
    (FiguresAccepted, "runs"),
}


def test_every_digest_in_a_fact_is_known_to_name_a_kept_file_or_none() -> None:
    for body in get_args(Body):
        for field in fields(body):
            if "digest" in field.name or field.name == "runs":
                assert ((body, field.name) in NAMING) != ((body, field.name) in KEEPS_NO_FILE), (body, field.name)


def test_only_whole_digests_are_taken_from_a_text() -> None:
    whole = "0123456789abcdef" * 4
    assert digests_in(f"head {whole.upper()}, short {whole[:16]}, too long {whole}f; ({whole})") == (whole,)
