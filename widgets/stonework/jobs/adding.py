"""A job added to the jobs file: written below the others, so that what an instructor wrote stays as it is."""

from __future__ import annotations

import os
from pathlib import Path

from stonework.files import alone, write_whole
from stonework.jobs.file import VERSION, jobs_in, load_jobs, written_job
from stonework.jobs.ticket import Ticket
from stonework.shop import Shop
from stonework.shop.file import text_of


def add_job(ticket: Ticket, path: str | Path, shop: Shop) -> dict[str, Ticket]:
    """Add a job to a file, which is made if there is none, and return all of its jobs.

    Raises ``ValueError`` with a sentence, and leaves the file as it was, if the job or the file can't be read with it.
    """
    path = Path(path)
    try:
        with alone(Path(os.path.realpath(path)).parent):  # nobody adds another between the reading and the writing
            before = f"version = {VERSION}\n"
            if path.exists():
                load_jobs(path, shop)  # refuses a file in which something is wrong
                before = text_of(path, "jobs file")
            text = f"{before.rstrip()}\n\n{written_job(ticket)}"
            found = jobs_in(text, path.name, shop)
            if found.tickets is None:
                where, _, why = found.mistakes[-1].sentence.partition(": ")
                raise ValueError(f"The job can't be added: {why or where}")
            write_whole(path, text)
    except OSError as error:
        raise ValueError(f"The job can't be added to {path.name}: {error.strerror}.") from error
    return dict(found.tickets)
