"""Soil: tested, and soured with sulfur, for plants that need it sour."""

from datetime import date, timedelta

from care.facts import Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.nutrients import TEST_HOLDS_DAYS
from care.science.season import season_of
from care.science.soil_acidity import (
    CALCAREOUS_PH,
    GOOD_LEAD_DAYS,
    LEAST_LEAD_DAYS,
    RETEST_DAYS,
    aim_ph,
    is_acid_lover,
)
from care.science.soil_record import (
    ACIDIFY,
    TEST,
    Acidity,
    acidity,
    is_untested_since,
    last_test_on,
    sulfur_given,
)
from care.science.sulfur_plan import SulfurPlan, bed_plan, planted_plan

KIND = "soil"

FIRST_TEST_DAYS = 28
TEST_EARLY_DAYS = 28
TEST_WINDOW_DAYS = 56
RESULT_DAYS = 28  # common practice, no source: a laboratory's answer takes so long
SKIPPED_DAYS = 182
TOLD_WINDOW_DAYS = 28
LEAST_SULFUR_G = 5.0  # a teaspoon and a half; less is not worth a walk, no source
TEST_MINUTES = 15
ACIDIFY_MINUTES = 10

Facts = tuple[tuple[str, Scalar], ...]
Days = tuple[date, date, date]


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return the next soil test of a sour bed, and the sulfur that a test asks for.

    Sulfur never goes into pots and never without a test newer than the last sulfur;
    neither is asked for where the species does not need sour soil.

    Parameters
    ----------
    situation : Situation
        One plant on one morning, planted or yet to be planted.
    """
    tree = situation.tree
    if tree.in_container or not is_acid_lover(tree.species):
        return ()
    return (*_test(situation), *_acidify(situation))


def _test(situation: Situation) -> tuple[Proposal, ...]:
    """Return the next soil test, or the question what the last one said.

    A clump stands in one soil: only the first of its members asks.
    """
    if min((situation.tree.id, *situation.clump_mates)) < situation.tree.id:
        return ()
    tested, given = last_test_on(situation), sulfur_given(situation)
    if given and (tested is None or given[-1][0] >= tested):
        due = given[-1][0] + timedelta(days=RETEST_DAYS)
        return (_ask_test(situation, "soil_retest", due, tested),)
    if tested is None and situation.tree.soil_ph is not None:
        return ()  # measured, nobody says when: the person knows best
    if tested is None:
        due = _first_test_on(situation)
        return (_ask_test(situation, "soil_test_first", due, tested),)
    is_in_force = situation.today <= _holds_until(tested)
    if is_in_force and _is_result_missing(situation, tested):
        due = tested + timedelta(days=RESULT_DAYS)
        return (_ask_test(situation, "soil_ask_result", due, tested),)
    return (_ask_test(situation, "soil_test_again", _holds_until(tested), tested),)


def _is_result_missing(situation: Situation, tested: date) -> bool:
    """Whether soil was sent in, and nobody has entered what came of it."""
    known = acidity(situation)
    return known is None or (known.tested_on is not None and known.tested_on < tested)


def _holds_until(tested: date) -> date:
    return tested + timedelta(days=TEST_HOLDS_DAYS)


def _first_test_on(situation: Situation) -> date:
    """Return the day by which a sample should be on its way."""
    tree = situation.tree
    due = tree.entered_on + timedelta(days=FIRST_TEST_DAYS)
    if tree.planted_on is None or tree.planted_on <= situation.today:
        return due
    lead = timedelta(days=GOOD_LEAD_DAYS + RESULT_DAYS)
    return max(tree.entered_on, min(due, tree.planted_on - lead))


def _ask_test(
    situation: Situation, code: str, due: date, tested: date | None
) -> Proposal:
    species = situation.tree.species
    due = max(due, _after_skip(situation))
    facts: Facts = (
        ("ph_min", species.ph_min),
        ("ph_max", species.ph_max),
        ("last_test_on", tested),
        ("planted_on", situation.tree.planted_on),
        ("unverified", "ph_max" in species.unverified),
    )
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=TEST,
        action="test_soil",
        earliest=due - timedelta(days=TEST_EARLY_DAYS),
        due=due,
        latest=due + timedelta(days=TEST_WINDOW_DAYS),
        reason=Reason(code, facts, ("soil_tested",)),
        sources=("extension_blueberry_ph", species.source_of("ph_max")),
        effort_minutes=TEST_MINUTES,
    )


def _after_skip(situation: Situation) -> date:
    skips = [w for w in situation.logged(KIND) if w.key == TEST and w.what != "done"]
    return skips[-1].on + timedelta(days=SKIPPED_DAYS) if skips else date.min


def _acidify(situation: Situation) -> tuple[Proposal, ...]:
    """Return sulfur by a test that is newer than any sulfur given, or why none."""
    tree, known = situation.tree, acidity(situation)
    aim, limit = aim_ph(tree.species), tree.species.ph_max
    if known is None or aim is None or limit is None or known.ph <= limit:
        return ()
    if is_untested_since(situation, known):
        return ()
    if known.ph >= CALCAREOUS_PH:
        return _tell(situation, known, "soil_calcareous")
    if tree.planted_on is None or tree.planted_on <= situation.today:
        return _sulfur(situation, planted_plan(situation, known, aim))
    plan = bed_plan(situation, known, aim, tree.planted_on)
    if plan is None:
        return _tell(situation, known, "soil_too_late")
    return _sulfur(situation, plan)


CAUTIONS = {
    "soil_sour_bed": ("sulfur_mix_in", "sulfur_dust", "label_rules"),
    "soil_sour_planted": ("sulfur_on_surface", "sulfur_dust", "label_rules"),
}


def _sulfur(situation: Situation, plan: SulfurPlan) -> tuple[Proposal, ...]:
    if plan.grams < LEAST_SULFUR_G or plan.days[2] < situation.today:
        return ()
    season = season_of(plan.days[1], southern=situation.site.is_southern)
    prefix = f"{season}/{ACIDIFY}"
    turn = 1 + sum(w.key.startswith(prefix) for w in situation.logged(KIND))
    sulfur = Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=f"{prefix}_{turn}",
        action="acidify",
        earliest=plan.days[0],
        due=plan.days[1],
        latest=plan.days[2],
        reason=Reason(plan.code, plan.facts, ("soil_tested", "sulfur_logged")),
        amount=float(round(plan.grams)),
        unit="g",
        sources=("extension_blueberry_ph", "ut_blueberries"),
        cautions=CAUTIONS[plan.code],
        effort_minutes=ACIDIFY_MINUTES,
    )
    return (sulfur,)


def _tell(situation: Situation, known: Acidity, code: str) -> tuple[Proposal, ...]:
    """Return one word in three years on why no sulfur is given."""
    today, tree = situation.today, situation.tree
    told = [w.on for w in situation.logged(KIND) if w.key.endswith("/told")]
    if told and today <= _holds_until(told[-1]):
        return ()
    season = season_of(today, southern=situation.site.is_southern)
    first = max(tree.entered_on, known.tested_on or date.min)
    facts: Facts = (
        ("ph", known.ph),
        ("tested_on", known.tested_on),
        ("calcareous_ph", CALCAREOUS_PH),
        ("least_lead_days", LEAST_LEAD_DAYS),
        ("planted_on", tree.planted_on),
        ("unverified", code == "soil_calcareous"),
    )
    word = Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=f"{season}/told",
        action="check",
        earliest=first,
        due=first,
        latest=max(first, today) + timedelta(days=TOLD_WINDOW_DAYS),
        reason=Reason(code, facts, ("soil_tested",)),
        sources=("extension_blueberry_ph",),
        effort_minutes=1,
    )
    return (word,)
