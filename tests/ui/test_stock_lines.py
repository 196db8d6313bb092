"""The lines of the stock list at the shift desk, by the words a person reads."""

from datetime import date

from station.care.stock import stock
from station.ui.stock_forms import bounded, row_line, soon_line
from tests.care.bench import Bench


def test_a_row_says_how_many_how_much_and_how_long() -> None:
    bench = Bench()
    bench.cold(expires=date(2026, 11, 18))
    bench.cold(lot="202", expires=date(2026, 11, 9), leaking=True)
    found = stock(bench.at("2026-11-10T06:00").station.floor())
    assert [row_line(row) for row in found.rows] == [
        "SN-4 lot 202, cold: 1 (1 on hold), 500 g, past its limit",
        "SN-4 lot 101, cold: 1, 500 g, 8 d left",
    ]
    assert [soon_line(one) for one in found.soon] == [
        "K7 002 SN-4, Refrigerator, bin H1, on hold",
        "K7 001 SN-4, Refrigerator, bin A1",
    ]


def test_a_long_list_ends_with_how_many_more_there_are() -> None:
    assert bounded([str(number) for number in range(13)])[-1] == "and 3 more"
    assert bounded(["one"]) == ("one",)
