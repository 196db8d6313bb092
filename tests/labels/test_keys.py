"""The key ring signs as RFC 2104 says and never lets its keys slip out."""

import pytest

from station.labels.faults import LabelFault
from station.labels.keys import KeyRing

# RFC 4231, test cases 1 and 6 (a key of 20 bytes of 0x0b; 131 bytes of 0xaa).
RFC_4231 = [
    (b"\x0b" * 20, b"Hi There", "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7"),
    (
        b"\xaa" * 131,
        b"Test Using Larger Than Block-Size Key - Hash Key First",
        "60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54",
    ),
]


@pytest.mark.parametrize(("key", "message", "digest"), RFC_4231)
@pytest.mark.parametrize("bits", [256, 64, 41])
def test_signature_is_the_first_bits_of_the_published_digest(
    key: bytes, message: bytes, digest: str, bits: int
) -> None:
    assert KeyRing({2: key}, 2).signature(2, message, bits) == int(digest, 16) >> (256 - bits)


def test_an_unknown_key_is_named_so_that_it_can_be_imported() -> None:
    with pytest.raises(LabelFault, match="site key 5") as caught:
        KeyRing({2: b"sixteen bytes or more"}, 2).signature(5, b"", 64)
    assert caught.value.code == "key"


def test_keys_do_not_show_in_logs() -> None:
    assert "secret" not in repr(KeyRing({0: b"a secret of the site"}, 0))


def test_a_ring_cannot_be_changed_from_outside() -> None:
    given = {0: b"sixteen bytes or more"}
    ring = KeyRing(given, 0)
    given[0] = b"another sixteen bytes"
    assert ring.keys[0] == b"sixteen bytes or more"
    with pytest.raises(TypeError):
        ring.keys[1] = b"x" * 16  # type: ignore[index]  # what is being tried


@pytest.mark.parametrize(
    ("keys", "current", "why"),
    [
        ({8: b"x" * 16}, 8, "outside 0 to 7"),
        ({0: b"short"}, 0, "at least 16"),
        ({0: b"x" * 16}, 1, "no key 1"),
    ],
)
def test_a_ring_that_could_not_sign_is_refused(keys: dict[int, bytes], current: int, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        KeyRing(keys, current)
