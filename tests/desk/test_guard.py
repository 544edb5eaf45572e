"""The desk answers its instructor alone."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.desk.conftest import OpenDesk, opened
from tests.publishing.small import PETRA, contents, link_only, sheets, small_academy


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenDesk]:
    """One desk for all: nothing here may change anything."""
    desk = opened(link_only(small_academy(tmp_path_factory.mktemp("guarded") / "academy", PETRA)))
    yield desk
    desk.end()


@pytest.mark.parametrize("path", ["/", "/lesson", "/site/assets/style.css", "/x/", "//"])
def test_who_was_not_told_the_address_learns_nothing(desk: OpenDesk, path: str) -> None:
    status, _, body = desk.ask("GET", path)
    assert (status, body) == (404, "")


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1", "localhost:1", ""])
def test_another_host_is_refused(desk: OpenDesk, host: str) -> None:
    assert desk.ask("GET", "", Host=host)[0] == 403


@pytest.mark.parametrize("origin", ["https://evil.example", "null", "", "http://127.0.0.1"])
def test_a_page_elsewhere_changes_nothing(desk: OpenDesk, origin: str) -> None:
    before = contents(desk.academy)
    change = json.dumps({"loc": ["club"], "was": "9-iron", "value": "8-iron"})
    name = sheets(desk.academy, PETRA)[-1].stem
    assert desk.ask("POST", f"lesson/{PETRA}/{name}/change", change, Origin=origin)[0] == 403
    assert desk.ask("POST", f"begin/{PETRA}", "", Origin=origin)[0] == 403
    assert contents(desk.academy) == before


@pytest.mark.parametrize("method", ["PUT", "DELETE", "OPTIONS", "PATCH", "TRACE"])
def test_other_methods_are_refused(desk: OpenDesk, method: str) -> None:
    assert desk.ask(method, "")[0] == 405


@pytest.mark.parametrize(
    "body", ["", "{", "[]", '{"loc": "club"}', '{"loc": ["club"], "more": 1}', '{"loc": [null]}', "\ud7ff"]
)
def test_what_is_no_change_is_refused(desk: OpenDesk, body: str) -> None:
    name = sheets(desk.academy, PETRA)[-1].stem
    before = contents(desk.academy)
    assert desk.ask("POST", f"lesson/{PETRA}/{name}/change", body)[0] == 400
    assert contents(desk.academy) == before


def test_a_change_larger_than_a_letter_is_not_read(desk: OpenDesk) -> None:
    name = sheets(desk.academy, PETRA)[-1].stem
    assert desk.ask("POST", f"lesson/{PETRA}/{name}/change", "{" + " " * 300_000)[0] == 413


@pytest.mark.parametrize(
    "path",
    ["lesson/nobody/2026-11-24", f"lesson/{PETRA}/2020-01-01", f"lesson/{PETRA}/..%2F..%2Fstudent",
     "lesson/..%2F..%2Fetc/passwd", "site/..%2F..%2Facademy.yaml", "site/academy.yaml", "site/s/nobody/index.html"],
)  # fmt: skip
def test_no_path_leads_out_of_what_is_there(desk: OpenDesk, path: str) -> None:
    assert desk.ask("GET", path)[0] == 404


def test_pages_can_be_framed_by_the_desk_alone_and_kept_by_nobody(desk: OpenDesk) -> None:
    for path in ("", f"lesson/{PETRA}/{sheets(desk.academy, PETRA)[-1].stem}", f"site/s/{PETRA}/index.html"):
        status, headers, _ = desk.ask("GET", path)
        assert status == 200
        told = {name.lower(): value for name, value in headers.items()}
        assert told["cache-control"] == "no-store"
        assert "frame-ancestors 'self'" in told["content-security-policy"]
        assert told["x-content-type-options"] == "nosniff"


def test_it_listens_on_this_computer_alone(desk: OpenDesk) -> None:
    listening = Path("/proc/net/tcp").read_text(encoding="ascii").splitlines()[1:]
    own = {line.split()[1] for line in listening if int(line.split()[1].split(":")[1], 16) == desk.port}
    assert own
    assert {address.split(":")[0] for address in own} == {"0100007F"}
