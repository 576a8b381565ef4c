"""A class's answers as a picture, and on paper: one page, if neither the class nor its mistakes are very many."""

from __future__ import annotations

from datetime import date

from stonework.drawing.class_plot import Bar, ClassPlot
from stonework.drawing.paper import pdf, short
from stonework.drawing.printed import Paragraph, print_pages
from stonework.exercises import LESSONS
from stonework.exercises.report.counting import ClassReport

_SIZES = (8.5, 8.0, 7.5, 7.0, 6.5, 6.0)  # type sizes to try on paper


def bars(report: ClassReport) -> list[Bar]:
    """Return each question's bar, with what went wrong and with how many students."""
    return [
        Bar(
            one.question.title,
            LESSONS[one.question.lesson],
            (one.first, one.second, one.later, one.untold, one.not_yet),
            one.asked,
            tuple(f"{slip.students} {slip.words}" for slip in one.slips),
        )
        for one in report.questions
    ]


def class_plot(report: ClassReport, name: str = "class") -> ClassPlot:
    """Return the picture of a class's answers."""
    view = ClassPlot(name)
    view.draw(bars(report))
    return view


def class_page(report: ClassReport, shop: str, day: date, paper: str = "A4") -> bytes:
    """Return a PDF: the picture, and below it each student with what isn't right yet, or is next.

    ``ValueError`` with a sentence for an unknown paper.
    """
    view = ClassPlot("class-on-paper")
    view.draw(bars(report), tight=True)
    count = len(report.students)
    sheets = f"{count} {'sheet' if count == 1 else 'sheets'}, {day.isoformat()}"
    told = f"{sheets}. Beside each bar: with how many students what went wrong."
    paragraphs = [Paragraph("By student: right of those asked; what isn't right yet, or is next", heading=True)]
    paragraphs += [
        Paragraph(f"{one.name}, {one.right} of {one.asked}. {' '.join(one.told)}") for one in report.students
    ]
    if report.said:
        paragraphs += [Paragraph("To be said of the sheets", heading=True), *map(Paragraph, report.said)]
    title = f"What a class got wrong: {short(shop)}"
    return pdf("Class report", print_pages(title, told, paragraphs, paper=paper, sizes=_SIZES, picture=view))
