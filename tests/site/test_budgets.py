"""How large what is published may be: pages that open quickly, recaps that pass through any mailbox."""

from tests.site.published import Site
from tests.site.sealed import SealedSite

PAGE = 130_000
"""Bytes of a lesson's page with its charts and its drills as they are drawn, without pictures."""
RECAP = 400_000
"""Bytes of a recap, with its two pictures."""


def test_a_lesson_page_with_its_charts_is_small(site: Site) -> None:
    lessons = [recap.parent for recap in (site.folder / "upload" / "s").glob("*/*/recap.pdf")]
    assert len(lessons) > 50
    sizes = {str(lesson): (lesson / "index.html").stat().st_size for lesson in lessons}
    assert {name: size for name, size in sizes.items() if size > PAGE} == {}


DUARTE, LESSON = "duarte-pemberlow", "2026-11-19"
WHOLE = 1_500_000
"""Bytes of a lesson's page with all that it shows, two swings to step through among it."""


def test_a_lesson_page_with_two_swings_is_light_enough_for_a_phone(site: Site) -> None:
    lesson = site.areas[DUARTE] / LESSON
    shown = [lesson / "index.html", *lesson.glob("*.jpg"), *lesson.glob("*/*.webp")]
    shown += (site.folder / "upload" / "assets").rglob("*.*")
    assert len(list(lesson.glob("*/*.webp"))) == 4
    assert sum(file.stat().st_size for file in shown) < WHOLE


def test_so_it_is_sealed(sealed: SealedSite, site: Site) -> None:
    opened = sealed.opened(DUARTE)
    first = [swing.parent.name for swing in (site.areas[DUARTE] / LESSON).glob("*/*.webp")]
    page = sum(opened.file_of(folder).stat().st_size for folder in ("", LESSON))
    swings = sorted(opened.file_of(f"{LESSON}/{name}").stat().st_size for name in first)
    assert page + sum(swings[-2:]) < WHOLE


def test_a_recap_is_small(site: Site) -> None:
    recaps = list((site.folder / "upload" / "s").glob("*/*/recap.pdf"))
    assert any(len([*recap.parent.glob("*.jpg")]) > 1 for recap in recaps)
    assert {str(r): r.stat().st_size for r in recaps if r.stat().st_size > RECAP} == {}
