"""Files of prices: as spreadsheets save them, the closest row first, every fault located."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.real import EXAMPLES, rulebook
from variants.reading import InputError
from variants.reading.prices import Price, Prices, read_prices

TRADE = rulebook().trade


def prices(tmp_path: Path, text: str) -> Prices:
    path = tmp_path / "prices.csv"
    path.write_text(text, encoding="utf-8")
    return read_prices(path, TRADE)


def of(found: Prices, material: str, colour: str = "", size: int | None = None) -> float | None:
    shade = TRADE.colour_names[colour] if colour else None
    price = found.of(TRADE.material_names[material], shade, size)
    return None if price is None else price.price


def test_what_a_row_says_more_closely_comes_first(tmp_path: Path) -> None:
    found = prices(
        tmp_path,
        "material,colour,size,price\nsilk floss,,,2.20\nsilk floss,red,,2.60\n"
        "dry fly hook,,,5\ndry fly hook,,20,7\n",
    )
    assert of(found, "silk floss", "red") == 2.6
    assert of(found, "silk floss", "yellow") == of(found, "silk floss") == 2.2
    assert of(found, "dry fly hook", size=20) == 7
    assert of(found, "dry fly hook", size=14) == 5
    assert of(found, "peacock herl") is None


@pytest.mark.parametrize("separator", [";", "\t"])
def test_prices_come_as_spreadsheets_of_other_countries_save_them(
    separator: str, tmp_path: Path
) -> None:
    rows = (("material", "price", "price_for"), ("silk floss", "2,20", "7,5 m"))
    found = prices(tmp_path, "".join(f"{separator.join(row)}\n" for row in rows))
    (price,) = found.rows.values()
    assert price.price == 2.2
    assert price.amount is not None
    assert price.amount.to("m").magnitude == 7.5


def test_the_valley_s_shop_tells_what_one_gets_for_the_price() -> None:
    found = read_prices(EXAMPLES / "prices.csv", TRADE)
    hooks = found.of(TRADE.material_names["wet fly hook"], None, 20)
    assert isinstance(hooks, Price)
    assert hooks.amount is not None
    assert hooks.amount.to("piece").magnitude == 25


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("peacok herl,,,3", "did you mean 'peacock herl'"),
        ("peacock herl,,,dear", "'dear' is not a number"),
        ("peacock herl,,,-1", "-1"),
        ("peacock herl,,,", "write a number, such as 4.50"),
        ("silk floss,red,,3\nsilk floss,red,,4", "a price for the same stands in line 2"),
    ],
)
def test_a_price_that_will_not_do_is_refused(row: str, said: str, tmp_path: Path) -> None:
    with pytest.raises(InputError) as refused:
        prices(tmp_path, f"material,colour,size,price\n{row}\n")
    assert said in str(refused.value)
    assert "prices.csv:" in str(refused.value)
