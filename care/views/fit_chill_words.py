"""Whether a kind gets its winter chill: one sentence a verdict."""

from collections.abc import Callable

from django.utils.translation import gettext, gettext_noop

from care.views.fit_terms import FactorTeller, said


def _chill_met(it: FactorTeller) -> str:
    met = it.of("met_surely", "met_perhaps", "winters")
    return gettext(
        "Enough chill in {met} winters: it asks for {need_least}, and "
        "{usual_low} are usual."
    ).format(
        met=met,
        need_least=it.chill("need_least", "need_most"),
        usual_low=it.chill("usual_low", "usual_high"),
    )


def _chill_short(it: FactorTeller) -> str:
    met = it.of("met_surely", "met_perhaps", "winters")
    return gettext(
        "Too little chill: it asks for {need_least} or more, which {met} "
        "winters bring; {usual_low} are usual."
    ).format(
        need_least=it.chill("need_least"),
        met=met,
        usual_low=it.chill("usual_low", "usual_high"),
    )


def _chill_few_hours(it: FactorTeller) -> str:
    met = it.of("met_surely", "met_perhaps", "winters")
    return gettext(
        "Perhaps too little chill: it asks for {need_least}, which {met} "
        "winters bring. Hours of cold tell little where winters are this "
        "mild: ask who grows it near you."
    ).format(need_least=it.chill("need_least"), met=met)


def _chill_short_all(it: FactorTeller) -> str:
    return gettext(
        "Too little chill: even the cultivars that ask for least, "
        "{need_floor}, get it in {floor_met_surely} winters. This one is "
        "said to ask for {need_least}."
    ).format(
        need_floor=it.chill("need_floor"),
        floor_met_surely=it.of("floor_met_surely", "floor_met_perhaps", "winters"),
        need_least=it.chill("need_least", "need_most"),
    )


def _chill_soft(it: FactorTeller) -> str:
    return gettext(
        "It flowers better after {need_least} of chill, which {met_surely} "
        "winters bring; it can do without."
    ).format(
        need_least=it.chill("need_least"),
        met_surely=it.of("met_surely", "met_perhaps", "winters"),
    )


def _chill_choose_low(it: FactorTeller) -> str:
    return gettext(
        "Enough chill for cultivars that ask for {need_least}; those that "
        "ask for {need_most} get it in {most_met_surely} winters."
    ).format(
        need_least=it.chill("need_least"),
        need_most=it.chill("need_most"),
        most_met_surely=it.of("most_met_surely", "most_met_perhaps", "winters"),
    )


def _chill_may_ask_more(it: FactorTeller) -> str:
    return gettext(
        "Sources put its need at {need_least}: the lower is met in "
        "{met_surely} winters, the higher in {most_met_surely}."
    ).format(
        need_least=it.chill("need_least", "need_most"),
        met_surely=it.of("met_surely", "met_perhaps", "winters"),
        most_met_surely=it.of("most_met_surely", "most_met_perhaps", "winters"),
    )


CHILL: dict[str, Callable[[FactorTeller], str]] = {
    "chill_met": _chill_met,
    "chill_short": _chill_short,
    "chill_short_all": _chill_short_all,
    "chill_few_hours": _chill_few_hours,
    "chill_soft": _chill_soft,
    "chill_choose_low": _chill_choose_low,
    "chill_may_ask_more": _chill_may_ask_more,
    "chill_none_needed": said(gettext_noop("It asks for no winter chill.")),
    "chill_no_figure": said(gettext_noop("What chill it asks for was not found.")),
    "chill_no_weather": said(
        gettext_noop("Without weather nobody can say whether it gets its chill.")
    ),
}
