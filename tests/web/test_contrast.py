"""The contrast of every text colour on every ground, computed from the stylesheet.

Formula: WCAG 2.2, "relative luminance" and "contrast ratio". Limits: 7:1 where it is read on the
round (level AAA of 1.4.6), 4.5:1 elsewhere (AA of 1.4.3); chosen in the project's look.
"""

import re
from itertools import product

import pytest

from mancary.web.templating import STATIC

CSS = (STATIC / "mancary.css").read_text(encoding="utf-8")
READ_ON_THE_ROUND = ("ink", "quiet", "bark", "moss")
ELSEWHERE = ("damp",)
GROUNDS = ("paper", "leaf-paper")


def palettes() -> dict[str, dict[str, str]]:
    light, dark = re.findall(r":root \{(.*?)\}", CSS, re.DOTALL)[:2]
    found = {name: dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", text)) for name, text in
             (("light", light), ("dark", dark))}  # fmt: skip
    return {"light": found["light"], "dark": {**found["light"], **found["dark"]}}


def luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_published_ends() -> None:
    assert contrast("#ffffff", "#000000") == pytest.approx(21, abs=1e-9)
    assert contrast("#123456", "#123456") == 1


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize(
    ("text", "ground", "least"),
    [
        *((text, ground, 7.0) for text, ground in product(READ_ON_THE_ROUND, GROUNDS)),
        *((text, ground, 4.5) for text, ground in product(ELSEWHERE, GROUNDS)),
        ("paper", "moss", 7.0),
    ],
)
def test_text_stands_out(theme: str, text: str, ground: str, least: float) -> None:
    colours = palettes()[theme]
    assert contrast(colours[text], colours[ground]) >= least


def test_a_weaker_colour_would_be_found() -> None:
    assert contrast(palettes()["light"]["leaf"], palettes()["light"]["paper"]) < 7
    assert contrast(palettes()["light"]["line"], palettes()["light"]["paper"]) < 4.5


def test_no_text_has_a_colour_that_is_not_measured() -> None:
    rules = re.sub(r"/\*.*?\*/|@media print.*?\n\}", "", CSS, flags=re.DOTALL)
    used = set(re.findall(r"(?<![\w-])color: ([^;]+);", rules))
    measured = {f"var(--{name})" for name in (*READ_ON_THE_ROUND, *ELSEWHERE, "paper")}
    assert used <= measured | {"inherit"}
    drawn = re.findall(r"\.(?:code|tagword|end)[^{]*\{[^}]*fill: ([^;]+);", rules)
    assert drawn
    assert set(drawn) <= measured


def test_what_is_touched_is_48_pixels_high() -> None:
    for name in ("button, .step", ".head li a", ".words span", ".rest a", ".names a", "summary"):
        rule = re.search(re.escape(name) + r" \{([^}]*)\}", CSS)
        assert rule, name
        assert "min-height: 48px" in rule.group(1), name
