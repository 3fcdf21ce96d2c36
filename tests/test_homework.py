"""The form of every homework, proof that each rule bites, and what it asks: slips, one job, nothing given away."""

import copy
import re
from pathlib import Path

import nbformat
import pytest

from latheworks.course import check, find, names, score, solution, worth
from latheworks.course.exercises.the_own_job import LENGTHS, SHOPS, THREADS, TROUBLES, own_job
from latheworks.course.tasks import Choice, Number, PlanTask, Prediction, Reason, Setting, Several
from latheworks.opening import _called
from latheworks.plan import change_operation, change_setup, drop_operation, review, write_plan
from latheworks.units import Q_
from tests.lesson_lint import complaints, homework
from tests.test_course_exercises import shows, slips_as_answers
from tests.test_lessons import add_code, add_prose, drop, first_code, first_shown

FOLDER = Path(__file__).parents[1] / "lessons" / "homework"
BEGINS = {"1_thread_and_hole.ipynb": "h1", "2_holding_and_passes.ipynb": "h2", "3_plan_the_job.ipynb": "h3",
          "readiness_check.ipynb": "ready"}  # fmt: skip
OURS = [name for name in names() if name.partition(".")[0] in BEGINS.values()]
SIZES = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)(?: |, .?[\"'])mm")
GRADED = [name for name in OURS if not name.startswith("ready")]


def read(name):
    return nbformat.read(FOLDER / name, as_version=4)


def test_the_homeworks_are_there_and_no_other():
    assert sorted(path.name for path in FOLDER.glob("*.ipynb")) == sorted(BEGINS)


@pytest.mark.parametrize("name", BEGINS)
def test_a_homework_has_its_form(name):
    notebook = read(name)
    nbformat.validate(notebook)
    assert not complaints(notebook, homework())


@pytest.mark.parametrize(("name", "begins"), BEGINS.items())
def test_a_homework_asks_its_own_exercises_all_of_them_and_no_other(name, begins):
    code = "\n".join(cell.source for cell in read(name).cells if cell.cell_type == "code")
    own = [each for each in names() if each.partition(".")[0] == begins]
    asked = [each for each in names() if f'exercise("{each}"' in code]
    assert own == sorted(asked, key=names().index)
    assert own


@pytest.mark.parametrize(("name", "begins"), BEGINS.items())
def test_nothing_that_is_printed_gives_an_answer_away(name, begins):
    cells = [cell for cell in read(name).cells if "exercise(" not in cell.source]
    said = "\n".join(str(cell.get("outputs", "")) + cell.source for cell in cells)
    for each in (each for each in names() if each.partition(".")[0] == begins):
        task = find(each, "me", group="")
        # A class of a thread has one digit, which stands in every text.
        if isinstance(task, Number) and task.kind != "count":
            assert not shows(said, task.right), each
            sizes = [Q_(float(size), "mm") for size in SIZES.findall(said)]
            assert task.kind != "length" or not [size for size in sizes if abs(size - task.right) <= task.within], each
        if isinstance(task, Choice):
            assert task.right not in said, each


BROKEN = {
    "title": (lambda n: n.cells[0].update(source=n.cells[0].source.replace("Homework 1:", "What", 1)), "the title is"),
    "question": (lambda n: n.cells[0].update(source=n.cells[0].source.replace("hole\n", "hole?\n", 1)), "the title is"),
    "asked": (drop("What is asked"), "lacks 'What is asked'"),
    "nothing asked": (lambda n: n.cells[0].update(source=n.cells[0].source.replace("\n- ", "\n")), "0 lines under"),
    "minutes": (drop("Minutes"), "lacks 'Minutes'"),
    "cautions": (drop("Cautions"), "lacks 'Cautions'"),
    "staff": (drop("qualified staff"), "qualified staff"),
    "invented": (drop("nvented"), "invented"),
    "hand in": (drop("## Hand in"), "Hand in"),
    "marks": (drop("## How it is marked"), "How it is marked"),
    "worked": (add_code("x = find('h1.pitch_limit').worked_answer()"), "worked_answer in a homework"),
    "solution": (add_code("from latheworks.course import solution"), "solution in a homework"),
    "tagged solution": (add_code("x = find('h1.pitch_limit').right", "exercise"), "right in a homework"),
    "typed": (add_prose("The drill is 10.72 mm."), "10.72 is typed"),
    "loop": (add_code("for i in (1, 2): pass"), "For in a lesson"),
    "stripped": (lambda n: first_code(n).update(execution_count=None), "stripped"),
    "no output": (lambda n: first_shown(n).update(outputs=[]), "output is missing"),
    "too few": (lambda n: n.update(cells=[c for c in n.cells if "exercise(" not in c.source]), "exercises besides"),
    "too long": (add_prose("word " * 800), "words of prose"),
}


@pytest.mark.parametrize("fault", BROKEN)
def test_each_rule_bites(fault):
    change, expected = BROKEN[fault]
    notebook = read("1_thread_and_hole.ipynb")
    assert not complaints(copy.deepcopy(notebook), homework())
    change(notebook)
    found = complaints(notebook, homework())
    assert any(expected in text for text in found), found


def test_number_tasks_know_at_least_twenty_slips_by_name():
    found = {slip.name for name in GRADED for slip in getattr(find(name, "me"), "slips", ())
             if isinstance(find(name, "me"), Number)}  # fmt: skip
    assert len(found) >= 20, sorted(found)
    # Those that the course promises by name; two more are recognized in every number.
    assert {"radius for diameter", "pitch for lead", "other class", "diameter for radius"} <= found
    task = find("h1.in_one_turn", "me")
    assert check(task, f"{task.right.m_as('mm') * 25.4:.4f} mm").slip == "off by 25.4"
    assert check(task, f"{task.right.m_as('mm'):.4f} in").slip == "right digits, wrong unit"


def test_each_homework_has_open_tasks_and_reasons_and_the_check_has_no_sums():
    for begins, kind in (("h1", Setting), ("h2", Setting), ("h3", PlanTask)):
        own = [find(name, "me") for name in OURS if name.startswith(begins)]
        assert any(isinstance(task, kind) for task in own)
        reasons = [task for task in own if isinstance(task, Reason)]
        assert reasons
        assert all(check(task, "Because it holds, and the step is small.").right is None for task in reasons)
        assert all(score(task, "Because it holds, and the step is small.") == 0 for task in reasons)
        assert not [task for task in own if isinstance(task, Prediction)]
    ready = [find(name, "me") for name in OURS if name.startswith("ready")]
    assert {type(task) for task in ready} == {Choice, Several, Number}
    for task in ready:
        if isinstance(task, Number):
            # To be read off, not worked out: the answer stands in the question.
            assert f"{task.right.m:g}" in task.question
        assert worth(task) == 1


def test_the_exercises_of_the_whole_job_are_about_one_job_and_others_have_numbers_of_their_own():
    for student in ("me", "ana", "ben-2", "c_3"):
        plan, out = find("h3.plan", student), find("h3.sticks_out", student)
        assert plan.code == out.code == find("h3.first_stop", student).code
        assert out.right == plan.part.stock_length - Q_(60, "mm")
        assert f"{plan.part.length.m_as('mm'):g} mm" in find("h3.drilled_from_each_end", student).question
    assert find("h1.first_pass", "me").code != find("h1.over_wires", "me").code
    assert find("h3.plan", "ana", group="team-3").code == find("h3.plan", "ben-2", group="team-3").code
    assert len({find("h3.plan", f"s{number}").question for number in range(40)}) > 20


JOBS = [(*size, thread, trouble) for size in LENGTHS for thread in THREADS for trouble in TROUBLES]


@pytest.mark.parametrize("job", JOBS, ids=lambda job: f"{job[0]}-{job[2]}-{job[3]}")
def test_every_job_stops_where_it_says_and_has_a_good_plan(job):
    made, trouble = own_job(*job), TROUBLES[job[3]]
    first = review(made.start)
    assert {found.code for found in first.of("stop")} == {trouble.code}
    good = review(made.good)
    assert (good.of("stop"), good.of("caution")) == ((), ())
    assert all(row.use is None or row.use < 0.9 for row in good.features)
    assert made.start.machine == made.good.machine == made.lathe
    assert made.start.tools == made.rack


def task_of(trouble):
    return next(task for task in (find("h3.plan", f"s{n}") for n in range(200)) if task.slips[0].name == trouble)


@pytest.mark.parametrize("trouble", TROUBLES.values(), ids=list(TROUBLES))
def test_a_plan_is_changed_reviewed_and_handed_in(trouble):
    task = task_of(trouble.code)
    first = task.start()
    told = check(task, first)
    assert (told.right, told.slip) == (False, trouble.code)
    assert trouble.mend in told.hint
    assert trouble.sound not in task.question
    assert 0 < score(task, first) < 20
    assert score(task, write_plan(solution(task))) == score(task, {"plan": write_plan(solution(task))}) == 20
    # Other good plans: another feed, more to hold, another order of the last two cuts.
    for other in (
        change_operation(solution(task), 1, 30, spring_passes=2),
        change_setup(solution(task), 2, stickout=Q_(80, "mm")),
        drop_operation(solution(task), 3, 60),
    ):
        assert check(task, other).right is True, check(task, other)
    assert check(task, None).counts is False


def test_the_shop_of_a_plan_is_the_students_own_whatever_the_file_says():
    task = task_of("tool missing")
    usual = own_job(task.part.length.m_as("mm"), dict(LENGTHS)[int(task.part.length.m_as("mm"))],
                    task.part.features[9].designation, "order").good  # fmt: skip
    assert review(usual).verdict == "clear of findings"
    assert check(task, usual).slip == "tool missing"
    assert SHOPS["no pilot drill"][0] in task.question


def test_a_homework_is_copied_by_its_name_or_its_number():
    assert _called(FOLDER / "1_thread_and_hole.ipynb") == {"1_thread_and_hole", "h1"}
    assert _called(FOLDER / "readiness_check.ipynb") == {"readiness_check", "ready"}
    assert _called(FOLDER.parent / "01_pick_the_thread.ipynb") == {"01_pick_the_thread", "01"}


def test_every_slip_of_homework_is_called_by_its_name():
    for name in OURS:
        for student in ("gus", "hanna"):
            task = find(name, student)
            for slip, answer in slips_as_answers(task):
                assert check(task, answer).slip == slip.name, name


def test_the_place_in_the_list_tells_nothing_and_a_slip_of_the_check_says_what_was_believed():
    for name in (name for name in OURS if name.startswith("ready")):
        made = [find(name, f"s{number}") for number in range(40)]
        if not isinstance(made[0], Number):
            assert len({task.options[0] in task.right if isinstance(task, Several) else task.options.index(task.right)
                        for task in made}) > 1, name  # fmt: skip
        assert not [slip.name for slip in made[0].slips if re.search(r"option|\d", slip.name)], name


def test_what_the_notebook_lets_one_try_is_what_the_cut_of_ones_own_is_judged_by():
    code = "\n".join(cell.source for cell in read("2_holding_and_passes.ipynb").cells if cell.cell_type == "code")
    assert "nose_radius=" in code
    assert 'edge_force=Q_(5, "N")' in code
    assert "5 N" in find("h2.hold_and_finish", "me").question
