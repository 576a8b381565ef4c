"""What a class got wrong: its sheets gathered, its answers judged and counted, and what each student does next."""

from stonework.exercises.report.counting import ByQuestion, ByStudent, ClassReport, Slip, class_report
from stonework.exercises.report.gathering import Gathered, Sheet, read_folder, read_zip
from stonework.exercises.report.tables import SAFE, by_question, by_student

__all__ = [
    "SAFE",
    "ByQuestion",
    "ByStudent",
    "ClassReport",
    "Gathered",
    "Sheet",
    "Slip",
    "by_question",
    "by_student",
    "class_report",
    "read_folder",
    "read_zip",
]
