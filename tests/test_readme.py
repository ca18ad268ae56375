"""The README shows what the commands print today, and opens with the job."""

from pathlib import Path

from tests.readme import README, renewed


def test_every_screen_in_the_readme_is_what_the_command_prints(tmp_path: Path) -> None:
    text = README.read_text()
    assert text.count("```console") >= 6
    assert renewed(text, tmp_path) == text


def test_the_graph_shown_holds_at_least_six_variants() -> None:
    text = README.read_text()
    graph = text[text.index("```mermaid") :]
    assert sum(f"variant {rank} " in graph for rank in range(1, 20)) >= 6


def test_the_first_two_commands_set_up_then_run_and_test() -> None:
    blocks = README.read_text().split("```sh\n")[1:3]
    assert "flykin propose" in blocks[0]
    assert "pytest" in blocks[1]
