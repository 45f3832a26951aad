"""What every page owes its reader: WCAG, and nothing cut off on a small phone."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

UNFOLD = "document.querySelectorAll('details.fold').forEach(each => each.open = true)"
WIDTHS = "[document.documentElement.scrollWidth, innerWidth]"


COLOURS = {"runOnly": {"type": "rule", "values": ["color-contrast"]}}


def assert_well_made(page: Page, address: str, scheme: str = "light") -> None:
    """Open a page with all its folds; it neither scrolls sideways nor fails axe.

    In the dark nothing differs but colours: those alone are looked at.
    """
    answer = page.goto(address)
    assert answer is not None
    assert answer.status == 200, address
    page.evaluate(UNFOLD)
    content, screen = page.evaluate(WIDTHS)
    assert content <= screen, address
    assert_no_fault(page, address, scheme)


def assert_no_fault(page: Page, address: str, scheme: str) -> None:
    """Run axe over the page as it stands; in the dark for its colours alone."""
    found = Axe().run(page, options=COLOURS if scheme == "dark" else None)
    assert found.response["violations"] == [], address + found.generate_report()
