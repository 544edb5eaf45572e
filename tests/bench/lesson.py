"""One lesson from its sheet to HTML and PDF: the program, the plain script, and the floor of the PDF engine.

The floor is a PDF of the same text without any picture, laid out once, with one style and one font configuration for
all: less than that nobody can do with this engine.
"""

import gc
import re
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from time import process_time

from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher, URLFetcherResponse

from reportgen.pages.faces import face_file
from reportgen.pages.recap import DENSITIES
from reportgen.pages.student_site import _charts, _values
from reportgen.pages.theme import environment, theme_file
from reportgen.pipeline import reports_of
from reportgen.publishing.student_job import BuildContext, StudentJob
from reportgen.publishing.workers import made_here
from reportgen.saying.readers import Reader
from reportgen.saying.telling import tell_all
from reportgen.sheets.academy_folder import load_shared, sound
from reportgen.sheets.loading import read_students
from tests.bench.academies import write_academy
from tests.bench.plain import OTHERS_OF, plain_lesson

STUDENTS, LESSONS = 3, 10


@dataclass(frozen=True)
class OneLesson:
    """Processor time of one lesson in seconds, the least of several runs: ours, the plain script's, the floor; and how
    many charts and printed pages it has."""

    ours: float
    plain: float
    floor: float
    charts: float
    pages: float


class _Faces(URLFetcher):  # type: ignore[misc]
    def fetch(self, url: str, headers: object = None) -> URLFetcherResponse:
        return URLFetcherResponse(url, face_file(url.partition(":")[2]).read_bytes(), {"Content-Type": "font/ttf"})


def one_lesson(times: int) -> OneLesson:
    """The three in turn, `times` times over, after one run to warm up."""
    with tempfile.TemporaryDirectory() as folder:
        root = write_academy(Path(folder) / "academy", STUDENTS, LESSONS, stills=False)
        shared, folders = load_shared(root)
        home, name = sound(shared), sorted(folders)[1]
        read = read_students(home, folders, [name])
        reports = tell_all(reports_of(read[name], home), home.library, Reader())
        values = [_values(report, _charts(report), root) for report in reports]
        pages, css = environment(home), theme_file("recap.css", home)
        fonts = FontConfiguration()
        style = CSS(string=css, font_config=fonts, url_fetcher=_Faces())
        counts: list[int] = []

        def ours() -> None:
            context = BuildContext(home, folders, Path(folder) / f"new-{len(counts)}", None, "", "")
            list(made_here([StudentJob(name)], context))

        def plain() -> None:
            for report, value in zip(reports, values, strict=True):
                plain_lesson(report, value, pages, css, root, DENSITIES[0], Path(folder) / "plain" / report.lesson)

        def floor() -> None:
            counts.append(0)
            for value in values:
                text = pages.get_template("recap.html").render(density=DENSITIES[0], **value)
                html = HTML(string=re.sub("<img[^>]*>", "", text), base_url="floor:")
                document = html.render(font_config=fonts, stylesheets=[style], pdf_variant="pdf/ua-1")
                document.write_pdf(pdf_variant="pdf/ua-1", pdf_identifier=b"0123456789abcdef")
                counts[-1] += len(document.pages)

        spent: dict[Callable[[], None], list[float]] = {ours: [], plain: [], floor: []}
        for _ in range(times + 1):
            for run, found in spent.items():
                gc.collect()
                begin = process_time()
                run()
                found.append((process_time() - begin) / LESSONS)
        charts = sum(OTHERS_OF.search(name) is None for value in values for name in value["charts"]) / LESSONS
        least = [min(found[1:]) for found in spent.values()]
        return OneLesson(*least, charts=charts, pages=counts[-1] / LESSONS)
