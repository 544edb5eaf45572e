"""Drills and the week of practice in words, and what was practised since the last lesson."""

from reportgen.languages.speaking import say, say_count
from reportgen.records.practice_week import PracticeDay, PracticeItem, PracticeWeek, Practised
from reportgen.records.report import GivenDrill, LessonReport
from reportgen.records.told_practice import ToldDay, ToldDrill, ToldItem, ToldPractised, ToldWeek
from reportgen.records.words import LessonKind, UnitSystem
from reportgen.saying.drill_figures import told_figures
from reportgen.saying.drill_tests import how_to_test
from reportgen.saying.priorities import why_given
from reportgen.saying.returning import return_part, return_says
from reportgen.saying.shots import count_name
from reportgen.saying.wording import dose_said, listed, mid_sentence
from reportgen.sheets.library import Library


def told_drill(given: GivenDrill, week: PracticeWeek | None, library: Library) -> ToldDrill:
    """A drill by its title, aim and feel, why it is given, and how it is tested within the swings that its `week`
    has for it; `library` is the reader's."""
    drill = library.drills[given.drill]
    easier = drill.sections.get("Easier") if given.easier else None
    words = {"title": drill.title, "aim": drill.aim, "feel": drill.feel, "easier_form": easier}
    words["why"] = why_given(given, library)
    words["for_count"] = library.counts[given.trains].name if given.trains else None
    test = drill.test and how_to_test(drill.test, _tries(given, week))
    return ToldDrill(**dict(given), **words, test=test, figures=told_figures(drill))


def _tries(given: GivenDrill, week: PracticeWeek | None) -> int | None:
    """How many swings of a drill the fullest day has; None where its dose is a time, so that nobody counts them."""
    items = [item for day in week.days for item in day.items] if week else []
    doses = [item.dose for item in items if item.drill == given.drill and item.dose] or [given.dose]
    return None if given.dose.minutes else max(dose.swings for dose in doses)


def told_week(week: PracticeWeek, report: LessonReport, library: Library, units: UnitSystem) -> ToldWeek:
    """The week of a lesson with what is done on each day, and what its phase of learning says."""
    days = tuple(
        ToldDay(
            day=day.day,
            items=tuple(ToldItem(**dict(item), what=_what(item, report, library, units)) for item in day.items),
            amount=_amount(day, report.kind),
        )
        for day in week.days
    )
    return ToldWeek(**{**dict(week), "days": days, "says": _week_says(week, library), "most": _most(week)})


def _week_says(week: PracticeWeek, library: Library) -> str:
    """What its phase of learning says, or what putts and short shots say: of what the week has, and nothing else."""
    if week.returning:
        return return_says(week.returning, library)
    items = [item for day in week.days for item in day.items]
    kinds = {item.kind for item in items}
    phase = next((phase for phase in library.practice.phases if phase.id == week.phase), None)
    if phase is not None:
        mixed = any(item.kind == "mixed" and item.swing == "full" for item in items)
        parts = [phase.says, phase.mixed if mixed else None, phase.speed if "speed" in kinds else None]
        return " ".join(part for part in parts if part)
    small = library.practice.small_game
    if small is None:
        raise ValueError("the shipped practice.yaml lacks small_game")
    hit = "count" in kinds or any(item.kind == "block" and library.drills[item.drill or ""].ball for item in items)
    parts = [small.says, small.balls if hit else None, small.counts if "count" in kinds else None]
    return " ".join(part for part in parts if part)


def _most(week: PracticeWeek) -> str:
    """The limit that binds, once: of the week where its days together could have more, else of a day. Of full swings
    only where the week has one: beside "keep swings small" nothing speaks of them."""
    week_most, day_most = week.swings_a_week_at_most, week.swings_a_day_at_most
    full = week.returning is None and any(item.swing == "full" for day in week.days for item in day.items)
    if week.has_swings and week_most < len(week.days) * day_most:
        most = (
            say_count(
                "No more than {count} full swing this week.", "No more than {count} full swings this week.", week_most
            )
            if full
            else say_count("No more than {count} swing this week.", "No more than {count} swings this week.", week_most)
        )
    elif week.has_swings:
        most = (
            say_count("No more than {count} full swing a day.", "No more than {count} full swings a day.", day_most)
            if full
            else say_count("No more than {count} swing a day.", "No more than {count} swings a day.", day_most)
        )
    elif week.strokes_a_day_at_most:
        most = say_count(
            "No more than {count} putt or short shot a day.",
            "No more than {count} putts and short shots a day.",
            week.strokes_a_day_at_most,
        )
    else:
        return say("Stop if anything hurts.")
    return say("{most} Fewer is fine. Stop if anything hurts.", most=most)


def _amount(day: PracticeDay, kind: LessonKind) -> str:
    """`30 swings`, `30 putts`, `20 short shots`, or two of them."""
    swings = say_count("{count} swing", "{count} swings", day.swings)
    if not day.strokes:
        timed = sum(item.minutes for item in day.items if item.kind == "block" and item.swing != "none")
        return swings if day.swings else say("{minutes} min", minutes=timed) if timed else say("no swings")
    if kind == "putting":
        strokes = say_count("{count} putt", "{count} putts", day.strokes)
    elif kind == "short-game":
        strokes = say_count("{count} short shot", "{count} short shots", day.strokes)
    else:
        strokes = say_count("{count} putt or short shot", "{count} putts and short shots", day.strokes)
    return listed([swings, strokes]) if day.swings else strokes


def told_practised(practised: Practised) -> ToldPractised:
    """What was planned and what was logged."""
    return ToldPractised(**dict(practised), says=_practised(practised))


def _what(item: PracticeItem, report: LessonReport, library: Library, units: UnitSystem) -> str:
    drill = library.drills[item.drill] if item.drill else None
    if item.step:
        return return_part(item, library)
    if item.kind == "warm-up":
        small = library.practice.small_game
        alone = report.practice is not None and report.practice.phase is None
        warm_up = small.warm_up if small and alone else library.practice.warm_up
        return warm_up.what if item.swing != "none" else warm_up.without_swings or ""
    if item.counted is not None:
        found = report.counts[item.counted]
        again = count_name(found.model_copy(update={"when": None}), library, units)
        return say("Count {of} in a row again: {count}.", of=found.run.of, count=again)
    if item.kind == "slow" and drill and item.swing == "small":
        return say_count(
            "{count} small, slow swing without a ball, hands no higher than your hips, with the feel: {feel}",
            "{count} small, slow swings without a ball, hands no higher than your hips, with the feel: {feel}",
            item.swings,
            feel=mid_sentence(drill.feel),
        )
    if item.kind == "slow" and drill:
        return say_count(
            "{count} slow swing without a ball, with the feel: {feel}",
            "{count} slow swings without a ball, with the feel: {feel}",
            item.swings,
            feel=mid_sentence(drill.feel),
        )
    if item.kind == "block" and drill and item.dose:
        return f"{drill.title}, {dose_said(item.dose)}."
    if item.kind == "mixed":
        return _mixed(item)
    return say_count(
        "{count} swing a little faster than usual. Stop while it still feels good.",
        "{count} swings a little faster than usual, with a rest after each. Stop while they still feel good.",
        item.swings,
    )


def _mixed(item: PracticeItem) -> str:
    if item.driver:
        return say_count(
            "{count} ball with another club and another target, one practice swing with the feel before it.",
            "{count} balls, each with another club and another target, one practice swing with the feel before each.",
            item.balls,
        )
    if item.swing == "full":
        return say_count(
            "{count} ball with another club (not the driver) and another target, one practice swing with the feel "
            "before it.",
            "{count} balls, each with another club (not the driver) and another target, one practice swing with the "
            "feel before each.",
            item.balls,
        )
    return say_count(
        "{count} ball with a small swing, hands no higher than your hips: another short club and another target.",
        "{count} balls with small swings, hands no higher than your hips: another short club and target each time.",
        item.balls,
    )


def _practised(practised: Practised) -> str:
    of_strokes = practised.of == "putts and short shots"
    did = _days(practised.days, practised.swings, of_strokes)
    if not practised.planned_days:
        return say("You practised on {did} since the last lesson.", did=did)
    plan = _days(practised.planned_days, practised.planned_swings, of_strokes)
    if not practised.days:
        return say("Planned: {plan}; nothing is in your log.", plan=plan)
    return say("You practised on {did}; planned: {plan}.", did=did, plan=plan)


def _days(days: int, swings: int, of_strokes: bool) -> str:
    said = say_count("{count} day", "{count} days", days)
    if not swings:
        return said
    if of_strokes:
        strokes = say_count("{count} putt or short shot", "{count} putts and short shots", swings)
        return say("{days} with {swings}", days=said, swings=strokes)
    return say("{days} with {swings}", days=said, swings=say_count("{count} swing", "{count} swings", swings))
