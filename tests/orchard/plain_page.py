"""What every page must be under a policy that allows no inline code or style."""

from lxml import html  # type: ignore[import-untyped]  # lxml ships no types


def page_of(response):
    """Return the parsed page, after checking that nothing in it is inline."""
    assert response.status_code < 500
    page = html.fromstring(response.content.decode())
    # A block of data is no script: browsers neither run it nor ask the policy.
    inline = "//script[not(@src) and not(@type='application/json')]"
    assert not page.xpath(f"//style | {inline} | //*[@style]")
    assert not page.xpath("//@*[starts-with(name(), 'on')]")
    return page


def text_of(page):
    return " ".join(page.text_content().split())


def errors_of(page):
    """Return what stands at the fields, and in the summaries above the forms."""
    places = page.xpath("//*[contains(@class, 'field__error')]")
    summary = page.xpath("//*[contains(@class, 'errors')]//li")
    return [" ".join(p.text_content().split()) for p in [*places, *summary]]


def one_error(response, words):
    """Check that the form came back and says ``words`` at a field and in the summary."""
    assert response.status_code == 200
    found = errors_of(page_of(response))
    assert [error for error in found if words in error], found
    return found
