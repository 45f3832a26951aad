"""Where sources differ, both sides are shown, and which one the plan follows."""

from care.views.differing_sources import DIFFERENCES


def test_each_question_shows_its_answers_and_what_the_plan_does(cast, client_of):
    page = client_of(cast.viewer).get("/where-sources-differ/").content.decode()
    assert page.count("<strong>The plan:</strong>") == len(DIFFERENCES)
    assert "Minnesota (UMN Extension)" in page
    assert "In Florida&#x27;s climate Florida&#x27;s days come out" in page


def test_a_question_is_asked_once():
    questions = [each.question for each in DIFFERENCES]
    assert len(set(questions)) == len(questions)
