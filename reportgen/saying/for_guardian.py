"""What the guardian of a minor is told first after a stop: whose body hurt, and that nobody swings before a doctor."""

from reportgen.languages.speaking import say
from reportgen.records.report import LessonReport
from reportgen.records.words import SITES
from reportgen.saying.wording import day, listed, slug_name


def for_guardian(report: LessonReport) -> str | None:
    """To the guardian of a minor whose practice is stopped; None for all others. It names the child, and no he or she:
    no record says which."""
    if not report.stopped or report.person.stage != "junior":
        return None
    stops = [caution for caution in report.cautions if caution.level == "stop"]
    name, on = report.person.first_name, min(stop.raised_on or report.date for stop in stops)
    hurt = [site for site in SITES if any(site in stop.sites for stop in stops)]
    if not hurt:
        first = say(
            "{name} should not swing until a doctor or physiotherapist has said that it is all right.", name=name
        )
    elif hurt == ["low-back"]:
        first = say(
            "{name}’s back hurt ({day}), so {name} should not swing until a doctor or physiotherapist has said that it "
            "is all right.",
            name=name,
            day=day(on),
        )
    else:
        first = say(
            "Something hurt {name} ({day}: {places}). Until a doctor or physiotherapist has said that it is all "
            "right, {name} should not swing.",
            name=name,
            day=day(on),
            places=listed([slug_name(site) for site in hurt]),
        )
    return f"{first} " + say("There is no practice until then.")
