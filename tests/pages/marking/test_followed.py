"""What the page asks for where metrics are followed, and where all are wanted."""

from tests.pages.marking.conftest import STILLS, demo_stills

DEMO = {still.file: still for still in demo_stills()}
SETUP, TOP = (DEMO[f"../stills/2026-11-19-{moment}-fo.png"] for moment in ("setup", "top"))
GROUND = ["stick-near", "stick-far", "scale-from", "scale-to"]


def listed(paper, which):
    return paper.run(f"return [...document.querySelectorAll('#{which} [data-point]')].map((b) => b.dataset.point)")


def missing(paper):
    return paper.run("return [...document.querySelectorAll('#missing li')].map((li) => li.textContent.split(':')[0])")


def test_the_list_asks_for_the_points_of_what_is_followed(paper):
    paper.open("followed")
    assert listed(paper, "points") == [*GROUND, "lead-ankle", "trail-ankle", "lead-hip", "trail-hip", "ball"]
    assert "lead-shoulder" in listed(paper, "others")


def test_the_page_says_what_is_followed(paper):
    paper.open("followed")
    assert paper[".followed p"].text == "The list asks for what is followed: Hip turn at the top."


def test_what_is_missing_is_told_of_what_is_followed_alone(paper):
    paper.open("followed")
    assert missing(paper) == ["Hip turn at the top"]


def test_all_metrics_can_be_asked_for_and_left_again(paper):
    paper.open("followed")
    paper["#all-metrics"].click()
    assert "lead-shoulder" in listed(paper, "points")
    assert len(missing(paper)) > 10
    paper["#all-metrics"].click()
    assert "lead-shoulder" not in listed(paper, "points")


def test_the_next_point_is_one_that_is_asked_for(paper):
    paper.open("followed")
    paper.run("choosePoint('trail-ankle', false)")
    paper.click(TOP.marks["trail-ankle"])
    assert paper.next_point == "lead-hip"


def test_where_the_marks_of_another_metric_are_set_it_is_measured_too(paper):
    paper.open("followed")
    paper.add_picture(STILLS / "2026-11-19-setup-fo.png")
    both = {still.file.rpartition("/")[2]: points(still) for still in (SETUP, TOP)}
    paper.run(
        "page.stills = page.stills.map((one) => ({...one, points: arguments[0][one.file], length: '1.00'}))", both
    )
    paper.run("refresh()")
    measured = {name.removesuffix("from one picture") for name in paper.values}
    assert {"Hip turn at the top", "Shoulder turn at the top"} <= measured
    assert missing(paper) == []


def test_an_empty_page_asks_for_all(paper):
    paper.open("empty")
    assert paper.run("return [page.all, document.getElementById('all-metrics')]") == [True, None]


def points(still):
    marks = {name: list(place) for name, place in still.marks.items()}
    return marks | {"scale-from": list(TOP.scale.from_), "scale-to": list(TOP.scale.to)}
