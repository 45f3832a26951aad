"""When a high water table reaches the roots of established trees."""

from datetime import date

from care.facts import SiteFacts, WeatherSeries
from care.planning.rains import rain_facts
from care.science.rain_normals import YEAR_DAYS

# Where no wet season is known: May to October, and half a year later in the south.
WARM_HALF_YEAR = range(5, 11)


def is_water_table_up(site: SiteFacts, series: WeatherSeries, today: date) -> bool:
    """Whether the water table is within reach of grown roots on a day.

    Parameters
    ----------
    site : SiteFacts
        Only a person can say that the place has a high water table.
    series : WeatherSeries
        For its usual rains: it is up in the wet season, or, where no season stands
        out, in the warm half of the year, for which the question is asked (ours).
    today : datetime.date
    """
    if not site.has_high_water_table:
        return False
    rains = rain_facts(series, today)
    if rains is None or rains.usual_start is None or rains.usual_end is None:
        is_warm = today.month in WARM_HALF_YEAR
        return is_warm != site.is_southern
    length = (rains.usual_end - rains.usual_start) % YEAR_DAYS
    since = (today.timetuple().tm_yday - rains.usual_start) % YEAR_DAYS
    return since <= length
