"""What can lead to what, in words: the chains behind what the ball did, and the ball at the head of the report."""

from collections.abc import Mapping, Sequence

from reportgen.languages.speaking import later, say
from reportgen.planning.ball_first import lies_behind
from reportgen.records.cause_findings import BallFact, BallFirst, CauseChain, ChainEnd
from reportgen.records.causes import CauseBasis, Part
from reportgen.records.report import LessonReport
from reportgen.records.told import ToldFinding
from reportgen.records.told_shots import ToldBallFirst, ToldChain, ToldChainEnd, ToldCount
from reportgen.records.units import convert
from reportgen.records.words import Direction, UnitSystem
from reportgen.saying.wording import amount, apart, club_name, mid_sentence, moment_name
from reportgen.sheets.library import Library

_NAMES: Mapping[tuple[str, Direction], str] = {
    ("face", "above"): later("Face open"),
    ("face", "below"): later("Face closed"),
    ("path", "above"): later("Path from inside to outside"),
    ("path", "below"): later("Path from outside to inside"),
    ("face-to-path", "above"): later("Face open to the path"),
    ("face-to-path", "below"): later("Face closed to the path"),
    ("attack", "above"): later("Club moving up at the ball"),
    ("attack", "below"): later("Club moving down at the ball"),
    ("loft", "above"): later("More loft at impact"),
    ("loft", "below"): later("Less loft at impact"),
    ("loft-to-path", "above"): later("More loft to the path"),
    ("loft-to-path", "below"): later("Less loft to the path"),
    ("toe", "above"): later("Toe up at impact"),
    ("toe", "below"): later("Toe down at impact"),
    ("low-point", "above"): later("Low point farther ahead"),
    ("low-point", "below"): later("Low point farther back"),
    ("strike-across", "above"): later("Strike towards the toe"),
    ("strike-across", "below"): later("Strike towards the heel"),
    ("strike-up", "above"): later("Strike high on the face"),
    ("strike-up", "below"): later("Strike low on the face"),
    ("contact", "above"): later("Thin contact"),
    ("contact", "below"): later("Fat contact"),
    ("start", "above"): later("Start to the trail side"),
    ("start", "below"): later("Start to the lead side"),
    ("curve", "above"): later("Curve to the trail side"),
    ("curve", "below"): later("Curve to the lead side"),
}
"""What a chain of a lesson can hold of club and ball, by its side."""

_PARTS: Mapping[Part, str] = {"club": later("Club"), "ball": later("Ball")}
_BASES: Mapping[CauseBasis, str] = {
    "geometry": later("geometry"),
    "measured": later("measured in a study"),
    "teachers hold": later("what teachers hold"),
}
_BY_THE_FACE: Mapping[Direction, str] = {
    "above": later("It starts to the trail side because the face points there. The face decides most of the start."),
    "below": later("It starts to the lead side because the face points there. The face decides most of the start."),
}
_BY_THE_PATH: Mapping[Direction, str] = {
    "above": later("It starts to the trail side, as the path goes."),
    "below": later("It starts to the lead side, as the path goes."),
}
_OUT: Mapping[Direction, str] = {
    "below": later("{metric} (below your range)"),
    "above": later("{metric} (above your range)"),
}


def told_chains(
    chains: Sequence[CauseChain], findings: Mapping[str, ToldFinding], library: Library
) -> tuple[ToldChain, ...]:
    """Chains with the names of their ends, what each step rests on, and, each said once, where they do not hold."""
    told: list[ToldChain] = []
    for chain in chains:
        said = {caveat for before in told for caveat in before.caveats}
        one = _chain(chain, findings, library)
        told.append(one.model_copy(update={"caveats": tuple(new for new in one.caveats if new not in said)}))
    return tuple(told)


def _chain(chain: CauseChain, findings: Mapping[str, ToldFinding], library: Library) -> ToldChain:
    ends = tuple(_end(end, findings) for end in chain.ends)
    rests_on = tuple(say(_BASES[basis]) for basis in chain.bases)
    cause, *effects = (_full(end, findings) for end in chain.ends)
    steps = [
        say("{effect} ({basis})", effect=mid_sentence(effect), basis=basis)
        for effect, basis in zip(effects, rests_on, strict=True)
    ]
    caveats = [library.causes[row].caveat for row in chain.rows]
    words = {
        "ends": ends,
        "rests_on": rests_on,
        "caveats": tuple(dict.fromkeys(caveat for caveat in caveats if caveat)),
        "says": say("{cause}, and what it can lead to, step by step: {steps}.", cause=cause, steps=apart(steps)),
    }
    return ToldChain(**{**dict(chain), **words})


def _end(end: ChainEnd, findings: Mapping[str, ToldFinding]) -> ToldChainEnd:
    if end.part == "body" and end.what in findings:
        finding = findings[end.what]
        named = {"name": finding.short, "where": moment_name(finding.checkpoint), "verdict": finding.verdict}
    else:
        where = say(_PARTS[end.part])
        where = where if end.seen else say("{part}, not measured", part=where)
        named = {"name": say(_NAMES[end.what, end.side]), "where": where, "verdict": "not judged"}
    return ToldChainEnd(**dict(end), **named)


def _full(end: ChainEnd, findings: Mapping[str, ToldFinding]) -> str:
    """An end as it stands in a sentence."""
    if end.part == "body" and end.what in findings:
        return say(_OUT[end.side], metric=findings[end.what].name)
    name = say(_NAMES[end.what, end.side])
    return name if end.seen else say("{name} (not measured)", name=name)


def told_ball_first(
    report: LessonReport, counts: Sequence[ToldCount], findings: Mapping[str, ToldFinding], units: UnitSystem
) -> ToldBallFirst | None:
    """What of the ball heads the report, said to the student; None where nothing of it does."""
    first = report.ball_first
    if first is None:
        return None
    return _fewer(first, counts) if first.kind == "fewer" else _face_to_path(first, report, findings, units)


def ball_headline(first: BallFirst, curves: Direction | None) -> str:
    """The headline of the ball where it heads a report; `curves` is the side to which it does."""
    if first.kind == "fewer":
        return say("First the ball: fewer than before")
    if curves == "above":
        return say("First face and path: they curve the ball to the trail side")
    return say("First face and path: they curve the ball to the lead side")


def _fewer(first: BallFirst, counts: Sequence[ToldCount]) -> ToldBallFirst:
    count = counts[first.count or 0]
    said = [f"{count.says}.", count.since or ""]
    said.append(
        say(
            "Nothing in how you move is clearly outside your range. Before you change it, look at club and ball: "
            "start, face and contact."
        )
    )
    words = _told_in_parts(said[0], said[1], said[2])
    return ToldBallFirst(**dict(first), name=count.name, headline=ball_headline(first, None), **words)


def _face_to_path(
    first: BallFirst, report: LessonReport, findings: Mapping[str, ToldFinding], units: UnitSystem
) -> ToldBallFirst:
    facts = {fact.what: fact for fact in report.ball.facts}
    headline = ball_headline(first, facts["curve"].side)
    said = [_averages(facts, units), _why(), _start(facts, report.ball.face_computed)]
    metrics = lies_behind(report.behind)
    body = dict.fromkeys(_full(chain.ends[0], findings) for chain in report.behind if chain.ends[0].what in metrics)
    if body:
        said.append(
            say(
                "Where teachers look in the body: {causes}. No study that we know of shows it, so try it and "
                "watch the ball.",
                causes=apart(mid_sentence(cause) for cause in body),
            )
        )
    words = _told_in_parts(said[0], said[1], _joined(said[2:]))
    return ToldBallFirst(**dict(first), name=say("Face to path"), headline=headline, **words)


def _told_in_parts(seen: str, because: str, more: str) -> dict[str, str]:
    return {"reason": _joined([seen, because, more]), "seen": seen, "because": because, "more": more}


def _averages(facts: Mapping[str, BallFact], units: UnitSystem) -> str:
    face, bent = facts["face-to-path"], facts["curve"]
    values = {
        "shots": face.of,
        "club": club_name(face.club),
        "face": _size(face, units),
        "curve": _size(bent, units),
    }
    if bent.unit == "deg":
        if face.side == "above":
            return say(
                "Over {shots} shots ({club}) the face was {face} open to the path on average. The ball’s spin "
                "axis tilted {curve} to the trail side, away from you.",
                **values,
            )
        return say(
            "Over {shots} shots ({club}) the face was {face} closed to the path on average. The ball’s spin axis "
            "tilted {curve} to the lead side, towards you.",
            **values,
        )
    if face.side == "above":
        return say(
            "Over {shots} shots ({club}) the face was {face} open to the path on average. The ball curved "
            "{curve} to the trail side, away from you.",
            **values,
        )
    return say(
        "Over {shots} shots ({club}) the face was {face} closed to the path on average. The ball curved {curve} "
        "to the lead side, towards you.",
        **values,
    )


def _why() -> str:
    return say("Hit in the middle of the face, a ball curves the way the face points against the path.")


def _start(facts: Mapping[str, BallFact], computed: bool) -> str:
    """Why the ball starts where it does, as far as the table can say."""
    if computed:
        return say("The device worked the face out from start and path, so it does not tell why the ball starts there.")
    start, face, path = (facts[what].side if what in facts else None for what in ("start", "face", "path"))
    if start is not None and start == face:
        return say(_BY_THE_FACE[start])
    return say(_BY_THE_PATH[start]) if start is not None and start == path and face is None else ""


def _size(fact: BallFact, units: UnitSystem) -> str:
    """A mean without its sign: whole degrees, metres or yards."""
    value = abs(fact.value or 0.0)
    if fact.unit == "m":
        return amount(convert(value, "m", "yd"), "yd", 0) if units == "imperial" else amount(value, "m", 0)
    return amount(value, fact.unit or "deg", 0)


def _joined(parts: Sequence[str]) -> str:
    return " ".join(part for part in parts if part)
