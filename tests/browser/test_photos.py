"""Adding photos with a phone: chosen, made small there, seen; without scripts too."""

import io

import pytest
from PIL import Image
from playwright.sync_api import Browser, FilePayload, Page, expect

from care.models import Photo
from orchard.actions.people import make_signin_link
from orchard.models import Person, Tree
from tests.browser.page_check import assert_well_made
from tests.care.actions.photo_samples import photo_bytes, tags

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
TREE = "Pear at the gate"


def large(name: str, orientation: int) -> FilePayload:
    """A photo of a phone held upright, taken on 21 July 2013."""
    kept = io.BytesIO()
    image = Image.linear_gradient("L").resize((2400, 1800)).convert("RGB")
    exif = tags(orientation=orientation, taken="2013:07:21 09:00:00")
    image.save(kept, "JPEG", quality=95, exif=exif)
    return {"name": name, "mimeType": "image/jpeg", "buffer": kept.getvalue()}


def small(name: str) -> FilePayload:
    return {"name": name, "mimeType": "image/jpeg", "buffer": photo_bytes()}


def photos_address() -> str:
    tree = Tree.objects.get(name=TREE)
    return f"/s/{tree.site.slug}/trees/{tree.public_id}/photos/"


def test_photos_are_made_small_on_the_phone_and_seen_at_once(page: Page, live_server):
    before = Photo.objects.count()
    address = live_server.url + photos_address()
    page.goto(address)
    with page.expect_file_chooser() as chooser:
        page.get_by_label("Choose photos").click()
    assert chooser.value.is_multiple()
    chooser.value.set_files([large("a.jpg", 6), small("b.jpg")])
    expect(page.get_by_text("2 photos chosen.")).to_be_visible()
    sent: list[int] = []
    page.on(
        "request",
        lambda one: (
            sent.append(int(one.header_value("content-length") or 0))
            if one.method == "POST"
            else None
        ),
    )
    page.get_by_role("button", name="Keep the photos").click()
    expect(page.get_by_text("The photo is kept.")).to_be_visible(timeout=15_000)
    assert Photo.objects.count() == before + 2
    photo = Photo.objects.get(width=1200, height=1600)
    # The phone set it upright, and told the day that it took out of it.
    assert str(photo.on) == "2013-07-21"
    assert sent
    assert max(sent) < len(large("a.jpg", 6)["buffer"]) / 2
    image = page.locator(f"img[src*='{photo.public_id}']").first
    image.scroll_into_view_if_needed()
    expect(image).to_have_js_property("complete", value=True)
    assert image.evaluate("image => image.naturalWidth") == 240
    camera = page.locator("input[capture=environment]")
    expect(camera).to_have_attribute("accept", "image/*")
    assert_well_made(page, address)
    assert_well_made(page, page.url.replace(photos_address(), own_page(photo)))


def own_page(photo: Photo) -> str:
    return f"/s/{photo.site.slug}/photos/{photo.public_id}/page/"


def test_of_several_photos_a_broken_one_holds_no_other_up(
    browser: Browser, live_server, demo: Person, settings
):
    settings.BASE_URL = live_server.url
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, service_workers="block"
    )
    page = context.new_page()
    page.goto(make_signin_link(person=demo))
    page.get_by_role("button").first.click()
    page.goto(live_server.url + photos_address())
    broken: FilePayload = {**small("b.jpg"), "buffer": photo_bytes()[:900]}
    box = page.get_by_label("Choose photos")
    box.set_input_files([small("a.jpg"), broken])
    page.get_by_role("button", name="Keep the photos").click()
    expect(page.get_by_text("The photo is kept.")).to_be_visible(timeout=15_000)
    expect(page.get_by_text("The photo arrived broken or in part.")).to_be_visible()
    assert Photo.objects.exclude(caption__contains="drawn").count() == 1
    context.close()


def test_without_scripts_photos_go_as_they_are(
    browser: Browser, live_server, demo: Person, settings
):
    settings.BASE_URL = live_server.url
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, java_script_enabled=False
    )
    page = context.new_page()
    page.goto(make_signin_link(person=demo))
    page.get_by_role("button").first.click()
    page.goto(live_server.url + photos_address())
    box = page.locator("input[name=photo]").nth(1)
    expect(box).to_be_visible()
    box.set_input_files([large("a.jpg", 1)])
    page.get_by_role("button", name="Keep the photos").click()
    expect(page.get_by_text("The photo is kept.")).to_be_visible()
    photo = Photo.objects.exclude(caption__contains="drawn").get()
    assert (photo.width, photo.height) == (1600, 1200)
    assert str(photo.on) == "2013-07-21"
    context.close()
