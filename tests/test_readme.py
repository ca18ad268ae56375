"""What people read first shows what the commands print today, and opens with the job."""

import re
from pathlib import Path

import pytest

import variants
from tests.breadth import most_are_slow
from tests.readme import PAGES, README, ROOT, TOUR, renew_screens

FORMATS = ROOT / "rules" / "README.md"
EVERY_PAGE = (*PAGES, FORMATS, ROOT / "DEVELOPERS.md")


@pytest.mark.parametrize("page", most_are_slow(PAGES, 1), ids=lambda page: page.parent.name)
def test_every_screen_is_what_the_command_prints(page: Path, tmp_path: Path) -> None:
    text = page.read_text()
    assert text.count("```console") >= 3
    assert renew_screens(text, tmp_path) == text


def test_the_graph_shown_holds_at_least_six_variants() -> None:
    text = TOUR.read_text()
    graph = text[text.index("```mermaid") :]
    assert sum(f"variant {rank} " in graph for rank in range(1, 20)) >= 6


def test_the_readme_opens_with_the_job_and_ends_in_some_two_screens() -> None:
    lines = README.read_text().splitlines()
    assert lines[0] == "# Flykin"
    assert lines[2].startswith("A fly tyer")
    assert len(lines) <= 160


def test_the_first_two_commands_set_up_then_run_and_test() -> None:
    blocks = README.read_text().split("```sh\n")[1:3]
    assert "flykin propose" in blocks[0]
    assert "pytest" in blocks[1]


@pytest.mark.parametrize("page", EVERY_PAGE, ids=lambda page: f"{page.parent.name}/{page.name}")
def test_every_link_leads_to_a_file(page: Path) -> None:
    links = re.findall(r"\]\(([^)#:]+)\)|src=\"([^\":]+)\"", page.read_text())
    missing = [
        link for pair in links for link in pair if link and not (page.parent / link).exists()
    ]
    assert missing == []


def test_the_library_example_runs(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    (example,) = re.findall(r"```python\n(.*?)```", README.read_text(), re.DOTALL)
    exec(example, {})
    assert capsys.readouterr().out.strip()


def test_the_dressing_shown_among_the_files_is_read(tmp_path: Path) -> None:
    (shown,) = re.findall(r"```toml\n(.*?)```", FORMATS.read_text(), re.DOTALL)
    written = tmp_path / "shown.toml"
    written.write_text(shown)
    assert variants.load_dressing(written, variants.load_rules()).name == "Long Acre Olive"
