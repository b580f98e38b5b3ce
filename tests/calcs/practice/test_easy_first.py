"""Questions are listed from the easy to the hard, and mixed: a first session begins at the top."""

from __future__ import annotations

from calcs.practice import door
from calcs.practice.easy_first import TAKES, easy_first, effort
from tests.calcs.practice.held import pack

SESSION = 12  # questions in some five minutes


def test_the_first_are_easy_and_of_many_topics_and_kinds() -> None:
    questions = pack().questions
    ordered = easy_first(questions, pack().topics)
    assert sorted(ordered) == sorted(questions)
    first = [questions[name] for name in ordered[:SESSION]]
    usual = sorted(map(effort, questions.values()))[len(questions) // 3]
    assert max(map(effort, first)) < usual
    assert len({one["topic"] for one in first}) >= SESSION / 2
    assert {"choose_one", "read"} <= {one["asks"] for one in first}
    then = {questions[name]["asks"] for name in ordered[: 3 * SESSION]}
    assert {"number", "what_now", "verdict"} <= then
    last = [effort(questions[name]) for name in ordered[-SESSION:]]
    assert min(last) > 2 * max(map(effort, first))


def test_within_a_topic_each_is_at_least_as_hard_as_the_one_before() -> None:
    """Of the same kind: another kind may come sooner, so that they are mixed."""
    questions = pack().questions
    before: dict[tuple[str, str], int] = {}
    for name in easy_first(questions, pack().topics):
        one = questions[name]
        key = one["topic"], one["asks"]
        assert effort(one) >= before.get(key, 0), name
        before[key] = effort(one)


def test_topics_come_as_in_a_visit() -> None:
    """`content/_nav.yaml` has the order of a visit: what is tested first is asked first."""
    topics = [*pack().topics]
    visit = ["before_you_start", "tightness_test", "burner_pressure", "combustion_check"]
    places = [topics.index(f"procedures/{stem}") for stem in visit]
    assert places == sorted(places)
    assert places[-1] < topics.index("calculators/gas_rate") < topics.index("reference/gases")


def test_a_kind_of_answer_says_what_it_takes() -> None:
    assert {one["asks"] for one in pack().questions.values()} == TAKES.keys()


def test_the_page_is_given_them_in_this_order() -> None:
    held = pack()
    door.load_held(
        {"questions": held.questions, "slips": {}, "topics": held.topics, "today": held.today}
    )
    listed = door.reply({"about": "list"}, held.ask)["practice"]
    assert [each["id"] for each in listed] == easy_first(held.questions, held.topics)
