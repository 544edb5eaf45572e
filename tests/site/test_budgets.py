"""How large what is published may be: pages that open quickly, recaps that pass through any mailbox."""

from tests.site.published import Site

PAGE = 120_000
"""Bytes of a lesson's page with its charts, without pictures."""
RECAP = 400_000
"""Bytes of a recap, with its two pictures."""


def test_a_lesson_page_with_its_charts_is_small(site: Site) -> None:
    lessons = [recap.parent for recap in (site.folder / "upload" / "s").glob("*/*/recap.pdf")]
    assert len(lessons) > 50
    sizes = {str(lesson): (lesson / "index.html").stat().st_size for lesson in lessons}
    assert {name: size for name, size in sizes.items() if size > PAGE} == {}


def test_a_recap_is_small(site: Site) -> None:
    recaps = list((site.folder / "upload" / "s").glob("*/*/recap.pdf"))
    assert any(len([*recap.parent.glob("*.jpg")]) > 1 for recap in recaps)
    assert {str(r): r.stat().st_size for r in recaps if r.stat().st_size > RECAP} == {}
