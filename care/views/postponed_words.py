"""Why work waits for other work or other days, in words."""

from django.utils.translation import gettext, gettext_noop

from care.views.reason_words import Teller

CAUSES = {
    "cold": gettext_noop("cold comes first, and fresh cuts or feed would suffer in it"),
    "carrying": gettext_noop("a dry pot is carried first and watered afterwards"),
    "heat": gettext_noop("a hot day would harm it"),
    "root_work": gettext_noop("roots that were just cut are not fed for a week"),
    "fed": gettext_noop("a wash so soon would carry the feed out below"),
    "washed": gettext_noop("the wash on that day waters it"),
    "frozen_wood": gettext_noop(
        "only new shoots tell live wood from what the frost killed"
    ),
    "waiting_days": gettext_noop("the waiting days before picking are not over"),
    "rain": gettext_noop("heavy rain is forecast and would wash the feed away"),
    "bloom": gettext_noop("cuts wait for the end of bloom, when fire blight spreads"),
}


def postponed_words(teller: Teller) -> str:
    """Return by what and from when a task was put off, or nothing."""
    cause = CAUSES.get(teller.reason.text("postponed_by"))
    if cause is None:
        return ""
    cause = gettext(cause)
    return " " + gettext("Put off from {postponed_from}: {cause}.").format(
        postponed_from=teller.day("postponed_from"), cause=cause
    )
