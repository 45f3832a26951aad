"""Weather that is dangerous to people at work outdoors: what to mind, in words."""

from datetime import date

from django.utils.translation import gettext, gettext_noop

from care.planning.days_ahead import NearDays
from care.views.cautions import CAUTIONS
from care.views.days import day_words
from care.views.weather_line import wind_words
from orchard.languages import listed
from orchard.units import UnitSystem, format_temperature

# UC Master Gardeners put tree work off from 100 degF.
PUT_OFF_C = 37.8
# Ontario's agriculture ministry after Washington State University: at risk above 30.
FRUIT_BURNS = gettext_noop(
    "Fruit in full sun burns on such days (Washington State University: at risk from "
    "30 °C, 86 °F): cut and thin nothing that shades it, and keep the soil moist."
)


def heat_words(near: NearDays, units: UnitSystem) -> tuple[str, ...]:
    """Return what people and fruit need on the hot days of today and tomorrow."""
    hot = [(day, one) for day, one in near.hot_days() if (day - near.today).days <= 1]
    if not hot:
        return ()
    highest = max(one.maximum_c for _, one in hot)
    days = listed([_day(day, near) for day, _ in hot])
    severe = ("heat_put_off_work",) if highest >= PUT_OFF_C else ()
    codes = ("heat_work_early", *severe, "heat_illness")
    told = gettext("Up to {temperature} {days}.").format(
        temperature=format_temperature(highest, units), days=days
    )
    return (told, *(gettext(CAUTIONS[code]) for code in codes))


def _day(day: date, near: NearDays) -> str:
    return day_words(day, near.today)


def danger_words(near: NearDays, units: UnitSystem) -> tuple[str, ...]:
    """Return heat and wind of today and tomorrow as they concern who works outdoors."""
    wind = wind_words(near, units)
    return (*heat_words(near, units), *((wind,) if wind else ()))
