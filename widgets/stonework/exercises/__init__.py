"""Questions that a student answers alone, and the sheet that keeps the answers."""

from stonework.exercises.carry_a_job import CARRYING
from stonework.exercises.choose_furniture import FURNISHING
from stonework.exercises.fit_the_quoins import QUOINS
from stonework.exercises.lift_and_mend import LIFTING
from stonework.exercises.measure_the_form import MEASURING
from stonework.exercises.place_the_form import PLACING
from stonework.exercises.question import Question
from stonework.exercises.sheet import AnswerSheet
from stonework.exercises.tighten_in_order import TIGHTENING
from stonework.exercises.unlock_and_store import STORING

QUESTIONS: dict[str, Question] = {
    question.id: question
    for question in (*MEASURING, *PLACING, *FURNISHING, *QUOINS, *TIGHTENING, *LIFTING, *STORING, *CARRYING)
}
"""Every question by its id."""

LESSONS: dict[str, str] = {
    "01-measure-the-form": "1 Measure the form",
    "02-place-the-form": "2 Place the form",
    "03-choose-furniture-and-reglet": "3 Choose furniture and reglet",
    "04-quoins": "4 Fit the quoins",
    "05-tightening-order": "5 Tighten in order",
    "06-lift-and-loose-lines": "6 Lift, and mend loose lines",
    "07-unlock-store-put-away": "7 Unlock, store, put away",
    "08-from-ticket-to-press": "8 From ticket to press",
}
"""The lessons that ask questions, by file name, with their numbers and titles."""

__all__ = ["LESSONS", "QUESTIONS", "AnswerSheet", "Question"]
