"""The sheet of labels: whose trees, how large, how many, and nothing secret on it."""

import re

from care.charts.labels import code_of, spoken
from orchard.actions.places import block_named
from tests.care.charts.square_reader import read_square
from tests.care.charts.test_labels import modules_of

PAGE = "/s/test-site/trees/labels/"


def test_each_living_tree_has_a_label_whose_square_holds_its_address(
    cast, client_of, site, make_tree, django_assert_num_queries
):
    anna = make_tree("Anna", tag="R1-4")
    gone = make_tree("Berta")
    type(gone).objects.filter(pk=gone.pk).update(status="lost", ended_on="2025-06-01")
    patio = block_named(site=site, name="Patio")
    make_tree("Fig", species_key="fig", block=patio)
    viewer = client_of(cast.viewer)
    page = viewer.get(PAGE).content.decode()
    assert page.count('class="label"') == 2
    assert "Berta" not in page
    for words in ("Anna", "Apple", "R1-4", spoken(code_of(anna.public_id))):
        assert words in page
    assert str(anna.public_id) not in page.split('class="labels"')[1]
    svg = re.search(r'<svg width="[\d.]+mm".*?</svg>', page, re.DOTALL)[0]
    size = int(re.search(r'viewBox="0 0 (\d+)', svg)[1])
    rows = modules_of(svg, size)[4:-4]
    reading = read_square([row[4:-4] for row in rows])
    assert reading.text == f"http://testserver/t/{code_of(anna.public_id)}/"
    assert reading.is_whole
    only = viewer.get(f"{PAGE}?block={patio.pk}").content.decode()
    assert only.count('class="label"') == 1
    for wrong in ("x", "0", "99999999999"):
        assert viewer.get(f"{PAGE}?block={wrong}").status_code == 404


def test_many_labels_take_as_few_queries_as_two_and_come_in_pages(
    cast, client_of, make_tree, django_assert_max_num_queries
):
    make_tree("Anna")
    viewer = client_of(cast.viewer)
    assert "No trees" not in viewer.get(PAGE).content.decode()
    with django_assert_max_num_queries(14) as few:
        viewer.get(PAGE)
    for number in range(64):
        make_tree(f"Tree {number}")
    with django_assert_max_num_queries(14) as many:
        first = viewer.get(PAGE).content.decode()
    assert len(many) == len(few)
    assert first.count('class="label"') == 60
    second = viewer.get(f"{PAGE}?page=2").content.decode()
    assert second.count('class="label"') == 5


def test_another_orchards_block_is_not_found(cast, client_of, site, make_tree):
    block = site.blocks.get()
    answer = client_of(cast.stranger).get(
        f"/s/elsewhere/trees/labels/?block={block.pk}"
    )
    assert answer.status_code == 404
    assert (
        "No trees here yet"
        in client_of(cast.stranger).get("/s/elsewhere/trees/labels/").content.decode()
    )
