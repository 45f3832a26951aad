"""One tree's water for a page: its outlook, and its course from today as planned."""

from care.facts import WaterCourse, WaterOutlook
from care.planning.gather import Records
from care.planning.propose import outlooks
from care.planning.simulate import water_course


def tree_water(
    records: Records, tree_id: int
) -> tuple[WaterOutlook, WaterCourse] | None:
    """Return what is known of one tree's water, or ``None`` where nothing is.

    The course begins today and goes as far as the drawing does.
    """
    outlook = outlooks(records).get(tree_id)
    if outlook is None or records.weather is None:
        return None
    course = water_course(
        records.site,
        records.trees,
        records.weather,
        records.work,
        observations=records.observations,
        today=records.today,
        tree_id=tree_id,
        back_days=0,
    )
    return None if course is None else (outlook, course)
