"""The instructor's overview, beside what is published."""

import json
from collections.abc import Callable, Mapping
from typing import Any

from reportgen.languages.speaking import speaking
from reportgen.publishing.build_plan import BuildPlan
from reportgen.publishing.digests import combined
from reportgen.publishing.store import Store
from reportgen.records.mailed import Mailed
from reportgen.rights import write_atomically
from reportgen.sheets.academy_folder import SoundAcademy
from reportgen.sheets.problems import Problem
from reportgen.sheets.today import build_day


def write_desk(
    plan: BuildPlan,
    on_desk: Mapping[str, Any],
    problems: tuple[Problem, ...],
    shared: Callable[[], SoundAcademy],
    store: Store,
    mailed: Mapping[str, Mailed],
) -> None:
    """Write desk/index.html, where anything on it has changed since it was made. `on_desk` is what it must know of each
    student, as JSON; `shared` loads what all students share."""
    to = store.folder.parent
    places = {name: place for name, place in plan.place.items() if (to / "upload" / place / "index.html").is_file()}
    as_of = build_day(plan.home.academy)
    season = (to / "desk" / "season.html").is_file()
    down = {name: why for name, why in plan.down.items() if name not in places}
    standing = [repr(item) for item in sorted([*mailed.items(), *down.items()])]
    facts = [on_desk, places, [str(problem) for problem in problems], season, standing]
    made_from = combined(plan.shared_digest, str(as_of), json.dumps(facts, sort_keys=True))
    desk, stored = to / "desk" / "index.html", store.parts()
    if stored.get("desk") == made_from and desk.is_file():
        return
    from reportgen.pages.shared_pages import desk_page
    from reportgen.planning.desk import OnDesk, desk_entries
    from reportgen.saying.desk import told_cautions, told_entries
    from reportgen.saying.readers import reader_of

    students = [OnDesk.model_validate(one) for one in on_desk.values()]
    pages = {name: f"../upload/{place}/index.html" for name, place in places.items()}
    home = shared()
    reader = reader_of(None, home)
    entries = told_entries(desk_entries(students, pages, home.academy, as_of, mailed, down), home.library, reader)
    cautions = told_cautions(students, home.library, reader)
    with speaking(reader.language):
        text = desk_page(entries, cautions, problems, as_of, home, season=season)
    if not desk.is_file() or desk.read_bytes() != text:
        store.write_parts({name: digest for name, digest in stored.items() if name != "desk"})
        write_atomically(desk, text)
    store.write_parts({**stored, "desk": made_from})
