"""Many at once: fifty requests together hold, and each gets its own answer."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from urllib.request import urlopen

from tests.web.browser import served
from tests.web.pages import BOOK, own_box
from variants.web import Settings


def test_fifty_at_once_are_all_answered_each_with_its_own(tmp_path: Path) -> None:
    names = {"bellringer": "Bellringer", "tollgate-amber": "Tollgate Amber",
             "ferrymans-dun": "Ferryman&#39;s Dun", "sluice-midge": "Sluice Midge",
             "long-acre-olive": "Long Acre Olive"}  # fmt: skip
    asked = [
        (f"/design?dressing={key}&water={water}", name)
        for key, name in names.items()
        for water in ("slow", "fast")
    ] * 5
    assert len(asked) == 50
    with served(Settings(own_box(tmp_path), (BOOK,))) as address:

        def ask(one: tuple[str, str]) -> tuple[int, bool]:
            with urlopen(f"{address}{one[0]}", timeout=120) as answer:
                return answer.status, f"<h1>{one[1]}</h1>" in answer.read().decode()

        with ThreadPoolExecutor(50) as pool:
            assert list(pool.map(ask, asked)) == [(200, True)] * 50
