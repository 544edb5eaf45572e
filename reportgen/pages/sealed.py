"""What stands in clear around sealed pages: the public shell that opens them, and the file that carries a bundle."""

import hashlib
from base64 import b64encode
from collections.abc import Callable

from reportgen.languages.speaking import speaking
from reportgen.pages.theme import environment, theme_file
from reportgen.saying.readers import language_called
from reportgen.sheets.academy_folder import Home

SCRIPTS = ("sealed-open.js", "sealed-routes.js", "sealed-show.js", "library.js", "swing.js", "sealed.js")


def hash_of(text: str) -> str:
    """The source expression of a Content-Security-Policy that allows this one inline script or style."""
    return f"'sha256-{b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def page_policy(script: str) -> str:
    """The Content-Security-Policy of a page in clear that runs this one inline script."""
    return (
        f"default-src 'none'; script-src {hash_of(script)}; style-src 'self'; font-src 'self'; img-src 'self'; "
        "base-uri 'none'; form-action 'none'"
    )


_HANDS_OVER = "parent.postMessage(document.querySelector('pre').textContent,'*')"
_CARRIER_HEAD = (
    '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n<meta http-equiv="Content-Security-Policy" '
    f"content=\"default-src 'none'; script-src {hash_of(_HANDS_OVER)}\">\n"
    '<meta name="robots" content="noindex, nofollow, noarchive">\n<title>Sealed</title>\n</head>\n<body>\n<pre hidden>'
)
_CARRIER_TAIL = f"</pre>\n<script>{_HANDS_OVER}</script>\n</body>\n</html>\n"


def shell_pages(home: Home) -> Callable[[str], bytes]:
    """The page that asks for the passphrase and shows what it opens, by area: the same for all but for the area's name.

    An area is named by its folder below the published site.
    """
    scripts = [theme_file(name, home) for name in SCRIPTS]
    style = theme_file("sealed.css", home)
    policy = (
        f"default-src 'none'; script-src {' '.join(map(hash_of, scripts))}; style-src 'self' {hash_of(style)}; "
        "font-src 'self'; img-src blob:; frame-src 'self'; base-uri 'none'; form-action 'none'"
    )
    shell = environment(home).get_template("sealed.html")

    def of(area: str) -> bytes:
        up = "../" * len(area.split("/"))
        with speaking(language_called(home.academy.language, home.root)):
            text = shell.render(area=area, up=up, assets=f"{up}assets/", scripts=scripts, style=style, policy=policy)
        return text.encode()

    return of


def carrier(text: str) -> bytes:
    """A page that does nothing but hand `text` to the shell around it: a script alone may not read a file from disk."""
    return f"{_CARRIER_HEAD}{text}{_CARRIER_TAIL}".encode()


def carried(page: bytes) -> str:
    """The text that such a page hands over. Raises ValueError where it carries none."""
    _, opening, rest = page.decode().partition("<pre hidden>")
    text, closing, _ = rest.partition("</pre>")
    if not (opening and closing):
        raise ValueError("nothing is carried")
    return text
