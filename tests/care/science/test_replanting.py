"""Who does badly after whom, as extension services have it."""

import pytest

from care.planning.species_facts import species_facts
from care.science.replanting import replant_source


# Pacific Northwest Plant Disease Management Handbook: apples and pears after either;
# Washington State University: apples, pears, cherries, peaches, plums, citrus.
@pytest.mark.parametrize(
    ("old", "new", "source"),
    [
        ("apple", "apple", "pnw_replant"),
        ("pear", "apple", "pnw_replant"),
        ("sweet_cherry", "peach", "wsu_replant"),
        ("orange", "lemon", "wsu_replant"),
        ("fig", "fig", "common_practice"),
        ("apple", "sweet_cherry", ""),
        ("fig", "mulberry", ""),
    ],
)
def test_who_does_badly_after_whom(old, new, source):
    assert replant_source(species_facts(old), species_facts(new)) == source
