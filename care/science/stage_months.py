"""A first guess of each stage of the year, from the catalogue's months.

It holds until somebody has seen the stage or the year's weather tells.
"""

from datetime import date, timedelta

from care.facts import SiteFacts, SpeciesFacts, Stage
from care.science.crop import YEAR_DAYS, guessed_bloom, harvest_months, ripening_days
from care.science.phenology import PETAL_FALL_DAYS
from care.science.season import growth_start, month_window, next_on, season_date

# Common practice, no source: leaves are down three weeks after the usual first frost,
# by late November where that is not known, and about Christmas where there is none.
AFTER_FIRST_FROST_DAYS = 21
BARE_BY = (11, 20)
BARE_BY_WITHOUT_FROST = (12, 20)


def month_guess(
    stage: Stage, season: int, species: SpeciesFacts, site: SiteFacts
) -> date | None:
    """Return the day of a stage by the months, ``None`` where it has no one day.

    Parameters
    ----------
    stage : Stage
        Harvest is its last day; leaf drop the one that ends the season's growth.
    season : int
        Year in which growth starts.
    species : SpeciesFacts
        Northern months.
    site : SiteFacts
        Its hemisphere and frosts.
    """
    if stage is Stage.BUD_BREAK:
        return growth_start(season, species, site)
    if stage is Stage.LEAF_DROP:
        return _leaf_drop(season, species, site)
    bloom = guessed_bloom(season, species, site)
    if stage is Stage.HARVEST:
        return _last_picking(season, bloom, species, site)
    if bloom is None or stage is Stage.FULL_BLOOM:
        return bloom
    return bloom + timedelta(days=PETAL_FALL_DAYS)


def _leaf_drop(season: int, species: SpeciesFacts, site: SiteFacts) -> date | None:
    if species.is_evergreen:
        return None
    southern = site.is_southern
    if site.is_frost_free:
        return season_date(season + 1, *BARE_BY_WITHOUT_FROST, southern=southern)
    if site.first_frost is None:
        return season_date(season + 1, *BARE_BY, southern=southern)
    midsummer = season_date(season, 8, 1, southern=southern)
    frost = next_on(site.first_frost, midsummer)
    return frost + timedelta(days=AFTER_FIRST_FROST_DAYS)


def _last_picking(
    season: int, bloom: date | None, species: SpeciesFacts, site: SiteFacts
) -> date | None:
    if species.harvest is None:
        return None
    days = ripening_days(species)
    if bloom is not None and days is not None:
        months = harvest_months(species, site, bloom + timedelta(days=days[1]))
    else:
        months = month_window(
            season,
            species.harvest.start_month,
            species.harvest.end_month,
            southern=site.is_southern,
        )
    return months.end if (months.end - months.start).days <= YEAR_DAYS else None
