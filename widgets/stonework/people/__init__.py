"""Who works here, and where their work is kept: a folder for each person in the lessons' ``work/``."""

from stonework.people.folders import WORK, People, name_on, work_folder
from stonework.people.here import Here, here
from stonework.people.names import LONGEST, near, read_name

__all__ = ["LONGEST", "WORK", "Here", "People", "here", "name_on", "near", "read_name", "work_folder"]
