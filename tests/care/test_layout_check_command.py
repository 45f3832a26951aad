"""The check of a plan as scripts ask for it."""

import json

from django.core.management import call_command

from orchard.models import Feature, SitePlan


def test_it_prints_conflicts_and_partners_and_nothing_else(
    site, make_tree, capsys, django_assert_max_num_queries
):
    SitePlan.objects.create(site=site)
    Feature.objects.create(
        site=site, kind="septic", name="Field", points_m=[[0, 7], [5, 7], [5, 14]]
    )
    gate, shed = (
        make_tree(name, x_m=x_m, y_m=0.0)
        for name, x_m in (("Gate", 0.0), ("Shed", 3.0))
    )
    with django_assert_max_num_queries(30):
        call_command("layout_check", "--site", site.slug, "--json")
    printed = json.loads(capsys.readouterr().out)
    assert sorted(printed) == ["conflicts", "partners", "schema"]
    assert printed["schema"] == 1
    first, second, third = printed["conflicts"]
    # Catalogue: 6 m high, so 25 ft; apples 4.6 m apart.
    assert (first["code"], first["distance_m"], first["least_m"]) == (
        "near_septic",
        7.0,
        7.62,
    )
    assert second["who_name"] == "Shed"
    assert third == {
        "code": "below_recommended",
        "who": f"ours-{gate.pk}",
        "who_name": "Gate",
        "whom": f"ours-{shed.pk}",
        "whom_name": "Shed",
        "distance_m": 3.0,
        "least_m": 4.6,
        "sun_hours": None,
        "sources": ["umaine"],
    }
    assert [row["plant"] for row in printed["partners"]] == [
        third["who"],
        third["whom"],
    ]
    call_command("layout_check", "--site", site.slug)
    lines = capsys.readouterr().out.splitlines()
    assert "below_recommended: Gate / Shed  m 3.0, at least m 4.6" in lines
