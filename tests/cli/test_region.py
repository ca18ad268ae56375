"""Region files and tables of law as `flykin check` reads them."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner

from tests.real import EXAMPLES
from variants.cli.check import command


def test_a_region_that_is_right_is_told_by_name() -> None:
    done = CliRunner().invoke(command, [str(EXAMPLES / "regions" / "merrel-tarn.toml")])
    assert done.exit_code == 0
    assert "the region “Merrel Tarn”, 2 naturals" in done.stdout


def test_a_region_that_is_wrong_is_told_with_line_and_field(tmp_path: Path) -> None:
    wrong = tmp_path / "beck.toml"
    text = (EXAMPLES / "regions" / "merrel-tarn.toml").read_text(encoding="utf-8")
    wrong.write_text(text.replace('"rippled"', '"ripled"'), encoding="utf-8")
    done = CliRunner().invoke(command, [str(wrong)])
    assert done.exit_code == 2
    assert "beck.toml:9: water.surface:" in done.stderr
    assert "did you mean 'rippled'?" in done.stderr


def test_a_folder_of_rules_has_its_law_read_too(tmp_path: Path) -> None:
    (tmp_path / "law").mkdir()
    table = "id\tkey\tnames\tsays\tsource\nown\tsmell\t\tair the room\thouse rule\n"
    (tmp_path / "law" / "hazards.tsv").write_text(table, encoding="utf-8")
    done = CliRunner().invoke(command, [str(tmp_path)])
    assert done.exit_code == 2
    assert "hazards.tsv:2: key:" in done.stderr
