"""The jobs of a shop: their tickets, the file they stand in, and how far each has come."""

from stonework.jobs.adding import add_job
from stonework.jobs.file import JobsFile, jobs_beside, load_jobs, read_jobs
from stonework.jobs.steps import Step, on_its_sheet, steps
from stonework.jobs.ticket import Ticket

__all__ = ["JobsFile", "Step", "Ticket", "add_job", "jobs_beside", "load_jobs", "on_its_sheet", "read_jobs", "steps"]
