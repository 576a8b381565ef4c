"""The judge and its rules: how things lie, what the push does, what the shop has, and what could be better."""

from stonework.rules import lying, pushing, having, better  # isort: skip - each keeps its rules, in this order
from stonework.rules.balance import Balance, balance
from stonework.rules.geometry import strip_kind
from stonework.rules.judging import judge, rule_names, sound
from stonework.rules.rule import COMMON, OWN, Finding, Push, Rule, Severity, rules

__all__ = [
    "COMMON",
    "OWN",
    "Balance",
    "Finding",
    "Push",
    "Rule",
    "Severity",
    "balance",
    "better",
    "having",
    "judge",
    "lying",
    "pushing",
    "rule_names",
    "rules",
    "sound",
    "strip_kind",
]
