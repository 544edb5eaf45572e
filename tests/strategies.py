"""What people and machines write by mistake: text that is nearly YAML, and sheets with a few slips in them."""

from collections.abc import Sequence

from hypothesis import strategies as st

SLIPS = (
    "%", "*", "&a ", "*a", "!!python/object:os.system ", "!", "\t", ":", ": ", "- ", "-", "? ", "{", "}", "[", "]", ",",
    "'", '"', "|", ">", "#", "---", "...", "~", "null", "no", "1:30", "012", "1e3", "1_0", "0x1F", "12,5", "-1", "nan",
    ".inf", "1e999", "9" * 400, "../../..", "/etc/hostname", "\\", "a" * 70, "2026-02-30", "5.3.2026", "<<", "on", "é",
    "🏌", "\u00a0", "\u2028", "\x85", "\ufeff", "\x00", "\x07", "\r", "\n", "\n\n", "  ", "\ud7ff", "\ufffe",
)  # fmt: skip
WORDS = (
    "student", "date", "club", "readings", "metric", "value", "trials", "unit", "how", "stills", "marks", "lead-hip",
    "drills", "notes", "serves", "bands", "fits", "rules", "when", "all", "name", "born", "mara-l", "2026-03-05", "deg",
)  # fmt: skip

pieces = st.sampled_from((*SLIPS, *WORDS, *WORDS, ": ", ": ", "\n", "\n", "\n  ", "\n  - ", ", "))
yamlish = st.lists(pieces, max_size=40).map("".join)
"""Names, values and signs of sheets in any order."""


@st.composite
def slipped(draw: st.DrawFn, texts: Sequence[str]) -> str:
    """One of `texts` with one to four slips: a line or letter deleted, doubled or moved, a sign or value put in."""
    text = draw(st.sampled_from(texts))
    for _ in range(draw(st.integers(1, 4))):
        text = draw(_slip(text))
    return text


@st.composite
def _slip(draw: st.DrawFn, text: str) -> str:
    if not text:
        return draw(pieces)
    kind = draw(st.sampled_from(("line", "letter", "sign", "value")))
    if kind == "line":
        return "".join(draw(_rearranged(text.splitlines(keepends=True))))
    if kind == "letter":
        return "".join(draw(_rearranged(list(text))))
    if kind == "sign":
        at = draw(st.integers(0, len(text)))
        return text[:at] + draw(pieces) + text[at:]
    lines = text.splitlines(keepends=True)
    at = draw(st.integers(0, len(lines) - 1))
    key, colon, _ = lines[at].partition(": ")
    lines[at] = f"{key}{colon or ': '}{draw(pieces)}\n"
    return "".join(lines)


@st.composite
def _rearranged(draw: st.DrawFn, parts: list[str]) -> list[str]:
    """`parts` with one deleted, doubled, or swapped with another."""
    first, second = draw(st.integers(0, len(parts) - 1)), draw(st.integers(0, len(parts) - 1))
    how = draw(st.sampled_from(("deleted", "doubled", "swapped")))
    if how == "deleted":
        return parts[:first] + parts[first + 1 :]
    if how == "doubled":
        return parts[: first + 1] + parts[first:]
    parts = list(parts)
    parts[first], parts[second] = parts[second], parts[first]
    return parts
