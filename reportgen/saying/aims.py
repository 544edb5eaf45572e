"""The goal, the next lesson and the rounds played in words. Scores are told as they are: no trend is seen in them, and
nothing is computed that belongs to a rating body."""

from reportgen.languages.speaking import say, say_count
from reportgen.records.aims import Goal, NextLesson, PlayedRound
from reportgen.records.report import Scores
from reportgen.records.told import ToldGoal, ToldNextLesson, ToldScores
from reportgen.saying.wording import clock_time, full_day, weekday

_ENDS = (".", "!", "?", "…", "。")


def told_goal(goal: Goal, *, stopped: bool) -> ToldGoal:
    """The goal as a sentence, with its day and its sign. After a stop it waits, and nothing presses."""
    said = [say("It stays your goal. There is no hurry.")] if stopped else []
    if goal.by is not None:
        said.append(say("By {day}.", day=full_day(goal.by)))
    if goal.seen_by is not None:
        said.append(say("How you will see it: {sign}", sign=goal.seen_by))
    what = goal.what if goal.what.endswith(_ENDS) else f"{goal.what}."
    return ToldGoal(**{**dict(goal), "what": what}, says=" ".join(said) or None)


def told_next_lesson(lesson: NextLesson) -> ToldNextLesson:
    """`Thursday, 12 March 2026, 17:30`, and the place where one is given."""
    when = {"weekday": weekday(lesson.date), "day": full_day(lesson.date), "time": clock_time(lesson.time)}
    if lesson.place is None:
        return ToldNextLesson(**dict(lesson), says=say("{weekday}, {day}, {time}", **when))
    return ToldNextLesson(**dict(lesson), says=say("{weekday}, {day}, {time}, {place}", **when, place=lesson.place))


def told_scores(scores: Scores) -> ToldScores:
    """The scores with what their chart shows, in sentences."""
    name = say_count("Rounds of {count} hole", "Rounds of {count} holes", scores.holes)
    return ToldScores(**dict(scores), name=name, says=_of_rounds(name, scores.rounds))


def _of_rounds(name: str, rounds: tuple[PlayedRound, ...]) -> str:
    first, last = rounds[0], rounds[-1]
    if len(rounds) == 1:
        told = say("{name}: one round, {score} on {day}.", name=name, score=last.score, day=full_day(last.date))
    else:
        low = min(rounds, key=lambda played: played.score)
        told = say(
            "{name}: {count} rounds from {start} to {end}, first {first}, last {last}, fewest strokes {low} on {day}.",
            name=name,
            count=len(rounds),
            start=full_day(first.date),
            end=full_day(last.date),
            first=first.score,
            last=last.score,
            low=low.score,
            day=full_day(low.date),
        )
    competitions = sum(each.competition for each in rounds)
    if not competitions:
        return told
    if len(rounds) == 1:
        counted = say("It was a competition.")  # inside a text with places no collector of messages finds it
    else:
        counted = say_count("{count} of them was a competition.", "{count} of them were competitions.", competitions)
    return f"{told} {counted}"
