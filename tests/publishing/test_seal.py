"""What sealing gives away, and what it refuses."""

import ast
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportgen.publishing.replacing import write_tree
from reportgen.sealing.keyring import empty_keyring, with_member
from reportgen.sealing.passphrases import GROUPS, IN_A_GROUP, SIGNS, as_typed, new_passphrase
from reportgen.sealing.seal import SIGNS as WRITTEN_IN
from reportgen.sealing.seal import SMALLEST, AreaKey, padded
from reportgen.sealing.sealed_site import Seal, sealed_files
from tests.publishing.opening import DoesNotOpenError, Opened, open_area
from tests.publishing.small import ROOT

KEY = AreaKey("s/abc", bytes(range(32)))
PAGES = {"index.html": b"<h1>Mara</h1>", "2026-03-05/index.html": b"lesson", "2026-03-05/plan.svg": b"<svg/>" * 99}


def _publish(folder, files=PAGES, key=KEY):
    write_tree(folder / key.area, sealed_files(files, Seal(key, b"shell", b"keys", bytes(32))))
    return Opened(folder, key.area, key.key)


def _of_the_first_folder(opened):
    """The pages, without what leads to them."""
    return {name: data for name, data in opened.files("").items() if name != "places.json"}


def test_what_is_sealed_comes_back(tmp_path) -> None:
    opened = _publish(tmp_path)
    assert _of_the_first_folder(opened) == {"index.html": b"<h1>Mara</h1>"}
    assert opened.files("2026-03-05") == {"index.html": b"lesson", "plan.svg": b"<svg/>" * 99}


@settings(max_examples=40)
@given(st.dictionaries(st.from_regex(r"[a-z0-9-]{1,20}\.[a-z]{2,4}", fullmatch=True), st.binary(max_size=2000)))
def test_any_files_come_back(tmp_path_factory, files) -> None:
    opened = _publish(tmp_path_factory.mktemp("any"), {"index.html": b"", **files})
    assert _of_the_first_folder(opened) == {"index.html": b"", **files}


def test_the_same_files_give_the_same_bytes_and_no_others_do() -> None:
    first = KEY.sealed("drills", {"index.html": b"one"})
    assert KEY.sealed("drills", {"index.html": b"one"}) == first
    others = [
        KEY.sealed("drills", {"index.html": b"two"}),
        KEY.sealed("", {"index.html": b"one"}),
        AreaKey("s/abd", KEY.key).sealed("drills", {"index.html": b"one"}),
        AreaKey("s/abc", bytes(32)).sealed("drills", {"index.html": b"one"}),
    ]
    nonces = {first[:12], *(other[:12] for other in others)}
    assert len(nonces) == 5


def test_neither_number_nor_size_of_files_shows() -> None:
    few = {f"strip-{n}.svg": b"<svg>%d</svg>" % n for n in range(3)}
    many = {f"strip-{n}.svg": b"<svg>%d</svg>" % n * 20 for n in range(24)}
    assert len(KEY.sealed("2026-03-05", few)) == len(KEY.sealed("2026-03-05", many))


@pytest.mark.parametrize("size", [0, 1, SMALLEST - 4, SMALLEST - 3, 100_000, (1 << 20) - 4, (1 << 20) - 3])
def test_a_length_is_a_power_of_two_and_at_most_doubled(size: int) -> None:
    length = len(padded(b"x" * size))
    assert length.bit_count() == 1
    assert length >= SMALLEST
    assert size + 4 <= length < max(2 * (size + 4), SMALLEST + 1)


def test_the_names_of_files_say_nothing_and_differ_from_area_to_area(tmp_path) -> None:
    here = {f.name for f in _publish(tmp_path).folder.iterdir()} - {"index.html", "keys.html"}
    there = {f.name for f in _publish(tmp_path, key=AreaKey("s/abd", KEY.key)).folder.iterdir()}
    assert len(here) == 2
    assert not here & there
    assert all(len(name) == 26 + len(".html") for name in here)


def _altered(text: str):
    start, end = text.index("<pre hidden>") + 12, text.index("</pre>")
    body = text[start:end]
    flipped = WRITTEN_IN[WRITTEN_IN.index(body[500]) ^ 1]
    return {
        "a bit in the nonce": WRITTEN_IN[WRITTEN_IN.index(body[0]) ^ 1] + body[1:],
        "a bit in the text": body[:500] + flipped + body[501:],
        "a bit in the tag": body[:-1] + WRITTEN_IN[WRITTEN_IN.index(body[-1]) ^ 16],
        "cut short": body[:-64],
        "cut to its half": body[: len(body) // 2],
        "empty": "",
        "longer": body + "0000",
    }


@pytest.mark.parametrize("how", list(_altered(f"<pre hidden>{'0' * 600}</pre>")))
def test_a_changed_file_gives_nothing(tmp_path, how: str) -> None:
    opened = _publish(tmp_path)
    file = opened.file_of("2026-03-05")
    text = file.read_text(encoding="utf-8")
    start, end = text.index("<pre hidden>") + 12, text.index("</pre>")
    file.write_text(text[:start] + _altered(text)[how] + text[end:], encoding="utf-8")
    with pytest.raises(DoesNotOpenError):
        opened.files("2026-03-05")


def test_no_file_can_stand_for_another_folder_or_area(tmp_path) -> None:
    opened, other = _publish(tmp_path), _publish(tmp_path, key=AreaKey("s/abd", KEY.key))
    lesson = opened.file_of("2026-03-05").read_bytes()
    opened.file_of("").write_bytes(lesson)
    other.file_of("2026-03-05").write_bytes(lesson)
    for opening, folder in ((opened, ""), (other, "2026-03-05")):
        with pytest.raises(DoesNotOpenError):
            opening.files(folder)


def test_passphrases_are_as_hard_to_guess_as_they_claim() -> None:
    made = {new_passphrase() for _ in range(50)}
    assert len(made) == 50
    assert (len(set(SIGNS)) ** (GROUPS * IN_A_GROUP)).bit_length() > 77
    used = {sign for passphrase in made for sign in passphrase.replace(" ", "")}
    assert used == set(SIGNS)


@pytest.mark.parametrize("typed", ["k7m 29d", "K7M29D", " k7m-29d ", "k7m\u00a029d.", "ｋ７ｍ 29d"])
def test_a_passphrase_may_be_typed_in_any_way(typed: str) -> None:
    assert as_typed(typed) == "k7m29d"


def test_another_passphrase_does_not_open(tmp_path) -> None:
    from reportgen.sealing.sealed_site import _student_keys

    member = with_member(empty_keyring(), "mara").members["mara"]
    keys = _student_keys(member, AreaKey("s/abc", member.area), AreaKey("library", bytes(32)))
    write_tree(tmp_path / "s/abc", {"keys.html": keys})
    assert open_area(tmp_path, "s/abc", member.passphrase).key == member.area
    for wrong in ("", member.passphrase[:-1], new_passphrase()):
        with pytest.raises(DoesNotOpenError):
            open_area(tmp_path, "s/abc", wrong)


def _section() -> str:
    """What is written down of bundles and keys."""
    text = (ROOT / "reportgen" / "sealing" / "WHO-IS-KEPT-OUT.md").read_text(encoding="utf-8")
    return text.partition("## What is written where\n")[2]


def _used_by_the_reader() -> set[str]:
    """Every text and every number of two digits with which `opening.py` opens pages, cut at spaces and the like."""
    tree = ast.parse((Path(__file__).parent / "opening.py").read_text(encoding="utf-8"))
    told = {node.value for node in ast.walk(tree) if isinstance(node, ast.Expr)}  # docstrings
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and node not in told:
            if isinstance(node.value, str):
                found |= {node.value.strip()} if len(node.value) > 40 else set(re.findall(r"[\w.-]+", node.value))
            elif isinstance(node.value, int) and node.value > 9:
                found.add(str(node.value))
    return found


PYTHONS_OWN = {"utf-8", "06b", "big"}
"""How Python is told of an encoding, of digits and of the order of bytes."""


def test_a_reader_needs_no_more_than_is_written_down() -> None:
    used = _used_by_the_reader() - PYTHONS_OWN
    assert {WRITTEN_IN, "reportgen", "names", "pages", "keys.html", "places.json", "16", "12", "32"} <= used
    section = _section()
    assert [name for name in sorted(used) if name not in section] == []


def test_every_purpose_of_a_key_is_written_down() -> None:
    sources = "".join((ROOT / "reportgen" / "sealing" / f"{name}.py").read_text() for name in ("seal", "keyring"))
    purposes = set(re.findall(r'subkey\([^)]*"(\w+)"\)', sources)) | set(re.findall(r'{FORMAT} (\w+)"', sources))
    assert purposes == {"pages", "names", "nonces", "keys", "mark", "tag", "count"}
    section = _section()
    assert [one for one in purposes if not re.search(rf"`(reportgen 2 )?{one}`", section)] == []
