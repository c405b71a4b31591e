"""The names a screen reader lists, and what is wrong with them."""

import re
from collections import defaultdict

from playwright.sync_api import Page

_LINE = re.compile(
    r"\s*- '?(link|button|textbox|searchbox|combobox|checkbox|radio|spinbutton)\b(?: \"((?:[^\"\\]|\\.)*)\")?"
)  # fmt: skip


def name_faults(page: Page) -> list[str]:
    """Names that are missing, links that say the same and lead elsewhere, buttons of one name.

    Read off the page's accessibility tree (WAI-ARIA 1.2 names) as Playwright writes it down; one
    name for one purpose is WCAG 2.2, 2.4.9 and 3.2.4.
    """
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    lines = page.locator("body").aria_snapshot().splitlines()
    leads: dict[str, set[str]] = defaultdict(set)
    pressed: dict[str, int] = defaultdict(int)
    found: list[str] = []
    for at, line in enumerate(lines):
        if not (read := _LINE.match(line)):
            continue
        role, name = read.groups()
        if not name:
            found.append(f"no name: {line.strip()}")
        elif role == "link":
            leads[name].update(one.strip() for one in lines[at + 1 : at + 3] if "/url:" in one)
        elif role == "button":
            pressed[name] += 1
    found += [f"{name} leads to {len(to)} places" for name, to in leads.items() if len(to) > 1]
    return found + [f"{name} stands on {n} buttons" for name, n in pressed.items() if n > 1]
