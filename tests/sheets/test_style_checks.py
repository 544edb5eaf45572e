"""A style of an academy's own theme loads nothing from elsewhere, however it is written (CSS Syntax Level 3, section 4:
escapes, comments, unquoted addresses)."""

import pytest

from reportgen.sheets.style_checks import style_problems

STYLES = {
    "url": "a { background: url(https://example.org/x.png) }",
    "quotes": 'a { background: url( "https://example.org/x.png" ) }',
    "no scheme": "a { background: url(//example.org/x.png) }",
    "capitals": "a { background: URL(HTTPS://example.org/x.png) }",
    "escapes": r"a { background: \75 rl(https://example.org/x.png) }",
    "escapes inside": r"a { background: url(\68 ttps://example.org/x.png) }",
    "a comment": "a { background: url(/**/https://example.org/x.png) }",
    "spaces": "a { background: url(\thttps://example.org/x.png\n) }",
    "a variable": "a { --x: url(https://example.org/x.png); background: var(--x) }",
    "deep": "@media screen { a { background: url(https://example.org/x.png) } }",
    "a face": "@font-face { font-family: X; src: local(X), url(https://example.org/x.woff2) }",
    "a script": "a { background: url(javascript:alert(1)) }",
    "a page": "a { background: url(data:text/html,x) }",
    "a file": "a { background: url(file:///etc/passwd) }",
    "beside": "a { background: url(picture.png) }",
    "above": "a { background: url(../s/picture.png) }",
    "an import": '@import "https://example.org/x.css";',
    "an import by url": "@import url(x.css);",
    "an import, escaped": r'@\69mport "https://example.org/x.css";',
    "a set of pictures": 'a { background: image-set("https://example.org/x.png" 1x) }',
    "a set, by another name": 'a { background: -webkit-image-set("https://example.org/x.png" 1x) }',
    "a quote left open": "a { content: 'x\n} a { background: url(https://example.org/x.png) }",
}


@pytest.mark.parametrize("name", STYLES)
def test_a_style_that_fetches_something_is_a_problem_with_its_line(name: str) -> None:
    found = style_problems(f"/* a style */\n{STYLES[name]}\n", "look/style.css")
    assert [(problem.path, problem.line) for problem in found][:1] == [("look/style.css", 2)]


@pytest.mark.parametrize("style", [
    "@font-face { font-family: Text; src: url(faces/text-regular.woff2) format('woff2') }",
    "a { background: url(data:image/png;base64,AAAA); filter: url(#blur) }",
    'a::after { content: "https://example.org" }',
    "@font-face { font-family: Text; src: url(face:text-regular) }",
    "/* url(https://example.org) */",
])  # fmt: skip
def test_a_style_that_fetches_nothing_is_taken(style: str) -> None:
    assert style_problems(style, "look/style.css") == []
