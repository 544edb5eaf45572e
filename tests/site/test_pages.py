"""Every page of the published demo: links lead somewhere, nothing is loaded from outside, the HTML is sound."""

import re
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from urllib.parse import unquote, urlsplit
from xml.etree.ElementTree import Element

import yaml

from tests.site.published import ACADEMY, ROOT, SVG, TEXTS, Page, Site, addresses, pdf_text, plain, text_of, urls

NOTICE = yaml.safe_load((ACADEMY / "academy.yaml").read_text(encoding="utf-8"))["notice"]


BLANK = (("upload", "index.html"), ("upload", "s", "index.html"))
"""Pages where a host would list the names of what it keeps."""


def test_where_a_host_would_list_names_a_page_says_nothing(site: Site) -> None:
    for parts in BLANK:
        page = site.page(*parts)
        assert page.text == "Nothing here Nothing here"
        assert list(addresses(page)) == []


def test_every_kind_of_page_is_there(site: Site) -> None:
    kinds = Counter(_kind(site, page) for page in site.pages)
    assert kinds["desk"] == 1
    assert kinds["blank"] == 2
    assert kinds["index.html"] == len(site.areas) == 12
    assert kinds["lesson"] == len(list(ACADEMY.glob("students/*/lessons/*.yaml")))
    assert kinds["library"] > 20


def _kind(site: Site, page: Page) -> str:
    parts = page.path.relative_to(site.folder).parts
    if parts in BLANK:
        return "blank"
    if parts[0] == "desk":
        return "desk" if parts[1] == "index.html" else parts[1]
    if parts[1] == "library":
        return "library"
    return "lesson" if re.match(r"\d{4}-", parts[3]) else parts[3]


def test_every_link_and_picture_leads_to_a_published_file(site: Site) -> None:
    lost = [
        (str(page.path.relative_to(site.folder)), address)
        for page in site.pages
        for _, address in addresses(page)
        if not urlsplit(address).scheme and not _found(page, address)
    ]
    assert lost == []


def _found(page: Page, address: str) -> bool:
    parts = urlsplit(address)
    target = (page.path.parent / unquote(parts.path)).resolve() if parts.path else page.path
    if not target.is_file():
        return False
    return not parts.fragment or f'id="{parts.fragment}"' in target.read_text(encoding="utf-8")


def test_no_link_of_upload_leads_out_of_upload(site: Site) -> None:
    upload = site.folder / "upload"
    out = [
        (page.path.name, address)
        for page in site.pages
        if page.path.is_relative_to(upload)
        for _, address in addresses(page)
        if not urlsplit(address).scheme and not (page.path.parent / address).resolve().is_relative_to(upload)
    ]
    assert out == []


def test_every_face_of_the_styles_is_there(site: Site) -> None:
    for style in site.folder.rglob("*.css"):
        loaded = urls(style.read_text(encoding="utf-8"))
        assert loaded or style.name != "style.css"
        assert [face for face in loaded if not (style.parent / face).is_file()] == []


def test_drawings_load_nothing(site: Site) -> None:
    drawings = [(page.path, svg) for page in site.pages for svg in page.all(SVG)]
    assert len(drawings) > 1000
    for path, drawing in drawings:
        told = [(name, value) for part in drawing.iter() for name, value in part.attrib.items()]
        loaded = [value for name, value in told if "href" in name or "url(" in value]
        assert [value for value in loaded if not _is_a_frame(drawing, value)] == [], path


def _is_a_frame(drawing: Element, address: str) -> bool:
    """Whether a drawing is a frame of a swing, and the address its own picture's."""
    return (
        drawing.get("class") == "frame"
        and re.fullmatch(r"swing-[0-9a-f]{16}/[0-9a-f]{16}\.(webp|jpg)", address) is not None
    )


def test_nothing_but_an_outward_link_names_another_host(site: Site) -> None:
    outward = {(tag, urlsplit(a).scheme) for page in site.pages for tag, a in addresses(page) if urlsplit(a).scheme}
    assert outward <= {("a", "https"), ("a", "mailto")}
    assert [a for page in site.pages for _, a in addresses(page) if a.startswith(("/", "\\"))] == []


def test_no_file_tells_of_the_machine_it_was_made_on(site: Site) -> None:
    telling = (str(ROOT), str(site.folder), str(Path.home()) + "/", "file:/")
    for file in site.files():
        data = file.read_bytes()
        assert [place for place in telling if place.encode() in data] == [], file


def test_every_page_keeps_out_of_search_engines(site: Site) -> None:
    for page in site.pages:
        robots = [m.get("content", "") for m in page.all("meta") if m.get("name") == "robots"]
        assert ["noindex" in content for content in robots] == [True], page.path


def test_every_page_has_a_language_a_title_and_one_first_heading(site: Site) -> None:
    for page in site.pages:
        assert page.root.get("lang") == "en", page.path
        titles = [plain("".join(title.itertext())) for title in page.root.iterfind("head/title")]
        assert len(titles) == 1, page.path
        assert titles[0], page.path
        assert len(page.all("h1")) == 1, page.path


def test_headings_never_skip_a_level(site: Site) -> None:
    for page in site.pages:
        levels = [int(e.tag[1]) for e in page.root.iter() if re.fullmatch("h[1-6]", str(e.tag))]
        assert [pair for pair in pairwise(levels) if pair[1] > pair[0] + 1] == [], page.path


def test_every_page_says_that_the_academy_is_invented(site: Site) -> None:
    for page in site.pages:
        if _kind(site, page) != "blank":
            assert [plain("".join(e.itertext())) for e in page.all("p", "notice")] == [NOTICE], page.path


def test_only_the_index_of_the_library_and_swings_have_a_script(site: Site) -> None:
    assert [file for file in site.files() if file.suffix in {".js", ".mjs", ".wasm"}] == []
    library = site.page("upload", "library", "index.html")
    scripted = {page.path for page in site.pages if page.all("script")}
    swings = {page.path for page in site.pages if any(one.get("class") == "swing" for one in page.root.iter())}
    assert swings
    assert scripted - {library.path} == swings
    for page in site.pages:
        assert [s.attrib for s in page.all("script") if s.attrib.get("type") != "application/json" and s.attrib] == []
        assert [n for e in page.root.iter() for n in e.attrib if str(n).startswith("on")] == [], page.path
    for file in site.files():
        if file.suffix in TEXTS:
            assert "javascript:" not in text_of(file).lower(), file
            assert file.suffix == ".html" or "<script" not in text_of(file).lower(), file


def test_the_library_is_whole_without_its_script(site: Site) -> None:
    index = site.page("upload", "library", "index.html")
    drills = {page.path.name for page in site.pages if page.path.parent == index.path.parent} - {"index.html"}
    assert drills <= {address for _, address in addresses(index)}
    kept_back = [e for e in index.root.iter() if "hidden" in e.attrib for a in e.iter("a") if a.get("href")]
    assert kept_back == []


def test_an_id_stands_once_on_a_page(site: Site) -> None:
    for page in site.pages:
        ids = Counter(e.attrib["id"] for e in page.root.iter() if "id" in e.attrib)
        assert [name for name, times in ids.items() if times > 1] == [], page.path


def test_every_picture_has_words_and_a_size(site: Site) -> None:
    for page in site.pages:
        for picture in page.all("img"):
            assert picture.get("alt"), page.path
            assert int(picture.get("width", 0)) > 0, page.path
            assert int(picture.get("height", 0)) > 0, page.path


UNREAD = {"script", "style", "code", "pre"}
"""What is no text for a reader: its marks belong to a machine."""


def _read(element: Element) -> Iterator[str]:
    if element.tag not in UNREAD:
        yield element.text or ""
        for child in element:
            yield from _read(child)
            yield child.tail or ""


def test_no_page_and_no_recap_shows_a_straight_apostrophe_or_quotation_mark(site: Site) -> None:
    recaps = [file for file in site.files() if file.name == "recap.pdf"]
    texts = [(page.path, " ".join(_read(page.root))) for page in site.pages]
    texts += [(file, pdf_text(file)) for file in recaps]
    assert len(recaps) > 50
    assert [(str(file), mark[0]) for file, text in texts for mark in re.finditer(r".{0,30}['\"].{0,30}", text)] == []


def test_no_page_says_the_word_of_a_name_again_behind_its_value(site: Site) -> None:
    doubled = re.compile(r"Hips open[^.;]{0,40}?\d+°\s+open|Hips towards the ball[^.;]{0,40}?cm\s+towards the ball")
    rows = [plain("".join(row.itertext())) for page in site.pages for row in page.all("tr")]
    assert any("Hips open" in row for row in rows)
    assert [row for row in rows if doubled.search(row)] == []
