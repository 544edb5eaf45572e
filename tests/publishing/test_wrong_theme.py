"""A template of the academy's own that is wrong: one line says where, and what was published stands."""

import re
from pathlib import Path

import pytest

from reportgen.sheets.shipped import shipped
from tests.publishing.conftest import Small
from tests.publishing.small import contents, reportgen


def own_template(academy: Path, name: str, old: str, new: str) -> None:
    """A theme of one template, the shipped one with other words in a line."""
    text = (shipped("themes") / "letter" / name).read_text(encoding="utf-8")
    assert old in text
    (academy / "look").mkdir()
    (academy / "look" / name).write_text(text.replace(old, new), encoding="utf-8")
    sheet = academy / "academy.yaml"
    sheet.write_text(f"{sheet.read_text(encoding='utf-8')}\ntheme: look\n", encoding="utf-8")


DRILL = (shipped("themes") / "letter" / "drill.html").read_text(encoding="utf-8")
LINE = DRILL[: DRILL.index("{% for line in serves %}")].count("\n") + 1
"""The line of the shipped template that is made wrong."""

WRONG = {
    "cut short": ("{% for line in serves %}", "{% for line %}", "the template is wrong: expected token 'in'"),
    "misspelled name": ("in serves", "in servs", "the template is wrong: 'servs' is undefined. Mend"),
    "misspelled filter": ("{{ line }}", "{{ line | wrds }}", "the template is wrong: No filter named 'wrds'. Mend"),
    "a file that is not there": ("{{ line }}", '{% include "nowhere.html" %}', "no theme has the file nowhere.html, "),
    "a number added to words": ("{{ line }}", "{{ line + 1 }}", "the template is wrong: can only concatenate str "),
    "more than is allowed": ("{{ line }}", "{{ range(1000000) }}", "the template is wrong: Range too big. "),
}


@pytest.mark.parametrize(("wrong", "jobs"), [*((wrong, 1) for wrong in WRONG), *((wrong, 2) for wrong in [*WRONG][:2])])
def test_a_template_that_is_wrong_is_told_with_file_and_line(small: Small, wrong: str, jobs: int) -> None:
    before = contents(small.site)
    old, new, said = WRONG[wrong]
    own_template(small.academy, "drill.html", old, new)
    done = reportgen("publish", small.academy, "--to", small.site, "--jobs", jobs)
    assert done.exit_code == 2
    assert f"{small.academy / 'look' / 'drill.html'}:{LINE}: {said}" in done.output
    assert contents(small.site) == before


def test_a_template_that_includes_itself_is_told(small: Small) -> None:
    own_template(small.academy, "drill.html", "{{ line }}", '{% include "drill.html" %}')
    done = reportgen("publish", small.academy, "--to", small.site)
    assert done.exit_code == 2
    assert (
        f"{small.academy / 'look' / 'drill.html'}:{LINE}: the template includes or calls itself without end. "
        in done.output
    )


def test_what_a_template_gives_to_a_shipped_one_is_told_where_it_is_given(small: Small) -> None:
    given = '{% from "parts.html" import drill_name with context %}{{ drill_name(line, "") }}'
    own_template(small.academy, "drill.html", "{{ line }}", given)
    done = reportgen("publish", small.academy, "--to", small.site)
    assert done.exit_code == 2
    assert f"{small.academy / 'look' / 'drill.html'}:{LINE}: the template is wrong: " in done.output


@pytest.mark.parametrize("name", ["drill.html", "style.css", "library.js", "mail.txt"])
def test_a_file_of_a_theme_that_is_no_utf8_is_told_with_its_line(small: Small, name: str) -> None:
    own_template(small.academy, name, "", "")
    file = small.academy / "look" / name
    file.write_bytes(b"{# a line #}\n{# h\xfcfte #}\n" + file.read_bytes())
    before = contents(small.site)
    for done in reportgen("check", small.academy), reportgen("publish", small.academy, "--to", small.site):
        assert done.exit_code != 0
        assert f"look/{name}:2:5: the byte 0xfc is not UTF-8. Save the file as UTF-8." in done.output
    assert contents(small.site) == before


def test_a_template_of_the_academys_own_uses_what_templates_are_offered(small: Small) -> None:
    text = """{% extends "area.html" %}
{% import "parts.html" as parts with context %}
{% macro given(obj, context, self_=1) %}{{ obj }}{{ context }}{% endmacro %}
{% macro told(finding) %}<b>{{ finding.short | upper }}</b> {{ finding | said }}, {{ caller() }}{% endmacro %}
{% block title %}{{ academy.name ~ ", " ~ report.date.year }}{% endblock %}
{% block main %}
<h1>{{ _("Lesson of %(day)s", day=report.date | full_day) }}</h1>
{% set seen = namespace(count=0) %}
{% for finding in report.findings | sort(attribute="short") if finding.band %}
{% set seen.count = seen.count + 1 %}
{% call told(finding) %}{{ parts.tone(finding.verdict) }} {{ loop.index }}/{{ loop.length }}{% endcall %}
{% else %}nothing{% endfor %}
<p>{{ seen.count }} of {{ report.findings | length }}; {{ report.findings | map(attribute="metric") | join(", ") }};
{{ given(obj="a", context="b") }}{{ _("%(message)s", message="c") }}
{{ "a b".split()[1] }}{{ "-" * 3 }}{{ range(3) | sum }}{{ {"a": 1}.items() | list | length }}</p>
{{ super() }}{{ self.title() }}
{% endblock %}
"""
    (small.academy / "look").mkdir()
    (small.academy / "look" / "lesson.html").write_text(text, encoding="utf-8")
    with (small.academy / "academy.yaml").open("a", encoding="utf-8") as sheet:
        sheet.write("\ntheme: look\n")
    done = reportgen("publish", small.academy, "--to", small.site)
    assert done.exit_code == 0, done.output
    page = next(small.site.glob("upload/s/*/2*/index.html")).read_text(encoding="utf-8")
    assert "abc\nb---31</p>" in page
    said = re.search(r"<b>[A-Z ,-]+</b> .*, (in|out|close|none) *1/\d", page)
    assert said, page[page.find("<h1>") : page.find("<h1>") + 600]
