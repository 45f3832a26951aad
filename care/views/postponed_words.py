"""Why work waits for other work or other days, in words."""

from care.views.reason_words import Teller

CAUSES = {
    "cold": "cold comes first, and fresh cuts or feed would suffer in it",
    "carrying": "a dry pot is carried first and watered afterwards",
    "heat": "a hot day would harm it",
    "root_work": "roots that were just cut are not fed for a week",
    "fed": "a wash so soon would carry the feed out below",
    "washed": "the wash on that day waters it",
    "frozen_wood": "only new shoots tell live wood from what the frost killed",
    "waiting_days": "the waiting days before picking are not over",
    "rain": "heavy rain is forecast and would wash the feed away",
    "bloom": "cuts wait for the end of bloom, when fire blight spreads",
}


def postponed_words(teller: Teller) -> str:
    """Return by what and from when a task was put off, or nothing."""
    cause = CAUSES.get(teller.reason.text("postponed_by"))
    if cause is None:
        return ""
    return f" Put off from {teller.day('postponed_from')}: {cause}."
