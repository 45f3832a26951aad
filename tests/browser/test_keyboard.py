"""The Round without a pointer: reached, seen, ticked and taken back by keys alone."""

import pytest
from playwright.sync_api import Page, expect

from care.models import LogEntry
from tests.turns import turn

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

MOST_KEYS = 80
FOCUSED = """() => {
  const one = document.activeElement, box = one.getBoundingClientRect();
  const middle = [box.x + box.width / 2, box.y + box.height / 2];
  return {
    words: one.textContent.trim(),
    outline: getComputedStyle(one).outlineStyle,
    is_on_top: one.contains(document.elementFromPoint(...middle)),
  };
}"""


def tab_to(page: Page, words: str) -> dict[str, object]:
    """Press Tab until what has the focus ends in ``words``."""
    for _ in range(MOST_KEYS):
        page.keyboard.press("Tab")
        focused: dict[str, object] = page.evaluate(FOCUSED)
        if str(focused["words"]).endswith(words):
            return focused
    pytest.fail(f"No Tab leads to “{words}”")


def test_the_round_is_walked_by_keys_alone(page: Page):
    page.keyboard.press("Tab")
    assert page.evaluate(FOCUSED)["words"] == "Skip to the page"
    page.keyboard.press("Enter")
    done = tab_to(page, "Done")
    assert done["outline"] != "none"
    assert done["is_on_top"], "the bar hides what has the focus"
    page.keyboard.press("Enter")
    undo = page.get_by_role("button", name="Undo").first
    expect(undo).to_be_visible()
    with turn:
        entry = LogEntry.objects.filter(person__username="marta").latest("id")
    assert entry.what == "done"
    tab_to(page, "Undo")
    page.keyboard.press("Enter")
    page.wait_for_load_state("networkidle")
    with turn:
        entry.refresh_from_db()
    assert entry.voided_at is not None


def test_the_menu_opens_and_leads_on_by_keys_alone(page: Page):
    tab_to(page, "More")
    page.keyboard.press("Enter")
    link = tab_to(page, "Planting")
    assert link["outline"] != "none"
    page.keyboard.press("Enter")
    page.wait_for_url("**/planting/")
