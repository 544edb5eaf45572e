"""The worst letters that a sheet may hold: page and recap are made within seconds, whatever stands in them."""

import time

import pytest

from reportgen.pages.student_site import student_site
from reportgen.pipeline import load, reports_of
from reportgen.saying.readers import Reader
from reportgen.saying.telling import tell
from reportgen.sheets.academy_folder import sound
from reportgen.sheets.long_texts import text_faults
from tests.publishing.small import DEMO, PETRA

SECONDS = 15.0
"""Processor time for a page and its recap: some three times what the worst takes, far below the minutes it took."""
LETTERS = {
    "list items full of emphasis": "- *Now turn* the hips, and hold them there until the arms are through with it.\n"
    * 150,
    "long words": ("W" * 80 + " ") * 240,
    "addresses first": ("W" * 300 + " ") * 3 + "the hips turn well " * 990,
    "emphasis in emphasis": "*a " * 200 + "b " + "a* " * 200 + "word " * 3000,
    "pictographs": "🏌️‍♀️ " * 200 + "the hips turn well " * 900,
    "marks of direction": "\u202e a \u202c " * 490 + "the hips turn well " * 900,
    "lists in quotes": "> - > - a b c d e\n" * 37 + "the hips turn well " * 900,
    "blank lines": ("The hips turn well. " * 6 + "\n\n") * 149,
}


@pytest.fixture(scope="module")
def of_petra():
    folder = load(DEMO, PETRA)
    reports = reports_of(folder.students[PETRA], sound(folder))
    return folder, tell(reports[-1], folder.library, Reader())


@pytest.mark.parametrize("kind", LETTERS)
def test_the_worst_letter_is_made_within_seconds(kind, of_petra):
    folder, report = of_petra
    letter = LETTERS[kind][:20_000].strip()
    assert list(text_faults(letter)) == []
    began = time.process_time()
    site = student_site((report.model_copy(update={"notes": letter}),), sound(folder))
    (recap,) = [data for name, data in site.items() if name.endswith("recap.pdf")]
    assert recap.startswith(b"%PDF")
    assert time.process_time() - began < SECONDS
