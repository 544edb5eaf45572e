"""Markdown of sheets and drills becomes HTML that cannot harm: no markup of its own, no script, no picture."""

import pytest

from reportgen.pages.prose import prose


def test_markdown_as_people_write_it() -> None:
    assert prose("It was *late*, and **good**.\n") == "<p>It was <em>late</em>, and <strong>good</strong>.</p>\n"


def test_quotes_and_dashes_are_set_as_in_a_book() -> None:
    assert prose('"Slow" is 10 -- 12') == "<p>“Slow” is 10 – 12</p>\n"


@pytest.mark.parametrize(
    "written", ["<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "a <b onclick=x>b</b>"]
)
def test_markup_is_shown_and_not_followed(written: str) -> None:
    assert "<script" not in prose(written)
    assert "<img" not in prose(written)
    assert "<b " not in prose(written)
    assert "&lt;" in prose(written)


@pytest.mark.parametrize(
    "address",
    [
        "javascript:alert(1)", "JaVaScRiPt:alert(1)", "&#106;avascript:alert(1)",
        "data:text/html,hello", "vbscript:x", "file:///etc/passwd", "//example.org/x", "/etc/passwd",
        "%6Aavascript:alert(1)", "java&Tab;script:alert(1)", ":javascript:alert(1)",
    ],
)  # fmt: skip
def test_a_link_elsewhere_than_web_mail_or_site_is_no_link(address: str) -> None:
    assert "href" not in prose(f"[here](<{address}>)")


@pytest.mark.parametrize(
    "address", ["https://example.org/a", "mailto:ida@example.org", "../drills/index.html", "#week"]
)
def test_a_link_to_web_mail_or_site_is_one(address: str) -> None:
    assert prose(f"[here]({address})") == f'<p><a href="{address}">here</a></p>\n'


def test_a_picture_of_another_host_is_not_loaded() -> None:
    assert "<img" not in prose("![a cat](https://example.org/cat.png)")


@pytest.mark.parametrize(("heading", "tags"), [(3, ["h3", "h4", "h6"]), (2, ["h2", "h3", "h6"])])
def test_headings_begin_below_those_of_the_page(heading: int, tags: list[str]) -> None:
    html = prose("# One\n\n## Two\n\n###### Six\n", heading)
    assert [f"<{tag}>" for tag in tags if f"<{tag}>" not in html] == []
    assert "<h1>" not in html
