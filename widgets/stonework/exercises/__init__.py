"""Questions that a student answers alone, and the sheet that keeps the answers."""

from stonework.exercises.choose_furniture import FURNISHING
from stonework.exercises.fit_the_quoins import QUOINS
from stonework.exercises.lift_and_mend import LIFTING
from stonework.exercises.measure_the_form import MEASURING
from stonework.exercises.question import Question
from stonework.exercises.sheet import AnswerSheet
from stonework.exercises.tighten_in_order import TIGHTENING

QUESTIONS: dict[str, Question] = {
    question.id: question for question in (*MEASURING, *FURNISHING, *QUOINS, *TIGHTENING, *LIFTING)
}
"""Every question by its id."""

__all__ = ["QUESTIONS", "AnswerSheet", "Question"]
